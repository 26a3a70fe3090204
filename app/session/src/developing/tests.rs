use process_model::quantity::Celsius;
use proptest::prelude::*;

use super::*;
use crate::command::{Command, decide};
use crate::habits::Habits;
use crate::plan::Plan;
use crate::run::apply;

/// The developer of the usual plan, poured, with readings in the tank: seconds after its tone, °C.
fn poured(readings: &[(i64, f64)]) -> (Run, Timestamp) {
    let mut run = Run::new(Plan::shipped(&Habits::default(), 0));
    let at = |seconds: i64| Timestamp::from_milliseconds(1_000_000 + seconds * 1_000);
    let mut does = |seconds: i64, command: Command| {
        let entry = decide(&run, command, at(seconds)).unwrap();
        run = apply(run.clone(), entry);
    };
    for (bath, celsius) in [(Bath::Developer, 39.3), (Bath::PreSoak, 38.9)] {
        does(0, Command::Read { place: Place::Bottle(bath), celsius: Celsius::new(celsius) });
    }
    does(1, Command::Read { place: Place::Tub, celsius: Celsius::new(39.0) });
    does(2, Command::Start { anyway: true });
    does(67, Command::TankIsEmpty { ago_ms: 0 });
    // The lead-in is eight seconds.
    let zero = 75;
    for (seconds, celsius) in readings {
        let read = Command::Read { place: Place::InTheTank, celsius: Celsius::new(*celsius) };
        does(zero + seconds, read);
    }
    (run, at(zero + 200))
}

fn known(readings: &[(i64, f64)]) -> Developing {
    let (run, now) = poured(readings);
    developing(&run, 1, &Vessels::default(), &[], now).unwrap()
}

#[test]
fn without_a_reading_in_the_tank_no_time_is_offered() {
    let known = known(&[]);
    assert_eq!((known.readings, known.advice), (0, None));
    assert!(known.equivalent_s > 150.0 && known.equivalent_s < 230.0);
}

#[test]
fn a_developer_on_course_is_left_alone() {
    assert_eq!(known(&[(60, 38.9), (120, 38.9)]).advice, Some(Advice::OnCourse));
}

#[test]
fn a_cold_developer_takes_longer_and_a_warm_one_less_within_a_tenth() {
    let offered = |celsius: f64| match known(&[(60, celsius), (120, celsius)]).advice {
        Some(Advice::Choice { seconds } | Advice::Bound { seconds }) => seconds,
        other => panic!("{celsius}: {other:?}"),
    };
    assert!((215.0..=231.5).contains(&offered(38.2)), "{}", offered(38.2));
    assert!((188.5..=205.0).contains(&offered(39.9)), "{}", offered(39.9));
    // As far as time can go, however cold it is.
    assert!((offered(33.0) - 231.0).abs() < 1.0);
}

#[test]
fn a_second_reading_makes_the_course_surer() {
    let (one, two) = (known(&[(60, 38.2)]), known(&[(60, 38.2), (150, 38.0)]));
    assert!(two.course.half_width_s <= one.course.half_width_s);
    assert_eq!((one.readings, two.readings), (1, 2));
}

#[test]
fn what_was_doubted_does_not_move_the_time() {
    let (run, now) = poured(&[(60, 38.6), (90, 19.0)]);
    assert!(run.state.readings.last().unwrap().doubted);
    let known = developing(&run, 1, &Vessels::default(), &[], now).unwrap();
    assert_eq!(known.readings, 1);
}

proptest! {
    #[test]
    fn the_warmer_a_reading_the_sooner_it_is_done(celsius in 34.0..42.0_f64, more in 0.2..3.0_f64) {
        let (colder, warmer) = (known(&[(60, celsius)]), known(&[(60, celsius + more)]));
        prop_assert!(warmer.course.pour_off_s <= colder.course.pour_off_s + 1e-6);
        prop_assert!(warmer.equivalent_s + 1e-6 >= colder.equivalent_s);
    }
}
