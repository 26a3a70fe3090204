//! Process sheets: the ordered steps of a process, as printed or as practised.
//!
//! Plain data. A person's own sheet overrides every number here.

mod multi_bath;
mod two_bath;

use crate::agitation::Agitation;
use crate::quantity::{Celsius, Kelvins, Seconds};
use crate::source::{Confidence, Source};

/// What is in the tank during a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Bath {
    /// Plain warm water before the developer.
    PreSoak,
    /// Colour developer. The only bath that nothing can repair.
    Developer,
    /// A stop bath, or a plain rinse that stands in for one.
    StopBath,
    /// Bleach.
    Bleach,
    /// Fixer.
    Fixer,
    /// Bleach and fixer in one.
    BleachFix,
    /// Washing in water.
    Wash,
    /// A rinse in distilled or deionised water.
    Rinse,
    /// Stabiliser, also called final rinse.
    Stabiliser,
}

impl Bath {
    /// Whether the bath is plain water and not a solution from a bottle.
    pub const fn is_water(self) -> bool {
        matches!(self, Self::PreSoak | Self::Wash | Self::Rinse)
    }
}

/// Which way a step may miss its time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Direction {
    /// Early and late both matter.
    Exact,
    /// Longer is safe.
    Minimum,
    /// Longer is safe, and shorter does no harm to the image.
    MinimumSoft,
}

/// Whether the lid stays on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Light {
    /// The film is still sensitive.
    LidStaysOn,
    /// Room light does no harm any more.
    LidMayComeOff,
}

/// Whether a step is done at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Choice {
    /// Always done.
    Always,
    /// May be left out; done unless the person says otherwise.
    OptionalOn,
    /// May be put in; not done unless the person says so.
    OptionalOff,
    /// Asked when its turn comes: with or without.
    Asked,
}

/// How a step's temperatures are printed: the band in the tank and what to aim at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// What to aim at, where the sheet names it.
    pub aim: Option<Celsius>,
    /// The coolest that the sheet allows in the tank.
    pub least: Celsius,
    /// The warmest that the sheet allows in the tank.
    pub most: Celsius,
}

impl Band {
    /// Whether `reading` is in the band, its ends included.
    pub fn holds(self, reading: Celsius) -> bool {
        self.least <= reading && reading <= self.most
    }
}

/// How long a step lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Time {
    /// The planned time, drain included.
    pub nominal: Seconds,
    /// The shortest that the sheet allows.
    pub least: Seconds,
    /// The longest that the sheet allows.
    pub most: Seconds,
}

/// One step of a sheet.
///
/// Any combination is a step, so the fields are public.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The step's name in files: lower-case words joined by underscores.
    pub id: &'static str,
    /// What is in the tank.
    pub bath: Bath,
    /// Whether it is done at all.
    pub choice: Choice,
    /// How long.
    pub time: Time,
    /// How warm.
    pub band: Band,
    /// How the tank is moved.
    pub agitation: Agitation,
    /// Which way the time may be missed.
    pub direction: Direction,
    /// Whether the lid stays on.
    pub light: Light,
    /// Where the row's values were seen.
    pub sources: &'static [Source],
    /// How far they may be trusted.
    pub confidence: Confidence,
}

/// The temperatures of a developer step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DeveloperTemperatures {
    /// The average wanted on the film.
    pub aim: Celsius,
    /// Wanted in the bottle at the moment of pouring.
    pub pour: Celsius,
    /// The range in the bottle at pouring that needs no word: coolest and warmest.
    pub fine: (Celsius, Celsius),
    /// Beyond these a reading in the tank sounds the alarm: coolest and warmest.
    pub hard: (Celsius, Celsius),
}

/// Below this aim, pour-in does not cool the developer enough to matter.
const WARM_PROCESS: Celsius = Celsius::new(35.0);
/// How much warmer than the aim the developer is poured. Common practice, no source.
const POUR_ABOVE_AIM: Kelvins = Kelvins::new(1.1);
/// The warmest pour that needs no word. Common practice, no source.
const FINE_ABOVE_AIM: Kelvins = Kelvins::new(1.6);
/// How far from the aim a cool process may be poured.
const FINE_AROUND_AIM: Kelvins = Kelvins::new(0.5);
/// Our choice: about −25 % and +35 % of development at 80 kJ/mol.
const HARD_AROUND_AIM: Kelvins = Kelvins::new(3.0);

impl Step {
    /// Whether the rules for a developer hold: every step whose id contains "developer".
    pub fn is_developer(&self) -> bool {
        self.id.contains("developer")
    }

    /// The temperatures of this step if it is a developer whose sheet names an aim.
    ///
    /// # Source
    ///
    /// Pour and fine: common practice, no source. Hard limits: our choice, the wider of
    /// aim ± 3 °C and the sheet's band.
    pub fn developer_temperatures(&self) -> Option<DeveloperTemperatures> {
        let aim = self.band.aim.filter(|_| self.is_developer())?;
        let (pour, fine) = if aim >= WARM_PROCESS {
            (aim + POUR_ABOVE_AIM, (aim, aim + FINE_ABOVE_AIM))
        } else {
            (aim, (aim - FINE_AROUND_AIM, aim + FINE_AROUND_AIM))
        };
        let coolest = (aim - HARD_AROUND_AIM).get().min(self.band.least.get());
        let warmest = (aim + HARD_AROUND_AIM).get().max(self.band.most.get());
        let hard = (Celsius::new(coolest), Celsius::new(warmest));
        Some(DeveloperTemperatures { aim, pour, fine, hard })
    }
}

/// The warmest tub that needs no word: 110 °F. Common practice, no source.
pub const TUB_MOST: Celsius = Celsius::new(43.3);

/// The kind of process, and with it the name that people know.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SheetId {
    /// Two-bath colour negative at 38.9 °C (102 °F).
    TwoBath389,
    /// C-41 in separate baths, small tank.
    MultiBathC41,
}

/// A process sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Which sheet.
    pub id: SheetId,
    /// Its ordered steps; drying is not one of them.
    pub steps: &'static [Step],
    /// How long a film usually hangs to dry.
    pub drying: Seconds,
}

impl SheetId {
    /// The sheets that can be started as they are. The first is the default.
    pub const ALL: [Self; 2] = [Self::TwoBath389, Self::MultiBathC41];

    /// The sheet itself.
    pub const fn sheet(self) -> Sheet {
        match self {
            Self::TwoBath389 => two_bath::AT_38_9,
            Self::MultiBathC41 => multi_bath::C41,
        }
    }

    /// The sheet's name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::TwoBath389 => "two_bath_colour_negative_38_9",
            Self::MultiBathC41 => "c41_multi_bath",
        }
    }

    /// The sheet that a file names.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|id| id.key() == key)
    }
}

#[cfg(test)]
mod tests;
