//! Process sheets: the ordered steps of a process, as printed or as practised.
//!
//! Plain data. A person's own sheet overrides every number here.

mod black_and_white;
mod multi_bath;
mod rotary;
mod slide;
mod two_bath;
mod two_bath_others;

use std::borrow::Cow;

use crate::agitation::Agitation;
use crate::quantity::{Celsius, Kelvins, Seconds};
use crate::source::{Confidence, Source};

/// What is in the tank during a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Bath {
    /// Plain warm water before the developer.
    PreSoak,
    /// The developer of a negative. The only bath that nothing can repair.
    Developer,
    /// The developer of a slide that makes its black-and-white negative image.
    FirstDeveloper,
    /// Makes a slide's remaining silver developable.
    ReversalBath,
    /// The developer of a slide that makes its dyes.
    ColourDeveloper,
    /// Readies a slide for the bleach.
    PreBleach,
    /// A stop bath, or a plain rinse that stands in for one.
    StopBath,
    /// Bleach.
    Bleach,
    /// Fixer.
    Fixer,
    /// Bleach and fixer in one.
    BleachFix,
    /// Helps the wash to take fixer out.
    WashAid,
    /// Washing in water.
    Wash,
    /// A rinse in distilled or deionised water.
    Rinse,
    /// Stabiliser, also called final rinse.
    Stabiliser,
    /// Wetting agent in distilled water.
    WettingAgent,
}

impl Bath {
    /// Whether the bath is plain water and not a solution from a bottle.
    pub const fn is_water(self) -> bool {
        matches!(self, Self::PreSoak | Self::Wash | Self::Rinse)
    }

    /// Whether it makes the image, or half of it.
    pub const fn is_developer(self) -> bool {
        matches!(self, Self::Developer | Self::FirstDeveloper | Self::ColourDeveloper)
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
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The step's name in files: lower-case words joined by underscores.
    pub id: Cow<'static, str>,
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

/// The longest step that can be planned: a day.
const LONGEST: Seconds = Seconds::whole(86_400);

impl Step {
    /// What is wrong with the values, each as a sentence. Empty if nothing is.
    pub fn faults(&self) -> Vec<&'static str> {
        let Time { nominal, least, most } = self.time;
        let zero = Seconds::whole(0);
        let (first, repeat, interval) = self.agitation.numbers();
        let aim = self.band.aim.unwrap_or(self.band.least);
        let rules = [
            (nominal <= zero, "The time must be more than zero."),
            (nominal > LONGEST, "The time must be less than a day."),
            (least < zero || most < zero, "A time must not be less than zero."),
            (least > nominal || most < nominal, "The time must lie between shortest and longest."),
            (self.band.least > self.band.most, "The coolest must not be warmer than the warmest."),
            (!self.band.holds(aim), "The aim must lie between coolest and warmest."),
            (
                self.band.least < WATER_FREEZES || self.band.most > WATER_SCALDS,
                "Temperatures of a bath lie between 0 and 60 °C.",
            ),
            (
                interval > zero && (interval < SHORTEST_INTERVAL || repeat > interval),
                "Agitation must be shorter than its interval, which is at least 5 s.",
            ),
            (first > nominal, "The first agitation must be shorter than the step."),
        ];
        rules.into_iter().filter(|(so, _)| *so).map(|(_, says)| says).collect()
    }
}

/// No bath is colder.
const WATER_FREEZES: Celsius = Celsius::new(0.0);
/// No bath of a hand process is hotter, and a hand in it is burnt within seconds.
const WATER_SCALDS: Celsius = Celsius::new(60.0);
/// A shorter one leaves no time to put the tank down; our choice.
const SHORTEST_INTERVAL: Seconds = Seconds::whole(5);

/// The warmest tub that needs no word: 110 °F. Common practice, no source.
pub const TUB_MOST: Celsius = Celsius::new(43.3);

/// A time in whole seconds.
const fn time(nominal: u32, least: u32, most: u32) -> Time {
    Time {
        nominal: Seconds::whole(nominal),
        least: Seconds::whole(least),
        most: Seconds::whole(most),
    }
}

/// A band in degrees Celsius.
const fn band(aim: Option<f64>, least: f64, most: f64) -> Band {
    let aim = match aim {
        Some(aim) => Some(Celsius::new(aim)),
        None => None,
    };
    Band { aim, least: Celsius::new(least), most: Celsius::new(most) }
}

/// Repeated agitation in whole seconds.
const fn spells(first: u32, repeat: u32, interval: u32) -> Agitation {
    Agitation::Repeated {
        first: Seconds::whole(first),
        repeat: Seconds::whole(repeat),
        interval: Seconds::whole(interval),
    }
}

/// A process sheet, shipped or a person's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// What files call it: a key of a shipped sheet, or the id of a person's own.
    pub key: Cow<'static, str>,
    /// What people call it.
    pub name: Cow<'static, str>,
    /// Its ordered steps; drying is not one of them.
    pub steps: Cow<'static, [Step]>,
    /// How long a film usually hangs to dry.
    pub drying: Seconds,
    /// Times of the developer at other temperatures, from one data set.
    pub pairs: Cow<'static, [(Celsius, Seconds)]>,
    /// Whether it can be started although nobody has compared it with a leaflet.
    pub is_shipped_startable: bool,
}

/// The sheets that are shipped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SheetId {
    /// Two-bath colour negative at 38.9 °C (102 °F).
    TwoBath389,
    /// C-41 in separate baths, small tank.
    MultiBathC41,
    /// Two-bath colour negative at 37.8 °C (100 °F).
    TwoBath378,
    /// Two-bath colour negative at 30 °C.
    TwoBath300,
    /// Two-bath colour negative at 23.9 °C (75 °F).
    TwoBath239,
    /// Two-bath colour negative in a rotary tank.
    TwoBathRotary,
    /// E-6 in six baths.
    E6SixBath,
    /// E-6 in three baths.
    E6ThreeBath,
    /// Black-and-white negative.
    BlackAndWhite,
}

impl SheetId {
    /// Every shipped sheet. The first is the default; the first two can be started as they are.
    pub const ALL: [Self; 9] = [
        Self::TwoBath389,
        Self::MultiBathC41,
        Self::TwoBath378,
        Self::TwoBath300,
        Self::TwoBath239,
        Self::TwoBathRotary,
        Self::E6SixBath,
        Self::E6ThreeBath,
        Self::BlackAndWhite,
    ];

    /// The sheet itself.
    pub const fn sheet(self) -> Sheet {
        match self {
            Self::TwoBath389 => two_bath::AT_38_9,
            Self::MultiBathC41 => multi_bath::C41,
            Self::TwoBath378 => two_bath_others::AT_37_8,
            Self::TwoBath300 => two_bath_others::AT_30,
            Self::TwoBath239 => two_bath_others::AT_23_9,
            Self::TwoBathRotary => rotary::TWO_BATH,
            Self::E6SixBath => slide::SIX_BATH,
            Self::E6ThreeBath => slide::THREE_BATH,
            Self::BlackAndWhite => black_and_white::NEGATIVE,
        }
    }

    /// The sheet's name in files.
    pub fn key(self) -> String {
        self.sheet().key.into_owned()
    }

    /// The sheet that a file names.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|id| id.sheet().key == key)
    }
}

#[cfg(test)]
mod tests;
