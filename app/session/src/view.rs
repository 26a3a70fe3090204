//! What is true of a run at one instant: everything a screen needs, from one look at the clock.

use process_model::sheet::{Bath, Direction};

use crate::command::{can_back_date, is_armed_by, redoable, undoable};
use crate::entry::{Event, Look};
use crate::plan::PlannedStep;
use crate::run::{Run, Tank};
use crate::step_clock::{Span, StepClock};
use crate::timestamp::Timestamp;
use crate::wash::{Wash, fill_at, left_over_one_in};

/// A run at one instant.
#[derive(Clone, Debug, PartialEq)]
pub struct View {
    /// Which step of the plan, if one is in the tank, about to be, or asked about.
    pub step: Option<usize>,
    /// What goes on.
    pub scene: Scene,
    /// Whether a tap can end the step.
    pub armed: bool,
    /// Practice waits to hear that the tank is full.
    pub filling: bool,
    /// When the step's time is up, on the phone's clock.
    pub out_at: Option<Timestamp>,
    /// When pouring back begins, on the phone's clock.
    pub pour_back_at: Option<Timestamp>,
    /// The entry that UNDO would take back.
    pub undo: Option<u32>,
    /// The entry that REDO would bring back.
    pub redo: Option<u32>,
    /// Whether the last out-time can be dated back.
    pub back_date: bool,
    /// A tap was undone after the pour tone that it led to: is this bath still in the tank?
    pub still_in: Option<Bath>,
}

/// What goes on. All lengths are in milliseconds.
#[derive(Clone, Debug, PartialEq)]
pub enum Scene {
    /// Before the start.
    Ready,
    /// Waiting for the pour tone.
    LeadIn {
        /// Until the tone.
        left: i64,
    },
    /// Pouring in.
    PourIn {
        /// Until the tank should be full.
        full_in: i64,
        /// How long filling takes.
        fill: i64,
        /// Until the step's time is up.
        left: i64,
    },
    /// Moving the tank.
    Agitate {
        /// Since the spell began.
        done: i64,
        /// How long the spell is.
        length: i64,
        /// Whether it goes on until the bath is poured back.
        continuous: bool,
        /// Until the step's time is up.
        left: i64,
    },
    /// Standing still.
    Rest {
        /// Until the next spell, if there is one.
        agitate_in: Option<i64>,
        /// Until pouring back begins, if it is announced.
        pour_back_in: Option<i64>,
        /// Until the step's time is up.
        left: i64,
    },
    /// Pouring back or out.
    PourBack {
        /// How long draining takes.
        drain: i64,
        /// Until the step's time is up.
        left: i64,
    },
    /// The step's time is up, and longer is not safe.
    Over {
        /// Since when.
        by: i64,
    },
    /// The step's time is up, and longer is safe.
    Waiting {
        /// Since when.
        by: i64,
    },
    /// The last wash.
    Washing(Washing),
    /// With or without the stabiliser.
    Asking {
        /// Since when.
        since: i64,
    },
    /// The last bath is out.
    Done {
        /// When.
        at: Timestamp,
    },
    /// Stopped before the end.
    Left {
        /// When.
        at: Timestamp,
    },
}

/// The last wash at one instant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Washing {
    /// Since the pour.
    pub elapsed: i64,
    /// Which fill is in, from one.
    pub fill: i64,
    /// Since the last change of water.
    pub since_change: i64,
    /// How the water of this fill looked, if it was judged.
    pub judged: Option<Look>,
    /// One part in how many is left over, estimate; none in the first fill.
    pub left_over_one_in: Option<u32>,
    /// The sheet's least.
    pub least: i64,
    /// The person's own habit.
    pub habit: i64,
    /// Clear twice running, but so many fills too early.
    pub more_fills: Option<i64>,
}

/// The five words that are read from across the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StateWord {
    /// Standing still.
    Rest,
    /// Moving.
    Agitate,
    /// Pouring.
    Pour,
    /// Over time.
    Over,
    /// Waiting for a tap or a tone.
    Wait,
}

impl Scene {
    /// Until the step's time is up, while it is not.
    pub fn left(&self) -> Option<i64> {
        match self {
            Self::PourIn { left, .. }
            | Self::Agitate { left, .. }
            | Self::Rest { left, .. }
            | Self::PourBack { left, .. } => Some(*left),
            Self::Ready
            | Self::LeadIn { .. }
            | Self::Over { .. }
            | Self::Waiting { .. }
            | Self::Washing(_)
            | Self::Asking { .. }
            | Self::Done { .. }
            | Self::Left { .. } => None,
        }
    }

    /// The state word, where there is one.
    pub fn state_word(&self) -> Option<StateWord> {
        match self {
            Self::Rest { .. } => Some(StateWord::Rest),
            Self::Agitate { .. } => Some(StateWord::Agitate),
            Self::PourIn { .. } | Self::PourBack { .. } => Some(StateWord::Pour),
            Self::Over { .. } => Some(StateWord::Over),
            Self::LeadIn { .. } | Self::Waiting { .. } | Self::Asking { .. } => {
                Some(StateWord::Wait)
            }
            Self::Ready | Self::Washing(_) | Self::Done { .. } | Self::Left { .. } => None,
        }
    }
}

impl View {
    /// The view without what runs: every length that changes with each second is nought. It stays the
    /// same from one second to the next while nothing but digits changes.
    #[must_use]
    pub fn still(&self) -> Self {
        let still = |ms: &Option<i64>| ms.map(|_| 0);
        let scene = match &self.scene {
            Scene::LeadIn { .. } => Scene::LeadIn { left: 0 },
            Scene::PourIn { fill, .. } => Scene::PourIn { full_in: 0, fill: *fill, left: 0 },
            Scene::Agitate { length, continuous, .. } => {
                Scene::Agitate { done: 0, length: *length, continuous: *continuous, left: 0 }
            }
            Scene::Rest { agitate_in, pour_back_in, .. } => Scene::Rest {
                agitate_in: still(agitate_in),
                pour_back_in: still(pour_back_in),
                left: 0,
            },
            Scene::PourBack { drain, .. } => Scene::PourBack { drain: *drain, left: 0 },
            Scene::Over { .. } => Scene::Over { by: 0 },
            Scene::Waiting { .. } => Scene::Waiting { by: 0 },
            Scene::Washing(wash) => {
                Scene::Washing(Washing { elapsed: 0, since_change: 0, ..wash.clone() })
            }
            Scene::Asking { .. } => Scene::Asking { since: 0 },
            Scene::Ready | Scene::Done { .. } | Scene::Left { .. } => self.scene.clone(),
        };
        Self { scene, ..self.clone() }
    }
}

/// What is true of `run` at `now`.
pub fn view(run: &Run, now: Timestamp) -> View {
    let clock = run.clock_in_tank();
    let (step, scene) = match run.state.tank {
        Tank::Ready => (None, Scene::Ready),
        Tank::Bath { step, tone_at, ref wash } => {
            (Some(step), bath(run, clock.as_ref(), (step, tone_at), wash, now))
        }
        Tank::Asking { step, since } => (Some(step), Scene::Asking { since: now.since_ms(since) }),
        Tank::Done { at } => (None, Scene::Done { at }),
        Tank::Left { at } => (None, Scene::Left { at }),
    };
    let on_the_wall = |at: Timestamp| at.plus_ms(run.state.clock_shift_ms);
    let ends = clock.as_ref().and_then(|clock| step_ends(run, clock));
    View {
        step,
        scene,
        filling: run.is_filling(now),
        armed: clock.is_some_and(|clock| is_armed_by(run, &clock, now)),
        out_at: ends.map(|(out, _)| on_the_wall(out)),
        pour_back_at: ends.and_then(|(_, back)| back).map(on_the_wall),
        undo: undoable(run, now),
        redo: redoable(run, now),
        back_date: can_back_date(run, now),
        still_in: still_in(run, now),
    }
}

/// When the step in the tank ends, and when it is poured back, on the run's clock.
fn step_ends(run: &Run, clock: &StepClock) -> Option<(Timestamp, Option<Timestamp>)> {
    let Tank::Bath { step, tone_at, .. } = run.state.tank else { return None };
    if run.plan.is_last_wash(step) {
        return None;
    }
    let zero = clock.zero(tone_at);
    Some((zero.plus_ms(clock.end), clock.pour_back.map(|back| zero.plus_ms(back))))
}

fn bath(
    run: &Run,
    clock: Option<&StepClock>,
    (index, tone_at): (usize, Timestamp),
    wash: &Wash,
    now: Timestamp,
) -> Scene {
    if now < tone_at {
        return Scene::LeadIn { left: tone_at.since_ms(now) };
    }
    let Some(step) = run.plan.steps.get(index) else { return Scene::Ready };
    if run.plan.is_last_wash(index) {
        return Scene::Washing(washing(run, step, now.since_ms(tone_at), wash));
    }
    let Some(clock) = clock else { return Scene::Ready };
    timed(step, clock, now.since_ms(clock.zero(tone_at)))
}

/// A timed step at `t` on its clock, at the pour tone or later.
fn timed(step: &PlannedStep, clock: &StepClock, t: i64) -> Scene {
    let left = clock.end - t;
    if t >= clock.end {
        return match step.direction {
            Direction::Exact => Scene::Over { by: -left },
            Direction::Minimum | Direction::MinimumSoft => Scene::Waiting { by: -left },
        };
    }
    if t < clock.filled {
        let fill = clock.filled - clock.tone;
        return Scene::PourIn { full_in: clock.filled - t, fill, left };
    }
    if let Some(back) = clock.pour_back.filter(|back| t >= *back) {
        return Scene::PourBack { drain: clock.end - back, left };
    }
    if let Some(spell) = clock.spells.iter().find(|spell| spell.holds(t)) {
        let Span { start, end } = *spell;
        let continuous = end == clock.pour_back.unwrap_or(clock.end);
        return Scene::Agitate { done: t - start, length: end - start, continuous, left };
    }
    let agitate_in = clock.spells.iter().map(|spell| spell.start - t).find(|left| *left > 0);
    Scene::Rest { agitate_in, pour_back_in: clock.pour_back.map(|back| back - t), left }
}

fn washing(run: &Run, step: &PlannedStep, elapsed: i64, wash: &Wash) -> Washing {
    let done = fill_at(elapsed);
    let judged = wash.last().filter(|(fill, _)| *fill == done).map(|(_, look)| look);
    Washing {
        elapsed,
        fill: done + 1,
        since_change: elapsed - done * crate::wash::FILL_MS,
        judged,
        left_over_one_in: left_over_one_in(done),
        least: step.least_ms,
        habit: run.plan.wash_habit_ms,
        more_fills: (judged.is_some() && wash.is_clear_twice())
            .then(|| wash.fills_short_of_the_end(elapsed, step.least_ms))
            .filter(|more| *more > 0),
    }
}

/// The bath to ask about: the last thing that happened was UNDO of a tap whose pour tone had
/// already sounded.
fn still_in(run: &Run, now: Timestamp) -> Option<Bath> {
    let undone = redoable(run, now)?;
    let tap = run.log.iter().find(|entry| entry.seq == undone)?;
    let (_, since) = *run.undone.iter().find(|(seq, _)| *seq == undone)?;
    let Tank::Bath { step, .. } = run.state.tank else { return None };
    let led_to_a_pour =
        matches!(tap.event, Event::TankEmptied { .. } | Event::Judged { ends: true, .. });
    let tone_at = tap.at.plus_ms(run.plan.lead_in_ms);
    let sounded = led_to_a_pour && since >= tone_at;
    sounded.then(|| run.plan.steps.get(step).map(|step| step.bath))?
}

#[cfg(test)]
mod tests;
