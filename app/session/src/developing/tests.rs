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

/// The same evening read by a thermometer that shows `off` too much, which is known.
fn read_by(off: f64) -> (Poured, Developing) {
    let mut run = Run::new(Plan::shipped(&Habits::default(), 0));
    let at = |seconds: i64| Timestamp::from_milliseconds(1_000_000 + seconds * 1_000);
    let mut does = |seconds: i64, command: Command| {
        let entry = decide(&run, command, at(seconds)).unwrap();
        run = apply(run.clone(), entry);
    };
    let reads =
        |place: Place, celsius: f64| Command::Read { place, celsius: Celsius::new(celsius + off) };
    does(0, reads(Place::Bottle(Bath::Developer), 41.0));
    does(10, reads(Place::Bottle(Bath::PreSoak), 37.0));
    does(20, reads(Place::Bottle(Bath::Developer), 39.5));
    does(30, reads(Place::Tub, 40.2));
    does(40, Command::Start { anyway: true });
    does(105, Command::TankIsEmpty { ago_ms: 0 });
    // The lead-in is eight seconds, and the clock starts as pouring begins.
    let zero = at(113);
    // Read after it was poured: what is left in the bottle says nothing of the tank.
    does(123, reads(Place::Bottle(Bath::Developer), 36.0));
    does(183, reads(Place::InTheTank, 38.4));
    let vessels = Vessels { offset_k: off, ..Vessels::default() };
    let step = &run.plan.steps[1];
    let known = developing(&run, 1, &vessels, &[], at(323)).unwrap();
    (super::poured(&run, 1, step, &vessels, &[], (38.9, zero, Vec::new())), known)
}

#[test]
fn a_developer_begins_between_what_was_poured_and_what_soaked_the_tank() {
    let (poured, _) = read_by(0.0);
    let known = evening::defaults(&Vessels::default());
    let felt = known.shell_j_k * chill_share(false, true) / known.heat_j_k;
    // A degree is lost from the water to tank and reel: our estimate.
    let expected = 39.5 - felt * (39.5 - 36.0);
    assert!((poured.start_c.mean - expected).abs() < 1e-9, "{}", poured.start_c.mean);
    assert!(felt > 0.01 && felt < 0.5 && (poured.start_c.sd - START_SD_K.0).abs() < 1e-12);
    assert!((poured.nominal_s - 210.0).abs() < 1e-9 && (poured.nominal_c - 38.9).abs() < 1e-9);
}

#[test]
fn what_a_thermometer_shows_too_much_is_taken_off_everywhere() {
    let ((right, known), (off, known_off)) = (read_by(0.0), read_by(1.3));
    assert!((right.start_c.mean - off.start_c.mean).abs() < 1e-9);
    assert!((known.equivalent_s - known_off.equivalent_s).abs() < 1e-6);
    assert!((known.course.pour_off_s - known_off.course.pour_off_s).abs() < 1e-6);
    assert_eq!((known.readings, known_off.readings), (1, 1));
}

#[test]
fn a_reading_in_the_tank_before_the_developer_or_after_it_does_not_count() {
    let mut run = Run::new(Plan::shipped(&Habits::default(), 0));
    let at = |seconds: i64| Timestamp::from_milliseconds(1_000_000 + seconds * 1_000);
    let mut does = |seconds: i64, command: Command| {
        let entry = decide(&run, command, at(seconds)).unwrap();
        run = apply(run.clone(), entry);
    };
    let reads = |celsius| Command::Read { place: Place::InTheTank, celsius: Celsius::new(celsius) };
    does(0, Command::Start { anyway: true });
    does(30, reads(36.0));
    does(65, Command::TankIsEmpty { ago_ms: 0 });
    does(133, reads(38.5));
    does(283, Command::TankIsEmpty { ago_ms: 0 });
    does(383, reads(33.0));
    let known = developing(&run, 1, &Vessels::default(), &[], at(600)).unwrap();
    assert_eq!(known.readings, 1);
    let sooner = developing(&run, 1, &Vessels::default(), &[], at(283)).unwrap();
    assert_eq!(known, sooner, "what comes after it changes nothing");
}
