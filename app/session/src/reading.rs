//! Readings that look wrong: what was expected, and what may have been meant.

use process_model::quantity::{Celsius, Kelvins};
use process_model::sheet::{Bath, TUB_MOST};

use crate::entry::{Event, Place};
use crate::run::{Reading, Run, Tank};

/// A reading farther than this from what was expected is asked back.
pub const DOUBT_K: f64 = 8.0;

/// A first reading of a bottle outside this range is asked back.
const BOTTLE: (f64, f64) = (0.0, 60.0);

/// The temperatures that a reading is expected to lie in: coolest and warmest, often the same.
///
/// The last reading of that place; else the target of the place's row.
pub fn expected(run: &Run, place: Place) -> Option<(Celsius, Celsius)> {
    if let Some(last) = run.last_reading(place) {
        return Some((last.celsius, last.celsius));
    }
    target(run, place)
}

/// What the sheet wants at `place`: coolest and warmest.
pub fn target(run: &Run, place: Place) -> Option<(Celsius, Celsius)> {
    let of = |bath: Bath| run.plan.steps.iter().find(|step| step.bath == bath);
    match place {
        Place::Tub => {
            let developer = run.plan.steps.iter().find(|step| step.is_developer())?;
            Some((developer.aim?, TUB_MOST))
        }
        Place::InTheTank => {
            let step = match run.state.tank {
                Tank::Bath { step, .. } | Tank::Asking { step, .. } => step,
                Tank::Ready | Tank::Done { .. } | Tank::Left { .. } => return None,
            };
            let step = run.plan.steps.get(step)?;
            Some(step.aim.map_or(step.band, |aim| (aim, aim)))
        }
        Place::Bottle(bath) => {
            let step = of(bath)?;
            Some(step.developer.map_or(step.band, |developer| developer.fine))
        }
    }
}

/// What a reading may be by now: from the last one of that place to what it is on its way to. A
/// bottle is on its way to the tub, the tub to whatever water was put in since.
fn by_now(run: &Run, place: Place) -> Option<(Celsius, Celsius)> {
    let last = run.last_reading(place)?;
    let mut range = (last.celsius, last.celsius);
    let mut reach = |celsius: Celsius| {
        if celsius < range.0 {
            range.0 = celsius;
        }
        if celsius > range.1 {
            range.1 = celsius;
        }
    };
    match place {
        Place::Bottle(_) => {
            if let Some(tub) = run.last_reading(Place::Tub) {
                reach(tub.celsius);
            }
        }
        Place::Tub => {
            for entry in run.held().filter(|entry| entry.at >= last.at) {
                if let Event::WaterSwapped { celsius, .. } = entry.event {
                    reach(celsius);
                }
            }
        }
        Place::InTheTank => {}
    }
    Some(range)
}

/// Whether a reading is so far from what was expected that the person is asked.
pub fn is_doubtful(run: &Run, place: Place, celsius: Celsius) -> bool {
    let first_of_bottle = matches!(place, Place::Bottle(_)) && run.last_reading(place).is_none();
    if first_of_bottle {
        return celsius.get() < BOTTLE.0 || celsius.get() > BOTTLE.1;
    }
    let range = by_now(run, place).or_else(|| expected(run, place));
    range.is_some_and(|range| distance(celsius, range) > DOUBT_K)
}

/// What the last reading of a place is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Judgement {
    /// It was not read.
    Unread,
    /// It is where the sheet wants it, or the sheet does not say.
    Fine,
    /// It is colder, by so much.
    Low(Kelvins),
    /// It is warmer, by so much.
    High(Kelvins),
}

/// What the last reading of `place` is worth against its target, by a thermometer that shows
/// `offset_k` more than is true. What was read before the dark is worth nothing any more.
pub fn judge(run: &Run, place: Place, offset_k: f64) -> Judgement {
    let Some(last) = since_the_dark(run, place) else { return Judgement::Unread };
    let celsius = Celsius::new(last.celsius.get() - offset_k);
    match target(run, place) {
        Some((least, _)) if celsius < least => Judgement::Low(least - celsius),
        Some((_, most)) if celsius > most => Judgement::High(celsius - most),
        Some(_) | None => Judgement::Fine,
    }
}

/// The last reading of `place` that still counts: none from before the dark.
pub fn since_the_dark(run: &Run, place: Place) -> Option<Reading> {
    let dark = run.state.dark;
    run.last_reading(place).filter(|last| dark.is_none_or(|(_, light)| last.at >= light))
}

/// What may have been meant: the same digits in another order, nearest to what was expected.
///
/// `None` if no order of them comes near.
pub fn fix(celsius: Celsius, expected: (Celsius, Celsius)) -> Option<Celsius> {
    let tenths = tenths(celsius)?;
    let digits = [tenths / 100 % 10, tenths / 10 % 10, tenths % 10];
    let orders = [[0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    orders
        .into_iter()
        .map(|[a, b, c]| digits[a] * 100 + digits[b] * 10 + digits[c])
        .filter(|other| *other != tenths)
        .map(|other| Celsius::new(f64::from(other) / 10.0))
        .filter(|other| distance(*other, expected) <= DOUBT_K)
        .min_by(|a, b| distance(*a, expected).total_cmp(&distance(*b, expected)))
}

/// The whole tenths of a degree, from 0.0 to 99.9.
fn tenths(celsius: Celsius) -> Option<u32> {
    let rounded = (celsius.get() * 10.0).round();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the range was checked"
    )]
    (0.0..=999.0).contains(&rounded).then_some(rounded as u32)
}

/// How far `celsius` is outside of `range`.
fn distance(celsius: Celsius, range: (Celsius, Celsius)) -> f64 {
    let (least, most) = (range.0.get(), range.1.get());
    (least - celsius.get()).max(celsius.get() - most).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::{Command, decide};
    use crate::habits::Habits;
    use crate::plan::Plan;
    use crate::run::apply;
    use crate::timestamp::Timestamp;

    fn ready() -> Run {
        Run::new(Plan::shipped(&Habits::default(), 0))
    }

    fn read(run: Run, place: Place, celsius: f64) -> Run {
        let command = Command::Read { place, celsius: Celsius::new(celsius) };
        let entry = decide(&run, command, Timestamp::default()).unwrap();
        apply(run, entry)
    }

    #[test]
    fn a_first_reading_of_a_bottle_may_be_cold() {
        let bottle = Place::Bottle(Bath::Developer);
        assert!(!is_doubtful(&ready(), bottle, Celsius::new(18.0)));
        assert!(is_doubtful(&ready(), bottle, Celsius::new(60.1)));
        let warmed = read(ready(), bottle, 36.0);
        assert!(is_doubtful(&warmed, bottle, Celsius::new(18.0)));
        assert!(!is_doubtful(&warmed, bottle, Celsius::new(44.0)));
    }

    #[test]
    fn a_bottle_may_be_anywhere_on_its_way_to_the_tub() {
        let bottle = Place::Bottle(Bath::Developer);
        let run = read(read(ready(), Place::Tub, 43.0), bottle, 20.0);
        assert!(!is_doubtful(&run, bottle, Celsius::new(38.0)));
        assert!(is_doubtful(&run, bottle, Celsius::new(51.5)));
        assert!(is_doubtful(&run, bottle, Celsius::new(11.0)));
    }

    #[test]
    fn a_tub_may_be_as_cold_as_the_water_that_was_put_in() {
        let run = read(ready(), Place::Tub, 43.0);
        assert!(is_doubtful(&run, Place::Tub, Celsius::new(30.0)));
        let swap =
            Command::SwapWater { drain_ml: 4_000, add_ml: 4_000, celsius: Celsius::new(15.0) };
        let entry = decide(&run, swap, Timestamp::default()).unwrap();
        assert!(!is_doubtful(&apply(run, entry), Place::Tub, Celsius::new(30.0)));
    }

    #[test]
    fn a_tub_is_expected_between_the_aim_and_the_warmest_that_needs_no_word() {
        assert!(!is_doubtful(&ready(), Place::Tub, Celsius::new(31.0)));
        assert!(is_doubtful(&ready(), Place::Tub, Celsius::new(30.8)));
        assert!(!is_doubtful(&ready(), Place::Tub, Celsius::new(51.3)));
        assert!(is_doubtful(&ready(), Place::Tub, Celsius::new(51.4)));
    }

    #[test]
    fn a_reading_is_judged_against_its_target() {
        let bottle = Place::Bottle(Bath::Developer);
        assert_eq!(judge(&ready(), bottle, 0.0), Judgement::Unread);
        assert_eq!(
            judge(&read(ready(), bottle, 36.9), bottle, 0.0),
            Judgement::Low(Kelvins::new(2.0))
        );
        assert_eq!(judge(&read(ready(), bottle, 38.9), bottle, 0.0), Judgement::Fine);
        assert_eq!(
            judge(&read(ready(), bottle, 42.5), bottle, 0.0),
            Judgement::High(Kelvins::new(2.0))
        );
    }

    #[test]
    fn a_reading_is_judged_by_what_is_true_where_the_thermometer_is_known_to_be_off() {
        let bottle = Place::Bottle(Bath::Developer);
        // It shows half a degree too little: 38.5 is 39.0, which is fine.
        assert_eq!(judge(&read(ready(), bottle, 38.5), bottle, -0.5), Judgement::Fine);
        let high = judge(&read(ready(), bottle, 40.5), bottle, -0.5);
        assert_eq!(high, Judgement::High(Kelvins::new(0.5)));
    }

    #[test]
    fn swapped_digits_are_put_right() {
        let expected = (Celsius::new(40.0), Celsius::new(40.0));
        assert_eq!(fix(Celsius::new(93.8), expected), Some(Celsius::new(39.8)));
        assert_eq!(fix(Celsius::new(83.9), expected), Some(Celsius::new(39.8)));
        assert_eq!(fix(Celsius::new(11.1), expected), None);
    }
}
