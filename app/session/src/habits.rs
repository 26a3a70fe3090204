//! What a person always does: kept between runs, frozen into each plan.

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

/// The scale on which temperatures are shown and typed. Kept numbers are always Celsius.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Scale {
    /// Degrees Celsius.
    #[default]
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

/// The unit in which volumes are shown and typed. Kept numbers are always millilitres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Volumes {
    /// Millilitres.
    #[default]
    Millilitres,
    /// US fluid ounces.
    FluidOunces,
}

/// How fast is spoken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Pace {
    /// About 130 words a minute.
    Slow,
    /// About 160 words a minute.
    #[default]
    Normal,
    /// About 190 words a minute.
    Quick,
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
    /// The sheet to start with: the key of a shipped one or the id of the person's own.
    pub sheet: String,
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
    /// How fast is spoken.
    pub pace: Pace,
    /// The phone's name of the voice; empty: the first that speaks English.
    pub voice: String,
    /// Whether any key of a keyboard or pedal is the big button.
    pub any_key: bool,
    /// How temperatures are shown.
    pub scale: Scale,
    /// How volumes are shown.
    pub volumes: Volumes,
    /// How long the person loads film in the dark, in minutes.
    pub dark_min: u32,
    /// Side of the keys in landscape.
    pub keys: Side,
    /// Bright or dim.
    pub ground: Ground,
    /// Optional steps that are switched from their default, as sheet key and step id.
    pub switched: Vec<(String, String)>,
}

impl Habits {
    /// What `fill_s` may be.
    pub const FILL: Range = Range { least: 2, most: 40 };
    /// What `drain_s` may be.
    pub const DRAIN: Range = Range { least: 2, most: 40 };
    /// What `lead_in_s` may be.
    pub const LEAD_IN: Range = Range { least: 5, most: 20 };
    /// What `dark_min` may be.
    pub const DARK: Range = Range { least: 1, most: 60 };
    /// What `wash_min` may be.
    pub const WASH: Range = Range { least: 1, most: 30 };

    /// Whether `step` of `sheet` is to be done. A step that is asked about counts as done here.
    pub fn wants(&self, sheet: &str, step: &Step) -> bool {
        let switched = self.switched.contains(&(sheet.to_owned(), step.id.to_string()));
        match step.choice {
            Choice::Always | Choice::Asked => true,
            Choice::OptionalOn => !switched,
            Choice::OptionalOff => switched,
        }
    }

    /// Turns an optional step of `sheet` on or off.
    pub fn switch(&mut self, sheet: &str, step: &Step, on: bool) {
        let key = (sheet.to_owned(), step.id.to_string());
        let usual = step.choice != Choice::OptionalOff;
        self.switched.retain(|switched| *switched != key);
        if on != usual {
            self.switched.push(key);
        }
    }
}

impl Default for Habits {
    /// Ten seconds to fill and to drain until practice has measured them; nine minutes of wash and
    /// seven in the dark: common practice, no source.
    fn default() -> Self {
        Self {
            sheet: SheetId::ALL[0].key(),
            convention: Convention::default(),
            fill_s: 10,
            drain_s: 10,
            lead_in_s: 8,
            wash_min: 9,
            words: Words::default(),
            pace: Pace::default(),
            voice: String::new(),
            any_key: true,
            scale: Scale::default(),
            volumes: Volumes::default(),
            dark_min: 7,
            keys: Side::default(),
            ground: Ground::default(),
            switched: Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_optional_step_is_switched_and_switched_back() {
        let mut habits = Habits::default();
        let sheet = "two_bath_colour_negative_38_9";
        let steps = SheetId::TwoBath389.sheet().steps;
        let stop = &steps[2];
        assert!(!habits.wants(sheet, stop));
        habits.switch(sheet, stop, true);
        assert!(habits.wants(sheet, stop));
        habits.switch(sheet, stop, false);
        assert_eq!(habits, Habits::default());
    }
}
