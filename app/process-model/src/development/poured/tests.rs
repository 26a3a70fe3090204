mod known;

use proptest::prelude::*;

use super::super::{Duty, TYPICAL_COLOUR};
use super::*;

fn poured(start_c: f64, readings: &[(f64, f64)]) -> Poured {
    let lifts = (0..7).map(|lift| Duty { at_s: 30.0 * f64::from(lift), seconds: 5.0 });
    let read =
        |(at_s, celsius): &(f64, f64)| InTheTank { at_s: *at_s, celsius: *celsius, sd_k: 0.25 };
    Poured {
        tank: Tank {
            heat_j_k: 2430.0,
            in_tub_w_k: 1.76,
            in_air_w_k: 1.21,
            tub_c: 40.0,
            room_c: 21.0,
            out: lifts.collect(),
        },
        start_c: Guess { mean: start_c, sd: 0.5 },
        ln_exchange: Guess { mean: 0.0, sd: 0.35 },
        readings: readings.iter().map(read).collect(),
        slope: TYPICAL_COLOUR,
        nominal_c: 38.9,
        nominal_s: 210.0,
    }
}

#[test]
fn without_a_reading_the_course_is_the_guess() {
    let course = poured(38.9, &[]).course().unwrap();
    assert!((course.start_c - 38.9).abs() < 1e-9);
    assert!((course.pour_off_s - 210.0).abs() < 5.0, "{course:?}");
    assert!(course.half_width_s > 5.0);
}

#[test]
fn a_cool_reading_lengthens_and_makes_surer() {
    let guess = poured(38.9, &[]).course().unwrap();
    let cool = poured(38.9, &[(60.0, 37.4), (120.0, 37.4)]).course().unwrap();
    assert!(cool.pour_off_s > guess.pour_off_s + 10.0, "{cool:?}");
    assert!(cool.half_width_s < guess.half_width_s, "{cool:?}");
    assert!(cool.start_c < 38.3 && cool.mean_c < 38.3, "{cool:?}");
}

#[test]
fn the_equivalent_of_the_whole_is_the_nominal_time() {
    let poured = poured(38.0, &[(60.0, 38.4)]);
    let course = poured.course().unwrap();
    assert!((poured.equivalent_s(&course, course.pour_off_s) - 210.0).abs() < 1e-6);
    assert!(poured.equivalent_s(&course, 60.0) < 60.0);
}

proptest! {
    #[test]
    fn no_numbers_make_it_panic(start: f64, at: f64, celsius: f64, exchange: f64) {
        let mut poured = poured(start, &[(at, celsius)]);
        poured.tank.in_tub_w_k = exchange;
        let _ = poured.course().is_ok();
    }

    #[test]
    fn a_warmer_reading_never_lengthens(celsius in 30.0..45.0_f64) {
        let at = |celsius| poured(38.9, &[(60.0, celsius)]).course().unwrap().pour_off_s;
        prop_assert!(at(celsius + 0.5) <= at(celsius) + 1e-9);
    }
}
