use process_model::tub::{Bottle as InTub, TUB_J_K_L, Tub};

use super::*;
use crate::command::{Command, decide};
use crate::habits::Habits;
use crate::run::apply;
use crate::tempering::{Next, Outlook};

fn ready() -> Run {
    Run::new(Plan::shipped(&Habits::default(), 0))
}

fn at(seconds: i64) -> Timestamp {
    Timestamp::from_milliseconds(1_000_000 + seconds * 1_000)
}

fn after(run: Run, seconds: i64, command: Command) -> Run {
    let entry = decide(&run, command, at(seconds)).unwrap();
    apply(run, entry)
}

fn read(run: Run, seconds: i64, place: Place, celsius: f64) -> Run {
    after(run, seconds, Command::Read { place, celsius: Celsius::new(celsius) })
}

const DEVELOPER: Place = Place::Bottle(Bath::Developer);
const BLEACH_FIX: Place = Place::Bottle(Bath::BleachFix);

fn seen(run: &Run, seconds: i64) -> Evening {
    evening(run, &Vessels::default(), 0.0, at(seconds)).unwrap()
}

#[test]
fn an_evening_begins_with_the_tub_and_then_each_bottle_once() {
    let run = ready();
    assert_eq!(seen(&run, 0).baths, [Bath::Developer, Bath::BleachFix]);
    assert_eq!(seen(&run, 0).tempering.next, Next::Measure { node: 2 });
    let run = read(run, 0, Place::Tub, 42.0);
    assert_eq!(seen(&run, 10).tempering.next, Next::Measure { node: 0 });
    let run = read(run, 20, DEVELOPER, 20.0);
    assert_eq!(seen(&run, 30).tempering.next, Next::Measure { node: 1 });
}

#[test]
fn a_reading_that_was_taken_away_counts_for_nothing() {
    let run = read(read(ready(), 0, Place::Tub, 42.0), 20, DEVELOPER, 20.0);
    let of = run.state.readings[1].seq;
    let dropped = after(run, 30, Command::Drop { of });
    let evening = seen(&dropped, 40);
    assert_eq!(evening.noted.len(), 1);
    assert_eq!(evening.tempering.outlooks[0], Outlook::Unread);
}

#[test]
fn what_the_thermometer_is_off_is_taken_from_every_reading() {
    let run = read(ready(), 0, Place::Tub, 42.0);
    let vessels = Vessels { offset_k: 0.5, ..Vessels::default() };
    let evening = evening(&run, &vessels, 0.0, at(0)).unwrap();
    assert_eq!(evening.noted[0].fact, Fact::Read { node: 2, celsius: 41.5 });
}

#[test]
fn a_circulator_that_is_set_anew_is_believed_at_once() {
    let held = Vessels { has_circulator: true, ..Vessels::default() };
    let run = read(read(ready(), 0, Place::Tub, 36.0), 20, DEVELOPER, 20.0);
    let run = read(read(run, 30, BLEACH_FIX, 20.0), 300, Place::Tub, 43.0);
    let tub = |seconds| evening(&run, &held, 0.0, at(seconds)).unwrap().tempering.now_c[2];
    assert!((tub(310) - 43.0).abs() < 0.2 && (tub(1_500) - 43.0).abs() < 1.0, "{}", tub(1_500));
    // The same readings of a tub that nobody keeps warm are taken for a mistake, in part.
    let plain = seen(&run, 310).tempering.now_c[2];
    assert!(plain < 42.0, "{plain}");
}

#[test]
fn water_that_was_swapped_asks_for_the_tub_again() {
    let run = read(ready(), 0, Place::Tub, 40.0);
    let swap = Command::SwapWater { drain_ml: 2_000, add_ml: 2_000, celsius: Celsius::new(48.0) };
    let run = after(run, 30, swap);
    let node = 2;
    assert_eq!(seen(&run, 70).tempering.next, Next::Measure { node });
    // It has to mix first.
    assert!(matches!(seen(&run, 35).tempering.next, Next::Wait { node: 2, .. }));
}

#[test]
fn a_developer_is_left_warmer_for_the_dark_than_it_is_poured() {
    let run = read(ready(), 0, Place::Tub, 41.0);
    let run = read(read(run, 10, DEVELOPER, 39.0), 20, BLEACH_FIX, 38.0);
    let leave = |dark_s: f64, tub_c: f64| {
        let run = read(run.clone(), 60, Place::Tub, tub_c);
        evening(&run, &Vessels::default(), dark_s, at(90)).unwrap().tempering.aims_c[0]
    };
    // A tub that is colder than the developer cools it meanwhile; a warmer one warms it.
    assert!(leave(600.0, 36.0) > leave(0.0, 36.0) + 0.3);
    assert!(leave(600.0, 43.0) < leave(0.0, 43.0) - 0.3);
}

#[test]
fn the_minutes_in_a_tub_are_what_the_tub_itself_would_take() {
    let vessels = Vessels::default();
    let follows = vessels.follows(Bath::Developer);
    let bottle = InTub {
        heat_j_k: follows.heat_j_k,
        tau10_s: 60.0 * advice::minutes(follows.ln_tau10.mean),
        p: vessel::EXPONENT.mean,
    };
    // So much water that a bottle does not cool it.
    let tub = Tub {
        bottles: vec![bottle],
        litres: 900.0,
        heat_j_k_l: TUB_J_K_L,
        loss_w_k: 0.0,
        room_c: 21.0,
    };
    for (from_c, to_c, tub_c) in [(36.0, 38.9, 43.5), (30.0, 38.0, 43.5), (41.0, 39.0, 15.0)] {
        let minutes = minutes_in(&vessels, Bath::Developer, (from_c, to_c), tub_c).unwrap();
        let there = tub.run(&[from_c, tub_c], &[minutes * 60.0], &[]).unwrap();
        let off = there[0][0] - to_c;
        assert!(off.abs() < 0.4, "{from_c} to {to_c} in {tub_c}: {off} off after {minutes} min");
    }
}

#[test]
fn water_that_cannot_bring_a_bottle_there_gives_no_minutes() {
    let minutes = |from_c, to_c, tub_c| {
        minutes_in(&Vessels::default(), Bath::Developer, (from_c, to_c), tub_c)
    };
    assert_eq!(minutes(36.0, 38.9, 38.0), None);
    assert_eq!(minutes(40.0, 38.9, 43.0), None);
    assert_eq!(minutes(38.9, 38.9, 43.0), Some(0.0));
}
