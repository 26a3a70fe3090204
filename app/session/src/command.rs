//! What the person asks for, and what that adds to the log.

use process_model::quantity::Celsius;
use process_model::sheet::Bath;
use thiserror::Error;

use crate::entry::{Absence, Entry, Event, Fault, Look, Place, With};
use crate::habits::Words;
use crate::reading;
use crate::run::{Run, Tank};
use crate::step_clock::StepClock;
use crate::timestamp::Timestamp;
use crate::wash::Verdict;

/// How long a tap can be taken back, and a taken-back tap be brought again.
pub const UNDO_MS: i64 = 60_000;

/// How long before its end a step can be ended by a tap.
pub const ARMED_MS: i64 = 20_000;

/// What the person, or the page on the person's behalf, asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Command {
    /// Begin the run, something being out of band or not.
    Start {
        /// Whether anything was out of its band or not measured.
        anyway: bool,
    },
    /// The tank is empty; during a lead-in: begin the lead-in anew.
    TankIsEmpty {
        /// How long ago it was.
        ago_ms: i64,
    },
    /// The tank is full: practice with water learns from it.
    TankIsFull,
    /// The last bath was out that much earlier than the tap said.
    BackDate {
        /// How much.
        by_ms: i64,
    },
    /// With or without the step that asks.
    Choose(With),
    /// How the wash water looks.
    Judge(Look),
    /// End the wash before the eye says so.
    EndWash,
    /// A temperature.
    Read {
        /// Where it was read.
        place: Place,
        /// What the thermometer said.
        celsius: Celsius,
    },
    /// A reading should have been another.
    Correct {
        /// The log entry of the reading.
        of: u32,
        /// What it should have been.
        celsius: Celsius,
    },
    /// Something went wrong.
    Note(Fault),
    /// More or fewer words.
    SetWords(Words),
    /// Take the last tap back.
    Undo,
    /// Bring the tap back that was taken back last.
    Redo,
    /// Water was taken out of the tub and other water put in.
    SwapWater {
        /// How much was taken out, in millilitres.
        drain_ml: u32,
        /// How much was put in, in millilitres.
        add_ml: u32,
        /// How warm that was.
        celsius: Celsius,
    },
    /// A bottle was lifted out of the tub, or put back.
    MoveBottle {
        /// Which.
        bath: Bath,
        /// Put back, not lifted.
        back: bool,
    },
    /// A reading was none.
    Drop {
        /// The log entry of the reading.
        of: u32,
    },
    /// The light goes out.
    GoDark,
    /// The light is on again and the lid is locked.
    LightsOn,
    /// This time for the step in the tank.
    ChooseTime {
        /// The time, drain included.
        time_ms: i64,
    },
    /// That bath has been in the tank for so long.
    FindInTank {
        /// Which step of the plan.
        step: u32,
        /// Since when.
        ago_ms: i64,
    },
    /// Stop the run before its end.
    Leave,
    /// The page was away.
    WasAway {
        /// For how long.
        ms: i64,
        /// Why.
        why: Absence,
    },
    /// The phone's clock was set.
    ClockWasSet {
        /// By how much.
        by_ms: i64,
    },
}

/// Why a command makes no sense now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Refusal {
    /// The run has begun.
    #[error("the run has begun")]
    AlreadyStarted,
    /// No bath is in the tank or about to be.
    #[error("no bath is in the tank")]
    NoBath,
    /// The step cannot be ended yet.
    #[error("the step has more than twenty seconds left")]
    TooEarly,
    /// The last wash is ended by looking at the water.
    #[error("the wash ends when the water is clear")]
    WashIsJudged,
    /// The step in the tank is not the last wash.
    #[error("this is not the last wash")]
    NotTheWash,
    /// Nothing is being asked.
    #[error("nothing is being asked")]
    NotAsked,
    /// Nothing is being poured in, or it is known when the tank was full.
    #[error("nothing is being poured in")]
    NotFilling,
    /// No tap of the last minute says that a tank was empty.
    #[error("nothing to date back")]
    NothingToDateBack,
    /// The log has no such reading.
    #[error("no such reading")]
    NoSuchReading,
    /// No tap of the last minute is left to take back.
    #[error("nothing to undo")]
    NothingToUndo,
    /// Nothing was taken back within the last minute.
    #[error("nothing to redo")]
    NothingToRedo,
    /// The light is not out.
    #[error("the light is not out")]
    NotDark,
    /// The time is none for the step in the tank.
    #[error("this time cannot be chosen now")]
    NoSuchTime,
    /// The plan has no such step after the one in the tank.
    #[error("no such step follows")]
    NoSuchStep,
}

/// What doing `command` at `now` adds to the log. The only place with rules.
///
/// # Errors
///
/// A [`Refusal`] if the run is not at a point where `command` makes sense.
#[expect(clippy::too_many_lines, reason = "an arm for each command")]
pub fn decide(run: &Run, command: Command, now: Timestamp) -> Result<Entry, Refusal> {
    let event = match command {
        Command::Start { anyway } => {
            if run.state.tank != Tank::Ready {
                return Err(Refusal::AlreadyStarted);
            }
            Event::Started { anyway }
        }
        Command::TankIsEmpty { ago_ms } => empty(run, ago_ms, now)?,
        Command::TankIsFull => full(run, now)?,
        Command::BackDate { by_ms } => back_date(run, by_ms, now)?,
        Command::Choose(with) => {
            if !matches!(run.state.tank, Tank::Asking { .. }) {
                return Err(Refusal::NotAsked);
            }
            Event::Chosen { with }
        }
        Command::Judge(look) => judge(run, look, now)?,
        Command::EndWash => {
            washing(run, now)?;
            Event::TankEmptied { ago_ms: 0 }
        }
        Command::Read { place, celsius } => {
            Event::Read { place, celsius, doubted: reading::is_doubtful(run, place, celsius) }
        }
        Command::Correct { of, celsius } => {
            if !run.state.readings.iter().any(|reading| reading.seq == of) {
                return Err(Refusal::NoSuchReading);
            }
            Event::ReadingCorrected { of, celsius }
        }
        Command::Note(fault) => Event::FaultNoted(fault),
        Command::SetWords(words) => Event::WordsChanged(words),
        Command::Undo => Event::Undone { of: undoable(run, now).ok_or(Refusal::NothingToUndo)? },
        Command::Redo => Event::Redone { of: redoable(run, now).ok_or(Refusal::NothingToRedo)? },
        Command::SwapWater { drain_ml, add_ml, celsius } => {
            Event::WaterSwapped { drain_ml, add_ml, celsius }
        }
        Command::MoveBottle { bath, back } => Event::BottleMoved { bath, back },
        Command::Drop { of } => {
            if !run.state.readings.iter().any(|reading| reading.seq == of) {
                return Err(Refusal::NoSuchReading);
            }
            Event::ReadingDropped { of }
        }
        Command::GoDark if run.state.tank == Tank::Ready => Event::WentDark,
        Command::GoDark => return Err(Refusal::AlreadyStarted),
        Command::LightsOn if run.state.dark_since.is_some() => Event::LightsOn,
        Command::LightsOn => return Err(Refusal::NotDark),
        Command::ChooseTime { time_ms } => choose_time(run, time_ms, now)?,
        Command::FindInTank { step, ago_ms } => find(run, step, ago_ms, now)?,
        Command::Leave => leave(run, now)?,
        Command::WasAway { ms, why } => Event::Away { ms, why },
        Command::ClockWasSet { by_ms } => Event::ClockSet { by_ms },
    };
    Ok(Entry { seq: next_seq(run), at: now, event })
}

/// The place that the next entry takes in the log.
pub fn next_seq(run: &Run) -> u32 {
    run.log.iter().map(|entry| entry.seq.saturating_add(1)).max().unwrap_or(0)
}

/// The tap that UNDO would take back at `now`: the last that holds, if it is at most
/// [`UNDO_MS`] old or was brought back within that time.
pub fn undoable(run: &Run, now: Timestamp) -> Option<u32> {
    let entry = run.held().rev().find(|entry| entry.event.is_tap())?;
    let brought_back = Event::Redone { of: entry.seq };
    let redone = run.log.iter().rev().find(|later| later.event == brought_back);
    let since = redone.map_or(entry.at, |redone| redone.at.max(entry.at));
    (now.since_ms(since) <= UNDO_MS).then_some(entry.seq)
}

/// The tap that REDO would bring back at `now`: the one taken back last, until the next tap or
/// for [`UNDO_MS`].
pub fn redoable(run: &Run, now: Timestamp) -> Option<u32> {
    run.log
        .iter()
        .rev()
        .take_while(|entry| !entry.event.is_tap() || run.is_undone(entry.seq))
        .find_map(|entry| {
            let Event::Undone { of } = entry.event else { return None };
            run.is_undone(of).then_some((of, entry.at))
        })
        .filter(|(_, at)| now.since_ms(*at) <= UNDO_MS)
        .map(|(of, _)| of)
}

/// Whether the step in the tank can be ended by a tap at `now`.
pub fn is_armed(run: &Run, now: Timestamp) -> bool {
    run.clock_in_tank().is_some_and(|clock| is_armed_by(run, &clock, now))
}

/// The same, where the clock of the step in the tank is known.
pub(crate) fn is_armed_by(run: &Run, clock: &StepClock, now: Timestamp) -> bool {
    let Tank::Bath { step, tone_at, .. } = run.state.tank else { return false };
    !run.plan.is_last_wash(step)
        && now >= tone_at
        && now.since_ms(clock.zero(tone_at)) >= clock.end - ARMED_MS
}

/// Whether the last tap said that a tank was empty and can still be dated back at `now`.
pub fn can_back_date(run: &Run, now: Timestamp) -> bool {
    let last = run
        .held()
        .rev()
        .find(|entry| matches!(entry.event, Event::TankEmptied { .. } | Event::BackDated { .. }));
    last.is_some_and(|entry| {
        matches!(entry.event, Event::TankEmptied { ago_ms: 0 }) && now.since_ms(entry.at) <= UNDO_MS
    })
}

fn full(run: &Run, now: Timestamp) -> Result<Event, Refusal> {
    if run.is_filling(now) { Ok(Event::Filled) } else { Err(Refusal::NotFilling) }
}

fn empty(run: &Run, ago_ms: i64, now: Timestamp) -> Result<Event, Refusal> {
    let Tank::Bath { step, tone_at, .. } = run.state.tank else { return Err(Refusal::NoBath) };
    if now < tone_at {
        Ok(Event::LeadInRestarted)
    } else if run.plan.is_last_wash(step) {
        Err(Refusal::WashIsJudged)
    } else if is_armed(run, now) {
        Ok(Event::TankEmptied { ago_ms: ago_ms.max(0) })
    } else {
        Err(Refusal::TooEarly)
    }
}

/// A time that is not over yet: nobody can pour back earlier than now.
fn choose_time(run: &Run, time_ms: i64, now: Timestamp) -> Result<Event, Refusal> {
    let Tank::Bath { step, tone_at, .. } = run.state.tank else { return Err(Refusal::NoBath) };
    let clock = run.step_clock(step).ok_or(Refusal::NoBath)?;
    let is_timed = !run.plan.is_last_wash(step) && now >= tone_at;
    if is_timed && time_ms >= now.since_ms(clock.zero(tone_at)) {
        Ok(Event::TimeChosen { time_ms })
    } else {
        Err(Refusal::NoSuchTime)
    }
}

fn find(run: &Run, step: u32, ago_ms: i64, now: Timestamp) -> Result<Event, Refusal> {
    let (Tank::Bath { step: before, .. } | Tank::Asking { step: before, .. }) = run.state.tank
    else {
        return Err(Refusal::NoBath);
    };
    let found = usize::try_from(step).unwrap_or(usize::MAX);
    let poured = run.state.actual.get(before).and_then(|actual| actual.poured_at);
    // Not before the bath that it followed was poured.
    let most_ms = poured.map_or(0, |poured| now.since_ms(poured)).max(0);
    if found > before && found < run.plan.steps.len() {
        Ok(Event::FoundInTank { step, ago_ms: ago_ms.clamp(0, most_ms) })
    } else {
        Err(Refusal::NoSuchStep)
    }
}

fn back_date(run: &Run, by_ms: i64, now: Timestamp) -> Result<Event, Refusal> {
    if can_back_date(run, now) && by_ms > 0 {
        Ok(Event::BackDated { by_ms })
    } else {
        Err(Refusal::NothingToDateBack)
    }
}

/// How long the last wash has been in the tank, and the least it should be.
fn washing(run: &Run, now: Timestamp) -> Result<(i64, i64), Refusal> {
    let Tank::Bath { step, tone_at, .. } = run.state.tank else { return Err(Refusal::NoBath) };
    if !run.plan.is_last_wash(step) || now < tone_at {
        return Err(Refusal::NotTheWash);
    }
    let least = run.plan.steps.get(step).map_or(0, |step| step.least_ms);
    Ok((now.since_ms(tone_at), least))
}

fn judge(run: &Run, look: Look, now: Timestamp) -> Result<Event, Refusal> {
    let (elapsed, least) = washing(run, now)?;
    let Tank::Bath { ref wash, .. } = run.state.tank else { return Err(Refusal::NoBath) };
    Ok(Event::Judged { look, ends: wash.verdict(elapsed, look, least) == Verdict::Ends })
}

/// Leaving is possible only where no bath can be cut short by it.
fn leave(run: &Run, now: Timestamp) -> Result<Event, Refusal> {
    match run.state.tank {
        Tank::Bath { step, tone_at, .. } => {
            let may = now < tone_at || is_armed(run, now) || run.plan.is_last_wash(step);
            if may { Ok(Event::Left) } else { Err(Refusal::TooEarly) }
        }
        Tank::Asking { .. } => Ok(Event::Left),
        Tank::Ready | Tank::Done { .. } | Tank::Left { .. } => Err(Refusal::NoBath),
    }
}

#[cfg(test)]
mod tests;
