//! How a solution stands, in words.

use process_model::sheet::Bath;
use session::notebook::solutions::Done;
use session::notebook::{Named, Record};
use session::shelf::{Standing, capacity};
use session::timestamp::Timestamp;

pub use super::volume as ml;
use super::{decimal, nearest, number};
use crate::browser::events::{date, days_between};

/// Said of everything that is thrown away. A leaflet on the discharge of photographic effluent, and
/// health departments' sheets.
pub const NOT_DOWN_THE_DRAIN: &str = "Not down the drain: a hazardous-waste day, or ask your sewer authority. Never into a septic tank. One labelled jug for each, never two together.";

/// For how many days such a working solution usually keeps in a full bottle; from memory. Said only
/// where its leaflet's own figure is not known.
fn usually_keeps_days(bath: Option<Bath>) -> f64 {
    match bath {
        Some(Bath::BleachFix) => 56.0,
        Some(bath) if bath.is_developer() => 42.0,
        Some(_) | None => 84.0,
    }
}

/// Whether a solution follows another and not water, by the sheets that are shipped.
fn is_spoilt_by_the_bath_before(bath: Option<Bath>) -> bool {
    matches!(bath, Some(Bath::StopBath | Bath::Bleach | Bath::Fixer | Bath::BleachFix))
}

/// How old a solution is.
pub fn age(standing: &Standing, now: Timestamp) -> String {
    match standing.mixed_at.map(|at| days_between(at, now)) {
        None => "not mixed yet".to_owned(),
        Some(0) => "mixed today".to_owned(),
        Some(days) => super::in_days(days),
    }
}

/// How many rolls went through, of how many by the leaflet.
pub fn rolls(solution: &Record, standing: &Standing) -> String {
    match capacity(solution, standing) {
        Some(most) => format!("{} of {} rolls", number(standing.rolls), decimal(most, 0)),
        None if (standing.rolls - 1.0).abs() < 1e-9 => "1 roll".to_owned(),
        None => format!("{} rolls", number(standing.rolls)),
    }
}

/// The next roll's time, if it is another than the sheet's.
pub fn next(next_ms: Option<i64>) -> String {
    next_ms.map_or_else(String::new, |ms| format!(", next roll {} (estimate)", nearest(ms)))
}

/// What was done with a solution.
pub fn done(done: Done) -> &'static str {
    match done {
        Done::Mixed => "mixed",
        Done::ToppedUp => "topped up",
        Done::LookedAt => "looked at",
        Done::Suspect => "suspect",
        Done::Blocked => "blocked",
        Done::Discarded => "discarded",
    }
}

/// That less is left than reels need, where it is so.
pub fn too_little(standing: &Standing, least_ml: f64) -> Option<String> {
    let is_little = standing.mixed_at.is_some() && !standing.covers(least_ml);
    let left = ml(standing.left_ml.round());
    is_little.then(|| format!("About {left} left, estimate; the reels need {}.", ml(least_ml)))
}

/// What tells whether an old solution is still good, by what it is used as (common practice, no
/// source).
fn how_to_tell(bath: Option<Bath>) -> &'static str {
    match bath {
        Some(Bath::Fixer | Bath::BleachFix) => "Look at it, or test a clip.",
        Some(bath) if bath.is_developer() => {
            "Look at it; a bit of leader in it, in the light, must go black."
        }
        Some(_) | None => "Look at it: cloudy, coloured or smelling, it is done.",
    }
}

/// What to beware of, the gravest first. `carried` is what comes into it with each roll, and whether
/// water lies between.
pub fn cautions(
    solution: &Record,
    standing: &Standing,
    now: Timestamp,
    least_ml: f64,
    carried: Option<(Bath, bool)>,
) -> Vec<String> {
    let mut all = Vec::new();
    if let Some(why) = &standing.blocked {
        let why = if why.is_empty() { "" } else { ": " }.to_owned() + why;
        all.push(format!("Blocked{why}. Do not use it for another roll."));
    }
    if let Some((since, why)) = &standing.suspect {
        let why = if why.is_empty() { "" } else { ", " }.to_owned() + why;
        all.push(format!("Suspect since {}{why}. You decide.", date(since.milliseconds())));
    }
    let is_old = |days: f64| {
        #[expect(clippy::cast_precision_loss, reason = "days")]
        standing.mixed_at.is_some_and(|at| days_between(at, now) as f64 > days)
    };
    let by_leaflet = solution.number("shelf_days");
    let bath = Bath::from_file_name(solution.text("bath"));
    let days = by_leaflet.unwrap_or_else(|| usually_keeps_days(bath));
    if is_old(days) {
        let whose = if by_leaflet.is_some() { "its leaflet gives" } else { "usual for it" };
        all.push(format!(
            "Older than the {} days {whose}. {}",
            decimal(days, 0),
            how_to_tell(bath)
        ));
    }
    // Half a roll less is no roll less.
    if capacity(solution, standing).is_some_and(|most| standing.worn_rolls + 0.5 > most) {
        all.push("It has done all the rolls its leaflet gives.".to_owned());
    }
    all.extend(too_little(standing, least_ml));
    if let Some((before, is_rinsed)) = carried.filter(|_| is_spoilt_by_the_bath_before(bath)) {
        let share = standing.of_the_bath_before(is_rinsed);
        if share >= 0.05 {
            all.push(format!(
                "About {} % of it is {} by now, carried in by film; {} % had there been a rinse between: estimate, {} a roll.",
                decimal(share * 100.0, 0),
                super::bath(before).to_ascii_lowercase(),
                decimal(standing.of_the_bath_before(true) * 100.0, 0),
                ml(standing.lost_ml / standing.rolls.max(1.0))
            ));
        }
    }
    if standing.clears_s.is_some_and(|(first, last)| last >= 2.0 * first) {
        all.push("A clip takes twice as long to clear as at first: replace it.".to_owned());
    }
    all
}
