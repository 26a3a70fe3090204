//! What a person always does: kept between runs, frozen into each plan.

use std::collections::BTreeSet;

use process_model::sheet::{Choice, SheetId, Step};

/// When the clock of a step starts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Convention {
    /// As pouring in begins.
    #[default]
    AsYouBegin,
    /// When pouring in is complete.
    WhenComplete,
}

/// How much is spoken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Words {
    /// Everything.
    #[default]
    All,
    /// Pours and faults.
    Few,
    /// Faults and over-runs only; the rest is tones.
    Tones,
}

/// On which side the keys stand when the phone lies on its side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Side {
    /// Right.
    #[default]
    Right,
    /// Left.
    Left,
}

/// Which ground the page has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ground {
    /// Dark on light.
    #[default]
    Bright,
    /// Light on dark.
    Dim,
}

/// A range of whole seconds or minutes that a habit may take, both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Range {
    /// The least.
    pub least: u32,
    /// The most.
    pub most: u32,
}

impl Range {
    /// The nearest value in the range.
    pub fn nearest(self, value: u32) -> u32 {
        value.clamp(self.least, self.most)
    }
}

/// What a person always does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Habits {
    /// The sheet to start with.
    pub sheet: SheetId,
    /// When the clock starts.
    pub convention: Convention,
    /// How long pouring in takes, in seconds.
    pub fill_s: u32,
    /// How long pouring out takes, in seconds.
    pub drain_s: u32,
    /// From the tap to the pour tone, in seconds.
    pub lead_in_s: u32,
    /// How long the person washes, in minutes.
    pub wash_min: u32,
    /// How much is spoken.
    pub words: Words,
    /// Side of the keys in landscape.
    pub keys: Side,
    /// Bright or dim.
    pub ground: Ground,
    /// Optional steps that are switched from their default, as sheet key and step id.
    pub switched: BTreeSet<(String, String)>,
}

impl Habits {
    /// What `fill_s` may be.
    pub const FILL: Range = Range { least: 2, most: 40 };
    /// What `drain_s` may be.
    pub const DRAIN: Range = Range { least: 2, most: 40 };
    /// What `lead_in_s` may be.
    pub const LEAD_IN: Range = Range { least: 5, most: 20 };
    /// What `wash_min` may be.
    pub const WASH: Range = Range { least: 1, most: 30 };

    /// Whether `step` of `sheet` is to be done. A step that is asked about counts as done here.
    pub fn wants(&self, sheet: SheetId, step: &Step) -> bool {
        let switched = self.switched.contains(&(sheet.key().to_owned(), step.id.to_owned()));
        match step.choice {
            Choice::Always | Choice::Asked => true,
            Choice::OptionalOn => !switched,
            Choice::OptionalOff => switched,
        }
    }

    /// Turns an optional step of `sheet` on or off.
    pub fn switch(&mut self, sheet: SheetId, step: &Step, on: bool) {
        let key = (sheet.key().to_owned(), step.id.to_owned());
        let usual = step.choice != Choice::OptionalOff;
        if on == usual {
            self.switched.remove(&key);
        } else {
            self.switched.insert(key);
        }
    }
}

impl Default for Habits {
    /// Ten seconds to fill and to drain until practice has measured them; nine minutes of wash.
    fn default() -> Self {
        Self {
            sheet: SheetId::ALL[0],
            convention: Convention::default(),
            fill_s: 10,
            drain_s: 10,
            lead_in_s: 8,
            wash_min: 9,
            words: Words::default(),
            keys: Side::default(),
            ground: Ground::default(),
            switched: BTreeSet::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_optional_step_is_switched_and_switched_back() {
        let mut habits = Habits::default();
        let sheet = SheetId::TwoBath389;
        let stop = &sheet.sheet().steps[2];
        assert!(!habits.wants(sheet, stop));
        habits.switch(sheet, stop, true);
        assert!(habits.wants(sheet, stop));
        habits.switch(sheet, stop, false);
        assert_eq!(habits, Habits::default());
    }
}
