//! "Check the tub.": at most once in three minutes, and only while no reading of it is fresh.

use super::script::Script;
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
    let mut last = last_before(run, words, index);
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

/// The last reminder of the steps before `index`.
fn last_before(run: &Run, words: Words, index: usize) -> Option<Timestamp> {
    let before = index.checked_sub(1)?;
    let earlier = last_before(run, words, before);
    let actual = run.state.actual.get(before)?;
    let (Some(poured), Some(out)) = (actual.poured_at, actual.out_at) else { return earlier };
    if run.plan.is_last_wash(before) {
        return earlier;
    }
    let Some(script) = super::script_of(run, words, before, poured) else { return earlier };
    let zero = run.step_clock(before)?.zero(poured);
    let is_reminder = |cue: &super::Cue| cue.signal == super::Signal::Say(Say::CheckTheTub);
    let said = script.cues(zero).into_iter().filter(is_reminder);
    said.map(|cue| cue.at).filter(|at| *at < out).max().or(earlier)
}
