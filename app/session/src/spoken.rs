//! Sentences that are spoken, and how long they take.
//!
//! They are kept here and not with the other words of the page because a prompt may be said only
//! if it ends before the next tone: its length is part of the timing.

use process_model::quantity::Celsius;
use process_model::sheet::Bath;

use crate::habits::{Scale, Words};
use crate::timestamp::Timestamp;

/// A prompt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Say {
    /// Before the first pour of a run.
    PourOnTheTone,
    /// The same, in practice with water.
    Practice,
    /// Before every other pour: which bath.
    NextPour(Bath),
    /// When the clock will say that a step ends.
    Until(Bath, TimeOfDay),
    /// Before the first spell.
    LidOn,
    /// After the first spell.
    RestNow,
    /// After the first spell of a bleach-fix.
    Vent,
    /// Before a spell.
    AgitateInFive,
    /// Before the last spell.
    LastAgitation,
    /// A minute before the end, or less if `under`.
    OneMinute {
        /// What comes next.
        next: Bath,
        /// Said late, so without the number.
        under: bool,
    },
    /// Half a minute before the end, or less if `under`.
    FunnelRinsed {
        /// Said late, so without the number.
        under: bool,
    },
    /// Half a minute before the pre-soak ends: what the developer should read.
    UncapDeveloper(Celsius, Scale),
    /// Before pouring back or out.
    GetReady(Bath),
    /// Pouring back or out begins.
    PourNow(Bath),
    /// Before the end of a rinse.
    TenSeconds,
    /// While there is nothing else to do.
    RinseFunnel,
    /// While there is nothing else to do.
    CheckTheTub,
    /// The bath should be out.
    StillIn(Bath),
    /// A fill of the wash is over.
    ChangeTheWater,
    /// The wash has lasted as long as the sheet asks.
    MinimumReached,
    /// With or without.
    StabiliserOrSkip,
    /// The last bath is out.
    HangIt,
}

/// A time of day, to the second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimeOfDay {
    seconds: u32,
}

impl TimeOfDay {
    /// The local time of day at `at`, where it is `utc_offset_min` ahead of UTC.
    pub fn at(at: Timestamp, utc_offset_min: i32) -> Self {
        let local = at.plus_ms(i64::from(utc_offset_min) * 60_000).milliseconds();
        let seconds = local.div_euclid(1_000).rem_euclid(86_400);
        Self { seconds: u32::try_from(seconds).unwrap_or(0) }
    }

    /// Hours 0–23, minutes, seconds.
    pub fn parts(self) -> (u32, u32, u32) {
        (self.seconds / 3600, self.seconds / 60 % 60, self.seconds % 60)
    }

    fn words(self) -> String {
        let (hours, minutes, seconds) = self.parts();
        let hour = number(if hours % 12 == 0 { 12 } else { hours % 12 });
        let minute = match minutes {
            0 => "o'clock".to_owned(),
            1..=9 => format!("oh {}", number(minutes)),
            _ => number(minutes),
        };
        if seconds == 0 {
            format!("{hour} {minute}")
        } else {
            format!("{hour} {minute} and {}", number(seconds))
        }
    }
}

impl Say {
    /// The sentence.
    pub fn text(self) -> String {
        match self {
            Self::PourOnTheTone => "Pour on the tone.".into(),
            Self::Practice => "Practice with water. Pour on the tone.".into(),
            Self::NextPour(bath) => format!("{} next. Pour on the tone.", name(bath)),
            Self::Until(bath, time) => format!("{} until {}.", name(bath), time.words()),
            Self::LidOn => "Lid on. Agitate next.".into(),
            Self::RestNow => "Rest now. Tap the tank.".into(),
            Self::Vent => "Vent the tank, away from face.".into(),
            Self::AgitateInFive => "Agitate in five.".into(),
            Self::LastAgitation => "Last agitation in five.".into(),
            Self::OneMinute { next, under } => {
                let when = if under { "Under a minute." } else { "One minute." };
                if next.is_water() {
                    format!("{when} Wash water ready?")
                } else {
                    format!("{when} Open the {}.", lower(next))
                }
            }
            Self::FunnelRinsed { under: false } => "Thirty seconds. Funnel rinsed?".into(),
            Self::FunnelRinsed { under: true } => "Funnel rinsed?".into(),
            Self::UncapDeveloper(pour, scale) => {
                format!("Uncap developer. Should read {}.", degrees(pour, scale))
            }
            Self::GetReady(Bath::PreSoak) => "Get ready to pour out.".into(),
            Self::GetReady(_) => "Get ready to pour back.".into(),
            Self::PourNow(Bath::PreSoak) => "Pour the water out. Colour is normal.".into(),
            Self::PourNow(_) => "Pour back now.".into(),
            Self::TenSeconds => "Ten seconds.".into(),
            Self::RinseFunnel => "Rinse funnel and thermometer.".into(),
            Self::CheckTheTub => "Check the tub.".into(),
            Self::StillIn(bath) => format!("{} still in. Pour back.", name(bath)),
            Self::ChangeTheWater => "Change the water. Look at it.".into(),
            Self::MinimumReached => "Sheet minimum reached.".into(),
            Self::StabiliserOrSkip => "Stabiliser or skip?".into(),
            Self::HangIt => "Gently. Then hang it.".into(),
        }
    }

    /// How long it takes to say.
    pub fn milliseconds(self) -> i64 {
        milliseconds(&self.text())
    }

    /// Whether it is said at this level.
    pub fn is_said_at(self, words: Words) -> bool {
        match words {
            Words::All => true,
            Words::Few => matches!(
                self,
                Self::PourOnTheTone
                    | Self::Practice
                    | Self::NextPour(_)
                    | Self::GetReady(_)
                    | Self::PourNow(_)
                    | Self::Vent
                    | Self::StillIn(_)
            ),
            Words::Tones => matches!(self, Self::StillIn(_)),
        }
    }
}

/// How long a sentence takes to say: 2.67 words a second and half a second to begin; a hyphen
/// separates words.
pub fn milliseconds(text: &str) -> i64 {
    let words = text.split([' ', '-']).filter(|word| !word.is_empty()).count();
    i64::try_from(words).unwrap_or(0) * 100_000 / 267 + 500
}

/// The name of a bath at the head of a sentence.
pub fn name(bath: Bath) -> &'static str {
    match bath {
        Bath::PreSoak => "Pre-soak",
        Bath::Developer => "Developer",
        Bath::FirstDeveloper => "First developer",
        Bath::ReversalBath => "Reversal bath",
        Bath::ColourDeveloper => "Colour developer",
        Bath::PreBleach => "Pre-bleach",
        Bath::StopBath => "Stop bath",
        Bath::Bleach => "Bleach",
        Bath::Fixer => "Fixer",
        Bath::BleachFix => "Bleach-fix",
        Bath::WashAid => "Wash aid",
        Bath::Wash => "Wash",
        Bath::Rinse => "Rinse",
        Bath::Stabiliser => "Stabiliser",
        Bath::WettingAgent => "Wetting agent",
    }
}

/// The name of a bath inside a sentence.
pub fn lower(bath: Bath) -> String {
    name(bath).to_ascii_lowercase()
}

/// A number below two hundred in words; a larger one in digits.
pub fn number(number: u32) -> String {
    const SMALL: [&str; 20] = [
        "zero",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
    ];
    const TENS: [&str; 10] =
        ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
    match number {
        0..=19 => SMALL[number as usize].to_owned(),
        20..=99 if number.is_multiple_of(10) => TENS[number as usize / 10].to_owned(),
        20..=99 => {
            format!("{}-{}", TENS[number as usize / 10], SMALL[number as usize % 10])
        }
        100 => "one hundred".to_owned(),
        101..=199 => format!("one hundred {}", self::number(number - 100)),
        _ => number.to_string(),
    }
}

/// A temperature in words: Celsius to the tenth, a whole degree without a tenth; Fahrenheit to the
/// degree.
pub fn degrees(celsius: Celsius, scale: Scale) -> String {
    let tenths = match scale {
        Scale::Celsius => celsius.get() * 10.0,
        Scale::Fahrenheit => celsius.fahrenheit().round() * 10.0,
    };
    #[expect(clippy::cast_possible_truncation, reason = "a temperature of a kitchen fits")]
    let tenths = tenths.round() as i64;
    let below = if tenths < 0 { "minus " } else { "" };
    let tenths = u32::try_from(tenths.unsigned_abs()).unwrap_or(u32::MAX);
    let whole = number(tenths / 10);
    match tenths % 10 {
        0 => format!("{below}{whole}"),
        tenth => format!("{below}{whole} point {}", number(tenth)),
    }
}

/// A length of time in words, as it is said on return: "two ten", "forty", "two".
pub fn minutes_and_seconds(seconds: i64) -> String {
    let seconds = u32::try_from(seconds.max(0)).unwrap_or(u32::MAX);
    match (seconds / 60, seconds % 60) {
        (0, seconds) => number(seconds),
        (1, 0) => "one minute".to_owned(),
        (minutes, 0) => format!("{} minutes", number(minutes)),
        (minutes, seconds @ 1..=9) => format!("{} oh {}", number(minutes), number(seconds)),
        (minutes, seconds) => format!("{} {}", number(minutes), number(seconds)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_takes_as_long_as_its_words() {
        assert_eq!(milliseconds("Bleach-fix next. Pour on the tone."), 7 * 100_000 / 267 + 500);
        assert_eq!(Say::PourOnTheTone.milliseconds(), 1_998);
    }

    #[test]
    fn temperatures_are_said_in_words() {
        assert_eq!(degrees(Celsius::new(36.5), Scale::Celsius), "thirty-six point five");
        assert_eq!(degrees(Celsius::new(40.0), Scale::Celsius), "forty");
        assert_eq!(degrees(Celsius::new(-0.5), Scale::Celsius), "minus zero point five");
        assert_eq!(degrees(Celsius::new(40.0), Scale::Fahrenheit), "one hundred four");
        assert_eq!(degrees(Celsius::new(23.9), Scale::Fahrenheit), "seventy-five");
    }

    #[test]
    fn times_are_said_in_words() {
        let at = |hours: i64, minutes: i64, seconds: i64| {
            let ms = ((hours * 60 + minutes) * 60 + seconds) * 1_000;
            TimeOfDay::at(Timestamp::from_milliseconds(ms), 0).words()
        };
        assert_eq!(at(14, 37, 20), "two thirty-seven and twenty");
        assert_eq!(at(0, 5, 0), "twelve oh five");
        assert_eq!(at(9, 0, 1), "nine o'clock and one");
        assert_eq!(minutes_and_seconds(130), "two ten");
        assert_eq!(minutes_and_seconds(125), "two oh five");
        assert_eq!(minutes_and_seconds(60), "one minute");
    }

    #[test]
    fn no_prompt_is_longer_than_three_seconds_and_a_half() {
        for say in [
            Say::NextPour(Bath::BleachFix),
            Say::OneMinute { next: Bath::BleachFix, under: true },
            Say::PourNow(Bath::PreSoak),
            Say::UncapDeveloper(Celsius::new(38.9), Scale::Celsius),
            Say::UncapDeveloper(Celsius::new(38.9), Scale::Fahrenheit),
        ] {
            assert!(say.milliseconds() <= 3_500, "{}", say.text());
        }
    }
}
