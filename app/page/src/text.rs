//! Every word that is read on the screen. What is spoken by the clock is in `session::spoken`.

pub mod cautions;
pub mod lay_out;
pub mod photos;
pub mod practice;
pub mod shelf;
pub mod tempering;
mod warmth;

use process_model::film::Format;
use process_model::quantity::Celsius;
use process_model::sheet::{Bath, Direction, Light};
use session::Run;
use session::entry::{Fault, Place};
use session::notebook::Named;
use session::plan::PlannedStep;
use session::spoken;
use session::view::{Scene, StateWord, View};

pub use warmth::{
    counted, decimal, degrees, difference, in_days, nearest_degree, number, off, range, scale,
    set_units, sheet_name, short_degrees, unit, volume,
};

use crate::browser::events::time_of_day;
use crate::ports::{Lit, Sound, Speech, StoreError};

/// The name of a bath, as a heading.
pub fn bath(bath: Bath) -> &'static str {
    spoken::name(bath)
}

/// A format of film, as its box names it.
pub fn format(format: Format) -> &'static str {
    format.file_name()
}

/// A state word.
pub fn state(word: StateWord) -> &'static str {
    match word {
        StateWord::Rest => "REST",
        StateWord::Agitate => "AGITATE",
        StateWord::Pour => "POUR",
        StateWord::Over => "OVER",
        StateWord::Wait => "WAIT",
    }
}

/// Minutes and seconds that are left: a begun second counts as a whole one.
pub fn left(ms: i64) -> String {
    minutes_seconds(ms.max(0).saturating_add(999) / 1_000)
}

/// Minutes and seconds that have passed.
pub fn passed(ms: i64) -> String {
    minutes_seconds(ms.max(0) / 1_000)
}

/// Minutes and seconds, to the nearest second.
pub fn nearest(ms: i64) -> String {
    minutes_seconds(ms.max(0).saturating_add(500) / 1_000)
}

/// By how much a step was over or under, with its sign. Nothing within a second.
pub fn off_by(ms: i64) -> String {
    match ms {
        1_000.. => format!("+{}", nearest(ms)),
        ..=-1_000 => format!("−{}", nearest(-ms)),
        _ => String::new(),
    }
}

/// What an optional step is good for.
///
/// The stop bath's figures: estimate with 15 mL carry-over a roll, developer in the bleach-fix
/// after 8 rolls, and a 300 mL rinse.
pub fn what_it_buys(bath: Bath) -> &'static str {
    match bath {
        Bath::PreSoak => "warms tank, reel and film",
        Bath::StopBath => {
            "developer in the bleach-fix after 8 rolls: 1 %, not 21 % (estimate, 300 mL)"
        }
        Bath::Rinse => "distilled water, where tap water is hard",
        Bath::Developer
        | Bath::Bleach
        | Bath::Fixer
        | Bath::BleachFix
        | Bath::Wash
        | Bath::FirstDeveloper
        | Bath::ReversalBath
        | Bath::ColourDeveloper
        | Bath::PreBleach
        | Bath::WettingAgent
        | Bath::Stabiliser => "",
        Bath::WashAid => "shortens the wash after fixer",
    }
}

fn minutes_seconds(seconds: i64) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

/// A time of day with seconds.
pub fn clock_time(at: session::timestamp::Timestamp) -> String {
    let (hours, minutes, seconds) = time_of_day(at.milliseconds());
    format!("{hours}:{minutes:02}:{seconds:02}")
}

/// A time of day without seconds.
pub fn hour_minute(at: session::timestamp::Timestamp) -> String {
    let (hours, minutes, _) = time_of_day(at.milliseconds());
    format!("{hours}:{minutes:02}")
}

/// A long time: hours and minutes.
pub fn hours(ms: i64) -> String {
    let minutes = ms.max(0) / 60_000;
    format!("{} h {} min", minutes / 60, minutes % 60)
}

/// Where a temperature is read.
pub fn place(place: Place) -> &'static str {
    match place {
        Place::Tub => "Tub",
        Place::InTheTank => "In the tank",
        Place::Bottle(of) => bath(of),
    }
}

/// What the end control says.
pub fn is_out(of: Bath) -> String {
    format!("{} IS OUT", bath(of).to_ascii_uppercase())
}

/// What comes after a step.
pub fn next(next: Option<&PlannedStep>) -> String {
    match next {
        Some(step) => format!("next: {}", spoken::lower(step.bath)),
        None => "next: hang the film".to_owned(),
    }
}

/// Whether the lid stays on.
pub fn lid(light: Light) -> &'static str {
    match light {
        Light::LidStaysOn => "Lid stays on",
        Light::LidMayComeOff => "Lid may come off",
    }
}

/// Where pouring goes.
pub fn pour_way(bath: Bath) -> &'static str {
    if bath == Bath::PreSoak { "out" } else { "back" }
}

/// When a step ends, in words and by any clock.
pub fn ends_at(step: &PlannedStep, view: &View) -> String {
    match (view.pour_back_at, view.out_at) {
        (Some(back), _) => format!("Pour {} at {}", pour_way(step.bath), clock_time(back)),
        (None, Some(out)) => format!("Out at {}", clock_time(out)),
        (None, None) => String::new(),
    }
}

/// Where a run is, in one sentence, after the page was away.
pub fn catch_up(run: &Run, view: &View) -> String {
    let step = view.step.and_then(|step| run.plan.steps.get(step));
    let name = step.map_or("", |step| bath(step.bath));
    let words = |ms: i64| spoken::minutes_and_seconds(ms.max(0).saturating_add(999) / 1_000);
    let past = |ms: i64| spoken::minutes_and_seconds(ms.max(0) / 1_000);
    match &view.scene {
        Scene::Ready => String::new(),
        Scene::LeadIn { left } => format!("{name} next. Tone in {}.", words(*left)),
        Scene::PourIn { left, .. } => format!("{name}. {} left.", capital(&words(*left))),
        Scene::Agitate { left, .. } => {
            format!("{name}. {} left. Agitate now.", capital(&words(*left)))
        }
        Scene::Rest { agitate_in: Some(agitate), left, .. } => {
            format!("{name}. {} left. Agitate in {}.", capital(&words(*left)), words(*agitate))
        }
        Scene::Rest { left, .. } => format!("{name}. {} left.", capital(&words(*left))),
        Scene::PourBack { .. } => {
            format!(
                "{name}. {}",
                spoken::Say::PourNow(step.map_or(Bath::Developer, |step| step.bath)).text()
            )
        }
        Scene::Over { by } => format!("{name} over by {}. Pour back.", past(*by)),
        Scene::Waiting { by } => format!("{name} still in, {} past its end.", past(*by)),
        Scene::Washing(wash) => format!("{name}. Fill {}.", spoken::number(clamped(wash.fill))),
        Scene::Asking { .. } => spoken::Say::StabiliserOrSkip.text(),
        Scene::Done { .. } => spoken::Say::HangIt.text(),
        Scene::Left { .. } => "The run was stopped.".to_owned(),
    }
}

fn clamped(number: i64) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

/// A number in words, at the head of a sentence.
pub fn number_first(number: i64) -> String {
    capital(&spoken::number(clamped(number)))
}

fn capital(text: &str) -> String {
    let mut text = text.to_owned();
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    text
}

/// What a reading is answered with, aloud and on the screen.
pub fn read_back(of: Place, celsius: Celsius, before: Option<Celsius>) -> String {
    let trend = before.map_or("", |before| {
        let change = celsius.get() - before.get();
        match change {
            _ if change >= 0.2 => ", rising",
            _ if change <= -0.2 => ", falling",
            _ => ", steady",
        }
    });
    format!("{} {}{trend}.", place(of), spoken::degrees(celsius, scale()))
}

/// A doubtful reading, asked back.
pub fn doubt(of: Place, celsius: Celsius, expected: Option<(Celsius, Celsius)>) -> String {
    let near = expected.map_or_else(String::new, |(least, most)| {
        format!(" Expected near {}.", range(least, most))
    });
    format!("{} {}?{near}", place(of), degrees(celsius))
}

/// A reading in the tank outside the developer's hard limits.
pub fn beyond_limits(celsius: Celsius) -> String {
    format!("Developer {}. Outside the limits.", spoken::degrees(celsius, scale()))
}

/// A fault, on its key.
pub fn fault(fault: Fault) -> &'static str {
    match fault {
        Fault::Light => "Light got in",
        Fault::MissedAgitation => "Missed one",
        Fault::Spilled => "Spilled",
        Fault::WrongBath => "Wrong bath",
        Fault::LeaveNow => "Leave now",
        Fault::SomethingElse => "Something else",
        Fault::QuarterLeft => "¼ left",
        Fault::HalfLeft => "½ left",
        Fault::MostLeft => "¾ left",
        Fault::BleachFixFirst => "Bleach-fix first",
        Fault::BleachFixInDeveloper => "Bleach-fix in developer bottle",
        Fault::DeveloperInBleachFix => "Developer in bleach-fix bottle",
    }
}

/// What to do about a fault in a step; `covers` says whether what is left after a spill covers the
/// reels, where that is known.
pub fn answer(fault: Fault, step: Option<&PlannedStep>, covers: Option<bool>) -> String {
    let direction = step.map(|step| step.direction);
    match fault {
        Fault::Light => "Close it. Carry on; mark the roll.".to_owned(),
        Fault::MissedAgitation => "Agitate once now, then the normal rhythm.".to_owned(),
        Fault::Spilled => "Gloves stay on. How much is left in the tank?".to_owned(),
        Fault::WrongBath => "Lid stays on. Which?".to_owned(),
        // Common practice, no source.
        Fault::QuarterLeft | Fault::HalfLeft | Fault::MostLeft => match covers {
            Some(true) => "Covers the reels. Carry on.".to_owned(),
            Some(false) => {
                "Does not cover the reels. Turn the spindle or invert without stopping.".to_owned()
            }
            None => "If it may not cover the reels, invert without stopping.".to_owned(),
        },
        Fault::BleachFixFirst => {
            "The image cannot be recovered. Lid stays on. You can stop: FAULT, Leave now."
                .to_owned()
        }
        Fault::BleachFixInDeveloper => {
            "Do not use that developer again. Mark the bottle; mix anew.".to_owned()
        }
        Fault::DeveloperInBleachFix => "It is still usable. Noted. Carry on.".to_owned(),
        Fault::LeaveNow if direction == Some(Direction::Exact) => {
            "Pour the developer back, fill with water, lid stays on.".to_owned()
        }
        Fault::LeaveNow => {
            format!(
                "{} can wait. {}.",
                step.map_or("It", |step| bath(step.bath)),
                match step {
                    Some(step) => lid(step.light),
                    None => "Lid stays on",
                }
            )
        }
        Fault::SomethingElse => "Noted with its time. Carry on.".to_owned(),
    }
}

/// What the page has to tell of itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// The words.
    pub text: String,
    /// Whether they go before anything else.
    pub is_grave: bool,
}

/// What the page has to tell of itself, the gravest first.
pub fn notice(
    not_kept: Option<StoreError>,
    sound: Sound,
    speech: Speech,
    lit: Lit,
    away_ms: Option<i64>,
) -> Option<Notice> {
    let notice = |text: &str, is_grave| Some(Notice { text: text.to_owned(), is_grave });
    if let Some(error) = not_kept {
        return notice(store_error(error), true);
    }
    match sound {
        Sound::Missing => return notice("No sound", true),
        Sound::Held | Sound::Asleep => return notice("Touch anywhere for sound", true),
        Sound::On => {}
    }
    if let Some(ms) = away_ms {
        return notice(&format!("Away {}", away(ms)), false);
    }
    match (speech, lit) {
        (_, Lit::Refused) => notice("Screen may turn off", false),
        (Speech::Missing | Speech::Unheard, _) => notice("No voice; tones only", false),
        (Speech::Usual, Lit::Kept | Lit::Unasked) => None,
    }
}

/// Why the notebook does not keep.
pub fn store_error(error: StoreError) -> &'static str {
    match error {
        StoreError::Refused => "Not kept: no storage",
        StoreError::Full => "Not kept: storage full",
        StoreError::Slow => "Not kept: no answer",
        StoreError::Blocked => "Close the other window",
        StoreError::Broken => "Not kept: storage broken",
    }
}

/// A length of time for people: minutes and seconds.
pub fn away(ms: i64) -> String {
    let seconds = ms / 1_000;
    match (seconds / 3_600, seconds / 60 % 60, seconds % 60) {
        (0, 0, seconds) => format!("{seconds} s"),
        (0, minutes, seconds) => format!("{minutes} min {seconds} s"),
        (hours, minutes, _) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_begun_second_is_still_left() {
        assert_eq!(left(210_000), "3:30");
        assert_eq!(left(209_999), "3:30");
        assert_eq!(left(209_000), "3:29");
        assert_eq!(left(-5), "0:00");
        assert_eq!(passed(61_999), "1:01");
    }

    #[test]
    fn temperatures_have_one_decimal() {
        assert_eq!(degrees(Celsius::new(38.94)), "38.9");
        assert_eq!(degrees(Celsius::new(-0.26)), "−0.3");
        assert_eq!(short_degrees(Celsius::new(40.0)), "40");
        assert_eq!(range(Celsius::new(24.0), Celsius::new(40.6)), "24–40.6");
    }

    #[test]
    fn the_gravest_notice_comes_first() {
        let notice = |kept, sound| notice(kept, sound, Speech::Missing, Lit::Refused, Some(70_000));
        assert_eq!(
            notice(Some(StoreError::Full), Sound::Missing).unwrap().text,
            "Not kept: storage full"
        );
        assert_eq!(notice(None, Sound::Missing).unwrap().text, "No sound");
        assert_eq!(notice(None, Sound::On).unwrap().text, "Away 1 min 10 s");
    }

    #[test]
    fn no_answer_tells_anyone_to_open_the_tank() {
        let which = Fault::ALL.iter().flat_map(|fault| fault.which()).copied();
        for fault in Fault::ALL.into_iter().chain(which) {
            let said = answer(fault, None, None);
            assert!(said.split_whitespace().count() <= 20, "{said}");
            assert!(!said.to_ascii_lowercase().contains("open"), "{said}");
        }
    }
}
