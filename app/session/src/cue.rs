//! What is sounded and said, and when.
//!
//! Cues follow from the run and the time alone: asked for any span, each cue comes once, however
//! the spans are cut.

mod ahead;
mod reminder;
mod script;

use std::ops::Range;

use crate::habits::Words;
use crate::order;
use crate::plan::PlannedStep;
use crate::run::{Run, Tank};
use crate::spoken::Say;
use crate::timestamp::Timestamp;
use crate::wash::FILL_MS;
pub use ahead::Ahead;
use script::Script;

/// A tone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tone {
    /// E1, get ready: a rising pair.
    GetReady,
    /// E2, go: one bright tone.
    Go,
    /// E2 twice: pour back.
    GoTwice,
    /// E3, rest or done: falling.
    Rest,
    /// E4, the alarm. For over-runs of a developer and its hard limits only.
    Alarm,
    /// A second of a spell.
    Tick,
}

/// What to sound or say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Signal {
    /// A tone.
    Tone(Tone),
    /// Words.
    Say(Say),
}

/// A signal and its instant, on the run's clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cue {
    /// When.
    pub at: Timestamp,
    /// What.
    pub signal: Signal,
}

/// From the end of a developer step to the first alarm.
const FIRST_ALARM_MS: i64 = 10_000;
/// From one alarm to the next.
const ALARM_EVERY_MS: i64 = 15_000;

/// The cues at `from` or later and before `until`, in order; tones before words at one instant.
pub fn cues(run: &Run, from: Timestamp, until: Timestamp) -> Vec<Cue> {
    cues_at(run, run.state.words, from, until)
}

/// The same, with every sentence that is on the screen: all words at every level.
pub fn shown(run: &Run, from: Timestamp, until: Timestamp) -> Vec<Cue> {
    cues_at(run, Words::All, from, until)
}

/// The cues of a run that speaks so much.
fn cues_at(run: &Run, words: Words, from: Timestamp, until: Timestamp) -> Vec<Cue> {
    let mut found = match run.state.tank {
        Tank::Ready | Tank::Left { .. } => Vec::new(),
        Tank::Asking { since, .. } => {
            vec![Cue { at: since, signal: Signal::Say(Say::StabiliserOrSkip) }]
        }
        Tank::Done { at } => vec![Cue { at, signal: Signal::Say(Say::HangIt) }],
        Tank::Bath { step, tone_at, .. } if run.plan.is_last_wash(step) => {
            wash_cues(run, step, tone_at, (from, until))
        }
        Tank::Bath { step, tone_at, .. } => bath_cues(run, words, step, tone_at, (from, until)),
    };
    found.retain(|cue| from <= cue.at && cue.at < until && is_heard(cue, words));
    // Tones before words, and otherwise in the order of time.
    order::by(found, |cue| {
        let at = order::number(cue.at.milliseconds().max(0).unsigned_abs());
        at + if matches!(cue.signal, Signal::Say(_)) { "1" } else { "0" }
    })
}

/// Whether `text`, said at `at`, would end a second before the next tone and touch no other words.
pub fn has_room(run: &Run, at: Timestamp, text_ms: i64) -> bool {
    const LOOK_BACK_MS: i64 = 5_000;
    const CLEAR_MS: i64 = 1_000;
    let end = at.plus_ms(text_ms);
    cues(run, at.plus_ms(-LOOK_BACK_MS), end.plus_ms(CLEAR_MS)).into_iter().all(|cue| {
        match cue.signal {
            Signal::Tone(Tone::Tick) => true,
            Signal::Tone(_) => cue.at <= at,
            Signal::Say(say) => cue.at.plus_ms(say.milliseconds()) <= at || cue.at >= end,
        }
    })
}

fn is_heard(cue: &Cue, words: Words) -> bool {
    match cue.signal {
        Signal::Tone(_) => true,
        Signal::Say(say) => say.is_said_at(words),
    }
}

fn bath_cues(
    run: &Run,
    words: Words,
    index: usize,
    tone_at: Timestamp,
    window: (Timestamp, Timestamp),
) -> Vec<Cue> {
    let Some(script) = script_of(run, words, index, tone_at) else { return Vec::new() };
    let Some(clock) = run.step_clock(index) else { return Vec::new() };
    let zero = clock.zero(tone_at);
    let mut found = script.cues(zero);
    let is_developer = run.plan.steps.get(index).is_some_and(PlannedStep::is_developer);
    if is_developer {
        found.extend(over_run(run, index, zero.plus_ms(clock.end), window));
    }
    found
}

/// What the step at `index` sounds and says, its tub reminders included.
fn script_of(run: &Run, words: Words, index: usize, tone_at: Timestamp) -> Option<Script> {
    let zero = run.step_clock(index)?.zero(tone_at);
    let mut script = Script::new(run, words, index, zero);
    reminder::add(&mut script, run, words, index, zero);
    Some(script)
}

/// Which of what sounds again and again, every so often after `first`, can fall into a window. What
/// was due long before is never gone through one by one: a clock may have been years off.
fn times_in(first: Timestamp, every_ms: i64, (from, until): (Timestamp, Timestamp)) -> Range<i64> {
    let from = from.since_ms(first).max(0) / every_ms;
    from..until.since_ms(first).max(0) / every_ms + 1
}

/// The alarm and its words, until the tap.
fn over_run(run: &Run, index: usize, end: Timestamp, window: (Timestamp, Timestamp)) -> Vec<Cue> {
    let Some(step) = run.plan.steps.get(index) else { return Vec::new() };
    let first = end.plus_ms(FIRST_ALARM_MS);
    times_in(first, ALARM_EVERY_MS, window)
        .map(|nth| first.plus_ms(nth.saturating_mul(ALARM_EVERY_MS)))
        .flat_map(|at| {
            [Signal::Tone(Tone::Alarm), Signal::Say(Say::StillIn(step.bath))]
                .map(|signal| Cue { at, signal })
        })
        .collect()
}

/// A change of water each minute, and the sheet's minimum where it falls between two changes.
fn wash_cues(
    run: &Run,
    index: usize,
    tone_at: Timestamp,
    window: (Timestamp, Timestamp),
) -> Vec<Cue> {
    let Some(step) = run.plan.steps.get(index) else { return Vec::new() };
    let cue = |at, signal| Cue { at, signal };
    let mut found = vec![
        cue(
            tone_at.plus_ms(-run.plan.lead_in_to(index)),
            Signal::Say(script::lead_in(&run.plan, index, step.bath)),
        ),
        cue(tone_at, Signal::Tone(Tone::Go)),
    ];
    // Filling begins with the tone: the first change comes a minute later.
    for fill in times_in(tone_at, FILL_MS, window).filter(|fill| *fill > 0) {
        let at = tone_at.plus_ms(fill * FILL_MS);
        found.push(cue(at, Signal::Tone(Tone::GetReady)));
        found.push(cue(at, Signal::Say(Say::ChangeTheWater)));
    }
    let into_fill = step.least_ms.rem_euclid(FILL_MS);
    let after = into_fill >= Say::ChangeTheWater.milliseconds();
    let before = into_fill + Say::MinimumReached.milliseconds() + 1_000 <= FILL_MS;
    if after && before {
        found.push(cue(tone_at.plus_ms(step.least_ms), Signal::Say(Say::MinimumReached)));
    }
    found
}

#[cfg(test)]
mod tests;
