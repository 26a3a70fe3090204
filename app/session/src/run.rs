//! A run: its plan, its log, and what follows from the two.

use process_model::quantity::Celsius;

use crate::entry::{Entry, Event, Fault, Look, Place, With};
use crate::habits::Words;
use crate::plan::{Plan, PlannedStep};
use crate::step_clock::StepClock;
use crate::timestamp::Timestamp;
use crate::wash::Wash;

/// No chosen time is longer: a day.
const LONGEST_MS: i64 = 86_400_000;

/// One tank through one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// What it was going to do. Frozen.
    pub plan: Plan,
    /// Everything that happened, in order.
    pub log: Vec<Entry>,
    /// Entries that were taken back, each with the instant of its last UNDO.
    pub undone: Vec<(u32, Timestamp)>,
    /// What follows from the entries that hold.
    pub state: State,
}

/// What follows from the entries that hold.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Where the run is.
    pub tank: Tank,
    /// What was done of each step of the plan, in the plan's order.
    pub actual: Vec<Actual>,
    /// Readings, in order, as corrected.
    pub readings: Vec<Reading>,
    /// Faults, in order.
    pub faults: Vec<(Timestamp, Fault)>,
    /// How much is spoken now.
    pub words: Words,
    /// When the light went out, while it is out.
    pub dark_since: Option<Timestamp>,
    /// When the light went out and when it was on again, the last time.
    pub dark: Option<(Timestamp, Timestamp)>,
    /// How far the phone's clock has been moved away from the run's clock.
    pub clock_shift_ms: i64,
}

/// Where the run is.
#[derive(Clone, Debug, PartialEq)]
pub enum Tank {
    /// Before the start.
    Ready,
    /// A step's lead-in or the step itself: which of the two follows from the time.
    Bath {
        /// Which step of the plan.
        step: usize,
        /// When the pour tone sounds.
        tone_at: Timestamp,
        /// What has been seen of the water, if the step is the last wash.
        wash: Wash,
    },
    /// Waiting for the choice with or without.
    Asking {
        /// Which step of the plan.
        step: usize,
        /// Since when.
        since: Timestamp,
    },
    /// The last bath is out.
    Done {
        /// When.
        at: Timestamp,
    },
    /// The run was stopped before its end.
    Left {
        /// When.
        at: Timestamp,
    },
}

/// What was done of one step.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Actual {
    /// The pour tone.
    pub poured_at: Option<Timestamp>,
    /// When the tank was full, where practice has asked.
    pub filled_at: Option<Timestamp>,
    /// When the tank was empty.
    pub out_at: Option<Timestamp>,
    /// Left out by choice.
    pub left_out: bool,
    /// Another time than the plan's, drain included.
    pub chosen_ms: Option<i64>,
}

/// A temperature reading that holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Its log entry.
    pub seq: u32,
    /// When it was read.
    pub at: Timestamp,
    /// Where.
    pub place: Place,
    /// What it says, corrections included.
    pub celsius: Celsius,
    /// Whether it is still in doubt.
    pub doubted: bool,
}

impl Run {
    /// A run that has not begun.
    pub fn new(plan: Plan) -> Self {
        let state = State::new(&plan);
        Self { plan, log: Vec::new(), undone: Vec::new(), state }
    }

    /// The run that `log` tells of.
    pub fn replay(plan: Plan, log: impl IntoIterator<Item = Entry>) -> Self {
        log.into_iter().fold(Self::new(plan), apply)
    }

    /// The clock of the step at `index`, if the plan has it.
    pub fn step_clock(&self, index: usize) -> Option<StepClock> {
        let step = self.plan.steps.get(index)?;
        let time_ms = self.time_ms(index).unwrap_or(step.time_ms);
        Some(StepClock::new(&self.plan, &PlannedStep { time_ms, ..step.clone() }))
    }

    /// The clock of the step that is in the tank or about to be.
    pub fn clock_in_tank(&self) -> Option<StepClock> {
        let Tank::Bath { step, .. } = self.state.tank else { return None };
        self.step_clock(step)
    }

    /// How long the step at `index` is to last: as chosen, else as planned.
    pub fn time_ms(&self, index: usize) -> Option<i64> {
        let chosen = self.state.actual.get(index).and_then(|actual| actual.chosen_ms);
        chosen.or(self.plan.steps.get(index).map(|step| step.time_ms))
    }

    /// When the run began, if it did and that was not taken back.
    pub fn started_at(&self) -> Option<Timestamp> {
        self.held().find(|entry| matches!(entry.event, Event::Started { .. })).map(|entry| entry.at)
    }

    /// How long all of it took once it is over, from its first entry on: readings, dark and baths.
    pub fn whole_ms(&self) -> Option<i64> {
        let Tank::Done { at } = self.state.tank else { return None };
        Some(at.since_ms(self.log.first()?.at))
    }

    /// Whether practice waits to hear that the tank is full.
    pub fn is_filling(&self, now: Timestamp) -> bool {
        match self.state.tank {
            Tank::Bath { step, tone_at, .. } => {
                let known = self.state.actual.get(step).and_then(|actual| actual.filled_at);
                self.plan.practice && now >= tone_at && known.is_none()
            }
            Tank::Ready | Tank::Asking { .. } | Tank::Done { .. } | Tank::Left { .. } => false,
        }
    }

    /// Whether nothing more is to come.
    pub fn is_over(&self) -> bool {
        matches!(self.state.tank, Tank::Done { .. } | Tank::Left { .. })
    }

    /// The last reading at `place`.
    pub fn last_reading(&self, place: Place) -> Option<Reading> {
        self.state.readings.iter().rev().find(|reading| reading.place == place).copied()
    }

    /// Whether the entry of that place has been taken back.
    pub fn is_undone(&self, seq: u32) -> bool {
        self.undone.iter().any(|(undone, _)| *undone == seq)
    }

    /// The entries that have not been taken back.
    pub fn held(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.log.iter().filter(|entry| !self.is_undone(entry.seq))
    }
}

/// The run after `entry`. Total: an entry that makes no sense is kept in the log and changes
/// nothing else.
pub fn apply(mut run: Run, entry: Entry) -> Run {
    if let Event::Undone { of } = entry.event {
        run.undone.retain(|(undone, _)| *undone != of);
        run.undone.push((of, entry.at));
    } else if let Event::Redone { of } = entry.event {
        run.undone.retain(|(undone, _)| *undone != of);
    } else {
        run.state.follow(&run.plan, &entry);
        run.log.push(entry);
        return run;
    }
    run.log.push(entry);
    let mut state = State::new(&run.plan);
    for held in run.held() {
        state.follow(&run.plan, held);
    }
    run.state = state;
    run
}

impl State {
    fn new(plan: &Plan) -> Self {
        Self {
            tank: Tank::Ready,
            actual: vec![Actual::default(); plan.steps.len()],
            readings: Vec::new(),
            faults: Vec::new(),
            words: plan.words,
            dark_since: None,
            dark: None,
            clock_shift_ms: 0,
        }
    }

    fn follow(&mut self, plan: &Plan, entry: &Entry) {
        let at = entry.at;
        match entry.event {
            Event::Started { .. } => self.start(plan, at),
            Event::TankEmptied { ago_ms } => self.empty(plan, at, ago_ms),
            Event::Filled => self.fill(at),
            Event::LeadInRestarted => self.restart_lead_in(plan, at),
            Event::BackDated { by_ms } => self.back_date(by_ms),
            Event::Chosen { with } => self.choose(plan, at, with),
            Event::Judged { look, ends } => self.judge(plan, at, look, ends),
            Event::Read { place, celsius, doubted } => {
                self.readings.push(Reading { seq: entry.seq, at, place, celsius, doubted });
            }
            Event::ReadingCorrected { of, celsius } => {
                if let Some(reading) = self.readings.iter_mut().find(|held| held.seq == of) {
                    reading.celsius = celsius;
                    reading.doubted = false;
                }
            }
            Event::FaultNoted(fault) => self.faults.push((at, fault)),
            Event::WordsChanged(words) => self.words = words,
            Event::ClockSet { by_ms } => {
                self.clock_shift_ms = self.clock_shift_ms.saturating_add(by_ms);
            }
            Event::Left => {
                if !matches!(self.tank, Tank::Ready | Tank::Done { .. }) {
                    self.tank = Tank::Left { at };
                }
            }
            Event::ReadingDropped { of } => self.readings.retain(|reading| reading.seq != of),
            Event::WentDark => self.dark_since = Some(at),
            Event::LightsOn => {
                self.dark = self.dark_since.take().map(|since| (since, at)).or(self.dark);
            }
            Event::TimeChosen { time_ms } => self.choose_time(time_ms),
            Event::FoundInTank { step, ago_ms } => self.find(plan, at, step, ago_ms),
            // What the water does is read from the log.
            Event::WaterSwapped { .. }
            | Event::BottleMoved { .. }
            | Event::Undone { .. }
            | Event::Redone { .. }
            | Event::Away { .. } => {}
        }
    }

    fn start(&mut self, plan: &Plan, at: Timestamp) {
        if self.tank == Tank::Ready {
            self.go_to(plan, 0, at);
        }
    }

    /// Goes to the step at `index`, or to the end if the plan has no such step.
    fn go_to(&mut self, plan: &Plan, index: usize, at: Timestamp) {
        match plan.steps.get(index) {
            None => self.tank = Tank::Done { at },
            Some(step) if step.asked => self.tank = Tank::Asking { step: index, since: at },
            Some(_) => self.lead_in(plan, index, at),
        }
    }

    fn lead_in(&mut self, plan: &Plan, index: usize, at: Timestamp) {
        let tone_at = at.plus_ms(plan.lead_in_to(index));
        if let Some(actual) = self.actual.get_mut(index) {
            actual.poured_at = Some(tone_at);
        }
        self.tank = Tank::Bath { step: index, tone_at, wash: Wash::default() };
    }

    fn empty(&mut self, plan: &Plan, at: Timestamp, ago_ms: i64) {
        if let Tank::Bath { step, .. } = self.tank {
            if let Some(actual) = self.actual.get_mut(step) {
                actual.out_at = Some(at.plus_ms(ago_ms.saturating_neg()));
            }
            self.go_to(plan, step.saturating_add(1), at);
        }
    }

    fn fill(&mut self, at: Timestamp) {
        if let Tank::Bath { step, .. } = self.tank
            && let Some(actual) = self.actual.get_mut(step)
        {
            actual.filled_at = Some(at);
        }
    }

    fn restart_lead_in(&mut self, plan: &Plan, at: Timestamp) {
        if let Tank::Bath { step, tone_at, .. } = self.tank
            && at < tone_at
        {
            self.lead_in(plan, step, at);
        }
    }

    /// Moves the out-time only: the next bath's lead-in runs from the tap, as it was heard.
    fn back_date(&mut self, by_ms: i64) {
        if let Some(actual) = self.actual.iter_mut().rev().find(|actual| actual.out_at.is_some()) {
            actual.out_at = actual.out_at.map(|out| out.plus_ms(by_ms.saturating_neg()));
        }
    }

    fn choose_time(&mut self, time_ms: i64) {
        if let Tank::Bath { step, .. } = self.tank
            && let Some(actual) = self.actual.get_mut(step)
        {
            actual.chosen_ms = Some(time_ms.clamp(0, LONGEST_MS));
        }
    }

    /// The bath before it was out when this one was poured, as far as anybody knows.
    fn find(&mut self, plan: &Plan, at: Timestamp, step: u32, ago_ms: i64) {
        let step = usize::try_from(step).unwrap_or(usize::MAX);
        let (Tank::Bath { step: before, .. } | Tank::Asking { step: before, .. }) = self.tank
        else {
            return;
        };
        if step <= before || plan.steps.get(step).is_none() {
            return;
        }
        let tone_at = at.plus_ms(-ago_ms.clamp(0, LONGEST_MS));
        if let Some(actual) = self.actual.get_mut(before) {
            actual.out_at = actual.poured_at.map(|poured| poured.max(tone_at));
        }
        if let Some(actual) = self.actual.get_mut(step) {
            actual.poured_at = Some(tone_at);
        }
        self.tank = Tank::Bath { step, tone_at, wash: Wash::default() };
    }

    fn choose(&mut self, plan: &Plan, at: Timestamp, with: With) {
        if let Tank::Asking { step, .. } = self.tank {
            match with {
                With::With => self.lead_in(plan, step, at),
                With::Without => {
                    if let Some(actual) = self.actual.get_mut(step) {
                        actual.left_out = true;
                    }
                    self.go_to(plan, step.saturating_add(1), at);
                }
            }
        }
    }

    fn judge(&mut self, plan: &Plan, at: Timestamp, look: Look, ends: bool) {
        if let Tank::Bath { tone_at, wash, .. } = &mut self.tank {
            wash.look(at.since_ms(*tone_at), look);
        }
        if ends {
            self.empty(plan, at, 0);
        }
    }
}

#[cfg(test)]
mod tests;
