//! Two hands, one bottle of each bath, several tanks: when can the next tank begin?
//!
//! A tank's plan is a rigid pattern of what hands do and which bottle is in use; only agitations that
//! may slip have room. Whole seconds. Starts are found exactly: nothing earlier is possible.

mod feasible;
mod search;

pub use feasible::hands_suffice;
pub use search::{Schedule, Search, earliest};

use crate::refused::{Refused, within};

/// When the clock of a step starts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ClockStarts {
    /// As pouring in begins: the time runs from there to the end of pouring out.
    AsYouBegin,
    /// When pouring in is complete: the time runs from there to the beginning of pouring out.
    #[default]
    WhenComplete,
}

/// How the hands move a tank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rhythm {
    /// The first spell, in seconds.
    pub first_s: u32,
    /// From spell to spell.
    pub every_s: u32,
    /// Each later spell.
    pub spell_s: u32,
    /// By how much a later spell may be early or late.
    pub slip_s: u32,
}

/// One step for one tank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HandStep {
    /// How long, by the clock of the plan.
    pub time_s: u32,
    /// How long pouring in takes; 0: nothing is poured.
    pub pour_in_s: u32,
    /// How long pouring out takes.
    pub pour_out_s: u32,
    /// Which bottle is in use, if the step has one of its own.
    pub bottle: Option<u8>,
    /// How it is moved, if it is.
    pub rhythm: Option<Rhythm>,
    /// Rinsing funnel and thermometer afterwards.
    pub rinse_s: u32,
    /// How long the bottle is not ready for the next tank afterwards.
    pub turnaround_s: u32,
}

/// Something for the hands: not before, not begun after, and how long.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Task {
    /// Not before this, in seconds.
    pub release: i32,
    /// Not begun after this.
    pub latest: i32,
    /// How long.
    pub seconds: i32,
}

/// A bottle in use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Use {
    /// Which bottle.
    pub bottle: u8,
    /// From when.
    pub from: i32,
    /// Until when.
    pub until: i32,
}

/// What one tank asks of hands and bottles, from its own start.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pattern {
    /// What the hands do.
    pub tasks: Vec<Task>,
    /// Which bottles are in use.
    pub uses: Vec<Use>,
    /// How long the tank takes.
    pub seconds: i32,
}

/// More steps than any sheet has.
const MOST_STEPS: usize = 40;

impl Pattern {
    /// The pattern of a tank that does these steps, the first one lengthened by `longer_s`.
    ///
    /// # Errors
    ///
    /// [`Refused`] without steps, and for lengths that cannot be.
    pub fn of(steps: &[HandStep], clock: ClockStarts, longer_s: u32) -> Result<Self, Refused> {
        if steps.is_empty() {
            return Err(Refused::None { what: "step" });
        }
        if steps.len() > MOST_STEPS {
            return Err(Refused::TooMany { what: "steps", count: steps.len(), most: MOST_STEPS });
        }
        let mut pattern = Self::default();
        for (index, step) in steps.iter().enumerate() {
            let longer = if index == 0 { longer_s } else { 0 };
            pattern.step(step, clock, longer)?;
        }
        Ok(pattern)
    }

    fn step(&mut self, step: &HandStep, clock: ClockStarts, longer_s: u32) -> Result<(), Refused> {
        let lengths = [
            step.time_s,
            step.pour_in_s,
            step.pour_out_s,
            step.rinse_s,
            step.turnaround_s,
            longer_s,
        ];
        for length in lengths {
            within("a length in seconds", f64::from(length), 0.0, 86_400.0)?;
        }
        let [time, pour_in, pour_out, rinse, turnaround, longer] = lengths.map(u32::cast_signed);
        let stays = match clock {
            ClockStarts::WhenComplete => time + longer,
            ClockStarts::AsYouBegin => time + longer - pour_in - pour_out,
        };
        within("what is left between the pours", f64::from(stays), 0.0, 200_000.0)?;
        let began = self.seconds;
        self.hands(pour_in);
        let filled = self.seconds;
        if let Some(rhythm) = step.rhythm {
            self.moves(filled, stays, rhythm)?;
        }
        self.seconds = filled + stays;
        self.hands(pour_out);
        if let Some(bottle) = step.bottle {
            let until = self.seconds + turnaround;
            self.uses.push(Use { bottle, from: began, until });
        }
        self.hands(rinse);
        Ok(())
    }

    /// Something the hands do now, for so long.
    fn hands(&mut self, seconds: i32) {
        if seconds > 0 {
            self.tasks.push(Task { release: self.seconds, latest: self.seconds, seconds });
            self.seconds += seconds;
        }
    }

    fn moves(&mut self, filled: i32, stays: i32, rhythm: Rhythm) -> Result<(), Refused> {
        let all = [rhythm.first_s, rhythm.every_s, rhythm.spell_s, rhythm.slip_s];
        for length in all {
            within("a length in seconds", f64::from(length), 0.0, 86_400.0)?;
        }
        within("an interval", f64::from(rhythm.every_s), 1.0, 86_400.0)?;
        let [first, every, spell, slip] = all.map(u32::cast_signed);
        if first > 0 {
            self.tasks.push(Task { release: filled, latest: filled, seconds: first });
        }
        let mut at = every;
        while spell > 0 && at + spell <= stays {
            let early = slip.min(at);
            let late = slip.min(stays - spell - at);
            let release = filled + at - early;
            self.tasks.push(Task { release, latest: filled + at + late, seconds: spell });
            at += every;
        }
        Ok(())
    }
}

/// What keeps a later tank from beginning earlier.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Binds {
    /// Nothing: the tanks begin together.
    Nothing,
    /// The hands.
    Hands,
    /// A bottle that is in use.
    Bottle(u8),
}

#[cfg(test)]
mod tests;
