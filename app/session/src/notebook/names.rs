//! The names that files give to what can be chosen: lower-case words joined by underscores.

use process_model::film::Format;
use process_model::sheet::{Bath, Choice, Direction, Light};

use crate::entry::{Absence, Fault, Look, With};
use crate::habits::{Convention, Ground, Pace, Scale, Side, Volumes, Words};
use crate::sheets::{Drain, Method};

/// A type whose values have names in files.
pub trait Named: Copy + PartialEq + 'static {
    /// What the type is called in messages.
    const FIELD: &'static str;
    /// Every value and its name.
    const NAMES: &'static [(Self, &'static str)];

    /// The value's name.
    fn file_name(self) -> &'static str {
        Self::NAMES.iter().find(|(value, _)| *value == self).map_or("", |(_, name)| name)
    }

    /// The value of that name.
    fn from_file_name(name: &str) -> Option<Self> {
        Self::NAMES.iter().find(|(_, known)| *known == name).map(|(value, _)| *value)
    }
}

impl Named for Bath {
    const FIELD: &'static str = "bath";
    const NAMES: &'static [(Self, &'static str)] = &[
        (Self::PreSoak, "pre_soak"),
        (Self::Developer, "developer"),
        (Self::FirstDeveloper, "first_developer"),
        (Self::ReversalBath, "reversal_bath"),
        (Self::ColourDeveloper, "colour_developer"),
        (Self::PreBleach, "pre_bleach"),
        (Self::StopBath, "stop_bath"),
        (Self::Bleach, "bleach"),
        (Self::Fixer, "fixer"),
        (Self::BleachFix, "bleach_fix"),
        (Self::WashAid, "wash_aid"),
        (Self::Wash, "wash"),
        (Self::Rinse, "rinse"),
        (Self::Stabiliser, "stabiliser"),
        (Self::WettingAgent, "wetting_agent"),
    ];
}

impl Named for Format {
    const FIELD: &'static str = "format";
    const NAMES: &'static [(Self, &'static str)] = &[
        (Self::Film135x12, "135-12"),
        (Self::Film135x24, "135-24"),
        (Self::Film135x36, "135-36"),
        (Self::Film120, "120"),
        (Self::Film220, "220"),
        (Self::Film127, "127"),
    ];
}

impl Named for Direction {
    const FIELD: &'static str = "direction";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::Exact, "exact"), (Self::Minimum, "minimum"), (Self::MinimumSoft, "minimum_soft")];
}

impl Named for Light {
    const FIELD: &'static str = "light";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::LidStaysOn, "lid_stays_on"), (Self::LidMayComeOff, "lid_may_come_off")];
}

impl Named for Choice {
    const FIELD: &'static str = "choice";
    const NAMES: &'static [(Self, &'static str)] = &[
        (Self::Always, "always"),
        (Self::OptionalOn, "on"),
        (Self::OptionalOff, "off"),
        (Self::Asked, "asked"),
    ];
}

impl Named for Method {
    const FIELD: &'static str = "method";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::Inversion, "inversion"), (Self::Spindle, "spindle"), (Self::Rotary, "rotary")];
}

impl Named for Drain {
    const FIELD: &'static str = "drain";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::Inside, "inside"), (Self::Outside, "outside")];
}

impl Named for Convention {
    const FIELD: &'static str = "clock_starts";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::AsYouBegin, "as_you_begin"), (Self::WhenComplete, "when_complete")];
}

impl Named for Words {
    const FIELD: &'static str = "words";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::All, "words"), (Self::Few, "few"), (Self::Tones, "tones")];
}

impl Named for Side {
    const FIELD: &'static str = "keys";
    const NAMES: &'static [(Self, &'static str)] = &[(Self::Right, "right"), (Self::Left, "left")];
}

impl Named for Scale {
    const FIELD: &'static str = "scale";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::Celsius, "celsius"), (Self::Fahrenheit, "fahrenheit")];
}

impl Named for Volumes {
    const FIELD: &'static str = "volumes";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::Millilitres, "millilitres"), (Self::FluidOunces, "us_fluid_ounces")];
}

impl Named for Pace {
    const FIELD: &'static str = "pace";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::Slow, "slow"), (Self::Normal, "normal"), (Self::Quick, "quick")];
}

impl Named for Ground {
    const FIELD: &'static str = "ground";
    const NAMES: &'static [(Self, &'static str)] = &[(Self::Bright, "bright"), (Self::Dim, "dim")];
}

impl Named for With {
    const FIELD: &'static str = "with";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::With, "with"), (Self::Without, "without")];
}

impl Named for Look {
    const FIELD: &'static str = "look";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::Clear, "clear"), (Self::Tinted, "tinted")];
}

impl Named for Absence {
    const FIELD: &'static str = "why";
    const NAMES: &'static [(Self, &'static str)] =
        &[(Self::Hidden, "hidden"), (Self::Reloaded, "reloaded")];
}

impl Named for Fault {
    const FIELD: &'static str = "fault";
    const NAMES: &'static [(Self, &'static str)] = &[
        (Self::Light, "light_got_in"),
        (Self::MissedAgitation, "missed_agitation"),
        (Self::Spilled, "spilled"),
        (Self::WrongBath, "wrong_bath"),
        (Self::LeaveNow, "leave_now"),
        (Self::SomethingElse, "something_else"),
        (Self::QuarterLeft, "spilled_a_quarter_left"),
        (Self::HalfLeft, "spilled_half_left"),
        (Self::MostLeft, "spilled_three_quarters_left"),
        (Self::BleachFixFirst, "bleach_fix_first"),
        (Self::BleachFixInDeveloper, "bleach_fix_in_developer_bottle"),
        (Self::DeveloperInBleachFix, "developer_in_bleach_fix_bottle"),
    ];
}
