//! "Check the tub.": at most once in three minutes, and only while no reading of it is fresh.

use super::script::Script;
use super::{Cue, Signal};
use crate::entry::Place;
use crate::habits::Words;
use crate::run::Run;
use crate::spoken::Say;
use crate::timestamp::Timestamp;

/// After the end of a spell, when the hands are free.
const AFTER_REST_MS: i64 = 12_000;
/// From one reminder to the next, at least.
const APART_MS: i64 = 180_000;
/// A reading of the tub is fresh for this long.
const FRESH_MS: i64 = 300_000;

/// Adds the reminders of the step at `index`, whose clock has its zero at `zero`.
pub(super) fn add(script: &mut Script, run: &Run, words: Words, index: usize, zero: Timestamp) {
    add_after(script, run, zero, last_before(run, words, index));
}

/// Adds the reminders of a step, where the last one before them was said at `last`.
fn add_after(script: &mut Script, run: &Run, zero: Timestamp, mut last: Option<Timestamp>) {
    let rests: Vec<_> = script.rests().collect();
    for rest in rests {
        let at = zero.plus_ms(rest + AFTER_REST_MS);
        let apart = last.is_none_or(|last| at.since_ms(last) >= APART_MS);
        if apart && is_stale(run, at) && script.offer(rest + AFTER_REST_MS, Say::CheckTheTub) {
            last = Some(at);
        }
    }
}

/// Whether no reading of the tub is fresh at `at`. A run starts as if its tub had been read.
fn is_stale(run: &Run, at: Timestamp) -> bool {
    let read = run.state.readings.iter().filter(|read| read.place == Place::Tub && read.at <= at);
    let latest = read.map(|read| read.at).max();
    latest.max(run.started_at()).is_none_or(|latest| at.since_ms(latest) > FRESH_MS)
}

/// The last reminder of the steps before `index`: of each in its order, once, as what was said in one
/// decides what is said in the next.
fn last_before(run: &Run, words: Words, index: usize) -> Option<Timestamp> {
    (0..index).fold(None, |last, before| last_of(run, words, before, last).or(last))
}

/// The last reminder that was said in the step at `index`, where the last one before was at `last`.
fn last_of(run: &Run, words: Words, index: usize, last: Option<Timestamp>) -> Option<Timestamp> {
    let actual = run.state.actual.get(index)?;
    let (poured, out) = actual.poured_at.zip(actual.out_at)?;
    if run.plan.is_last_wash(index) {
        return None;
    }
    let zero = run.step_clock(index)?.zero(poured);
    let mut script = Script::new(run, words, index, zero);
    add_after(&mut script, run, zero, last);
    let is_reminder = |cue: &Cue| cue.signal == Signal::Say(Say::CheckTheTub);
    let said = script.cues(zero).into_iter().filter(is_reminder);
    said.map(|cue| cue.at).filter(|at| *at < out).max()
}
