//! Words of Tempering: how a bottle is doing, and what to do next.

use process_model::estimate::Arrival;
use process_model::quantity::{Celsius, Kelvins};
use session::entry::Place;
use session::evening::Evening;
use session::spoken;
use session::tempering::{Fact, Next, Outlook};
use session::timestamp::Timestamp;

use super::{
    degrees, difference, hour_minute, nearest_degree, place as name, scale, short_degrees,
};

/// How one place is doing, in few words.
pub fn outlook(evening: &Evening, number: usize, now: Timestamp) -> String {
    match evening.tempering.outlooks.get(number) {
        None | Some(Outlook::Unread) => "read it".to_owned(),
        Some(Outlook::Ready) => "ready".to_owned(),
        Some(Outlook::Arrives { arrival }) => {
            format!("at {} ±{}", hour_minute(after(now, arrival.likely_s)), give_or_take(arrival))
        }
        Some(Outlook::Peaks { arrival }) => format!("peaks {}", whole_or_tenth(arrival.peak_c)),
        Some(Outlook::Over { by_k }) => format!("OVER by {}", difference(Kelvins::new(*by_k))),
    }
}

/// Half of an interval that holds eight times in ten, in minutes.
fn give_or_take(arrival: &Arrival) -> String {
    let late_s = if arrival.late_s.is_finite() { arrival.late_s } else { 2.0 * arrival.likely_s };
    super::decimal(((late_s - arrival.early_s) / 120.0).max(1.0), 0)
}

/// The same in a sentence.
pub fn outlook_in_full(evening: &Evening, number: usize, now: Timestamp) -> String {
    let aim = evening.tempering.aims_c.get(number).copied().unwrap_or_default();
    let aim = whole_or_tenth(aim);
    match evening.tempering.outlooks.get(number) {
        None | Some(Outlook::Unread) => "Not read yet.".to_owned(),
        Some(Outlook::Ready) => format!("{aim}: ready."),
        Some(Outlook::Arrives { arrival }) => format!(
            "{aim} about {}, ± {} min",
            hour_minute(after(now, arrival.likely_s)),
            give_or_take(arrival)
        ),
        Some(Outlook::Peaks { arrival }) => format!(
            "Peaks at {}, {} to {}",
            whole_or_tenth(arrival.peak_c),
            whole_or_tenth(arrival.peak_least_c),
            whole_or_tenth(arrival.peak_most_c)
        ),
        Some(Outlook::Over { .. }) => format!("OVER {aim}. Cool water, then look again."),
    }
}

/// What to do next: the words of the key, and a quieter line.
pub fn next(evening: &Evening, now: Timestamp) -> (String, String) {
    let named = |node: usize| name(evening.place_of(node)).to_ascii_uppercase();
    match evening.tempering.next {
        Next::Measure { node } => {
            (format!("MEASURE {}", named(node)), how(evening, node, evening.place_of(node), now))
        }
        // Nobody swaps the water of a circulator.
        Next::Swap { round, .. } if evening.is_held => (
            "SET IT ANEW".to_owned(),
            format!("the circulator, to {}", degrees(Celsius::new(round.tub_c))),
        ),
        Next::Swap { round, tap_c } if round.drain_l < 0.25 => {
            (format!("ADD {} L", halves(round.add_l)), tap(tap_c))
        }
        Next::Swap { round, tap_c } => (format!("SWAP {} L", halves(round.add_l)), tap(tap_c)),
        Next::Lift { bottle } => {
            (format!("LIFT OUT {}", named(bottle)), "ready: stand it by the tub".to_owned())
        }
        Next::Wait { until_s, node } => {
            let at = hour_minute(after(evening.began, until_s));
            (
                format!("FREE UNTIL {at}"),
                format!("then {}", name(evening.place_of(node)).to_ascii_lowercase()),
            )
        }
        Next::CannotGetThere { bottle } => (
            "OTHER WATER".to_owned(),
            format!(
                "{}: taps cannot reach it",
                name(evening.place_of(bottle)).to_ascii_lowercase()
            ),
        ),
        Next::Ready => ("GO TO THE DARK".to_owned(), "all ready".to_owned()),
    }
}

/// The same aloud, where it is worth a word.
pub fn next_aloud(evening: &Evening) -> Option<String> {
    let named = |node: usize| name(evening.place_of(node)).to_ascii_lowercase();
    match evening.tempering.next {
        Next::Measure { node } => {
            let rinse = if rinses(evening, node) { " Rinse the thermometer first." } else { "" };
            Some(format!("Measure {}.{rinse}", named(node)))
        }
        Next::Swap { round, .. } if evening.is_held => {
            let to = spoken::degrees(Celsius::new(round.tub_c), scale());
            Some(format!("Set the circulator to {to}, then read the tub."))
        }
        Next::Swap { round, .. } => {
            let how = if round.drain_l < 0.25 { "Add" } else { "Swap" };
            let litres = halves(round.add_l);
            let unit = if litres == "1" { "litre" } else { "litres" };
            Some(format!("{how} about {litres} {unit}. Thermometer before hands."))
        }
        Next::Lift { bottle } => Some(format!("Lift out the {}.", named(bottle))),
        Next::Ready => Some("Ready for the dark.".to_owned()),
        Next::Wait { .. } | Next::CannotGetThere { .. } => None,
    }
}

/// How to measure, and what to expect.
fn how(evening: &Evening, node: usize, place: Place, now: Timestamp) -> String {
    let first = if rinses(evening, node) { "rinse" } else { "swirl" };
    let first = if place == Place::Tub { "stir" } else { first };
    match expected(evening, node, now) {
        Some((least, most)) => {
            format!("{first}, expect {}", nearest_degree(Celsius::new(f64::midpoint(least, most))))
        }
        None => format!("{first}, then read"),
    }
}

/// What the thermometer should say of a place that has been read before, in °C.
pub fn expected(evening: &Evening, node: usize, now: Timestamp) -> Option<(f64, f64)> {
    let is_unread = |outlook: &Outlook| *outlook == Outlook::Unread;
    if evening.tempering.outlooks.get(node).is_some_and(is_unread) {
        return None;
    }
    evening.tempering.expect_c(node, session::evening::seconds(now.since_ms(evening.began)))
}

/// Whether the thermometer was last in another bottle.
fn rinses(evening: &Evening, node: usize) -> bool {
    let tub = evening.baths.len();
    let last = evening.noted.iter().rev().find_map(|noted| match noted.fact {
        Fact::Read { node, .. } => Some(node),
        Fact::Swapped { .. } | Fact::Lifted { .. } | Fact::PutBack { .. } => None,
    });
    node < tub && last.is_some_and(|last| last != node && last < tub)
}

/// Which tap, and the burn warning with it.
fn tap(celsius: f64) -> String {
    let degrees = short_degrees(Celsius::new(celsius.round()));
    if celsius > 43.0 {
        format!("at {degrees}: thermometer before hands")
    } else {
        format!("at {degrees}")
    }
}

/// Litres in halves, as they are poured from a jug.
pub fn halves(litres: f64) -> String {
    let halves = (litres * 2.0).round().max(1.0);
    super::number(halves / 2.0)
}

fn whole_or_tenth(celsius: f64) -> String {
    degrees(Celsius::new(celsius))
}

/// So many seconds later.
pub fn after(at: Timestamp, seconds: f64) -> Timestamp {
    at.plus_ms(session::evening::milliseconds(seconds))
}

/// How long ago, in few words.
pub fn age(ms: i64) -> String {
    match ms / 60_000 {
        ..=0 => "just now".to_owned(),
        minutes => format!("{minutes} min ago"),
    }
}
