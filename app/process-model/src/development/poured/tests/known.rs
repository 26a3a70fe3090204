//! Courses whose answer is known in closed form: a tank that stands in one place follows the law of
//! Newton, and an estimate of least squares is where the sum of the squares is least.

use super::*;
use crate::development::rate;

/// Surer than this a guess need not be, to be taken as known.
const KNOWN: f64 = 1e-6;
/// 90 % of a normal distribution lie below so many standard deviations.
const NINE_TENTHS: f64 = 1.281_551_565_545;

const HEAT_J_K: f64 = 2_400.0;
const EXCHANGE_W_K: f64 = 2.0;
const AROUND_C: f64 = 30.0;

/// A tank that stays in the tub, or out of it, at 30 °C for as long as anyone looks.
fn standing(is_out: bool) -> Poured {
    let (other_w_k, other_c) = (0.3, 15.0);
    let around = |here: bool| if here { AROUND_C } else { other_c };
    let exchange = |here: bool| if here { EXCHANGE_W_K } else { other_w_k };
    Poured {
        tank: Tank {
            heat_j_k: HEAT_J_K,
            in_tub_w_k: exchange(!is_out),
            in_air_w_k: exchange(is_out),
            tub_c: around(!is_out),
            room_c: around(is_out),
            out: if is_out { vec![Duty { at_s: 0.0, seconds: 1e5 }] } else { vec![] },
        },
        start_c: Guess { mean: 39.0, sd: KNOWN },
        ln_exchange: Guess { mean: 0.0, sd: KNOWN },
        readings: vec![],
        slope: Slope { mean_j_mol: 80_000.0, sd_j_mol: 0.0 },
        nominal_c: 38.0,
        nominal_s: 210.0,
    }
}

/// A tank whose surroundings are as warm as what is in it.
fn level() -> Poured {
    let mut level = standing(false);
    level.tank.tub_c = 39.0;
    level
}

/// What one pass through `exp(-t k)` leaves of the difference, where the exchange has the factor.
fn left(ln_factor: f64, at_s: f64) -> f64 {
    libm::exp(-EXCHANGE_W_K * libm::exp(ln_factor) / HEAT_J_K * at_s)
}

fn read(at_s: f64, celsius: f64, sd_k: f64) -> InTheTank {
    InTheTank { at_s, celsius, sd_k }
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} for {expected}");
}

#[test]
fn a_reading_as_the_clock_begins_and_the_guess_are_weighed_by_their_squares() {
    let mut poured = level();
    poured.start_c = Guess { mean: 39.0, sd: 0.6 };
    poured.readings = vec![read(0.0, 37.0, 0.3)];
    let course = poured.course().unwrap();
    let (guess, reading) = (1.0 / (0.6 * 0.6), 1.0 / (0.3 * 0.3));
    near(course.start_c, (guess * 39.0 + reading * 37.0) / (guess + reading), 1e-9);
}

#[test]
fn two_readings_weigh_as_much_as_one_that_is_surer_by_the_root_of_two() {
    let with = |readings: Vec<InTheTank>| {
        let mut poured = level();
        poured.start_c.sd = 0.6;
        poured.readings = readings;
        poured.course().unwrap()
    };
    let twice = with(vec![read(0.0, 37.0, 0.3); 2]);
    let once = with(vec![read(0.0, 37.0, 0.3 / 2.0_f64.sqrt())]);
    near(twice.start_c, once.start_c, 1e-9);
    near(twice.half_width_s, once.half_width_s, 1e-6);
}

#[test]
fn without_a_reading_what_is_exchanged_is_as_guessed() {
    let mut poured = standing(false);
    poured.ln_exchange = Guess { mean: 0.4, sd: 0.3 };
    near(poured.course().unwrap().ln_exchange, 0.4, 1e-9);
}

#[test]
fn a_sure_reading_tells_what_is_exchanged_in_the_tub_and_out_of_it() {
    for is_out in [false, true] {
        for factor in [-0.5, 0.3, 0.8] {
            let mut poured = standing(is_out);
            poured.ln_exchange = Guess { mean: 0.0, sd: 2.0 };
            let celsius = AROUND_C + (39.0 - AROUND_C) * left(factor, 120.0);
            poured.readings = vec![read(120.0, celsius, 0.001)];
            near(poured.course().unwrap().ln_exchange, factor, 1e-4);
        }
    }
}

#[test]
fn the_course_is_where_the_sum_of_the_squares_is_least() {
    let mut poured = standing(false);
    poured.start_c = Guess { mean: 39.0, sd: 0.8 };
    poured.ln_exchange = Guess { mean: 0.2, sd: 0.5 };
    poured.readings = vec![read(90.0, 37.9, 0.1), read(100.0, 38.0, 0.1), read(240.0, 36.0, 0.3)];
    let squares = |start_c: f64, ln_exchange: f64| {
        let of = |off: f64, sd: f64| (off / sd) * (off / sd);
        let guesses = of(start_c - 39.0, 0.8) + of(ln_exchange - 0.2, 0.5);
        let readings = poured.readings.iter().map(|reading| {
            let here = AROUND_C + (start_c - AROUND_C) * left(ln_exchange, reading.at_s);
            of(reading.celsius - here, reading.sd_k)
        });
        guesses + readings.sum::<f64>()
    };
    let found = poured.course().unwrap();
    let least = squares(found.start_c, found.ln_exchange);
    for (start, exchange) in [(0.02, 0.0), (0.0, 0.01), (0.02, 0.01), (0.02, -0.01)] {
        for sign in [-1.0, 1.0] {
            let there = squares(found.start_c + sign * start, found.ln_exchange + sign * exchange);
            assert!(least < there, "{least} at {found:?}, {there} beside it");
        }
    }
}

#[test]
fn a_course_that_keeps_its_temperature_ends_by_the_rate_there() {
    let mut poured = level();
    poured.slope.sd_j_mol = 15_000.0;
    let course = poured.course().unwrap();
    let end = |energy: f64| 210.0 / rate(energy, 39.0, 38.0);
    near(course.pour_off_s, end(80_000.0), 1e-6);
    near(course.mean_c, 39.0, 1e-9);
    // Only the slope is unsure: one standard deviation steeper.
    let off = end(95_000.0) - end(80_000.0);
    near(course.half_width_s, NINE_TENTHS * off.abs(), 1e-3);
}

#[test]
fn the_mean_of_a_course_that_cools_is_that_of_the_law_of_newton() {
    let course = standing(false).course().unwrap();
    let share = EXCHANGE_W_K / HEAT_J_K * course.pour_off_s;
    let mean = AROUND_C + 9.0 * (1.0 - libm::exp(-share)) / share;
    near(course.mean_c, mean, 1e-4);
}

/// The end of a course that begins at `start_c` with that exchange, by the course alone.
fn end(poured: &Poured, start_c: f64, ln_exchange: f64) -> f64 {
    let warm = |at: f64| AROUND_C + (start_c - AROUND_C) * left(ln_exchange, at);
    pour_off_s(&warm, poured.slope.mean_j_mol, poured.nominal_c, poured.nominal_s, &[]).unwrap()
}

#[test]
fn the_interval_follows_from_the_covariance_of_start_and_exchange() {
    // Readings long after the start, which know the two together far better than either alone.
    let (start_sd, exchange_sd, sd_k) = (0.05, 0.05, 0.01);
    let mut poured = standing(false);
    poured.start_c.sd = start_sd;
    poured.ln_exchange.sd = exchange_sd;
    let times = [150.0, 200.0];
    let on_course = |at_s: f64| AROUND_C + 9.0 * left(0.0, at_s);
    poured.readings = times.iter().map(|at_s| read(*at_s, on_course(*at_s), sd_k)).collect();
    let course = poured.course().unwrap();
    // By the law of Newton: how a reading follows the start, and how the exchange.
    let (mut a, mut b, mut c) =
        (1.0 / (start_sd * start_sd), 0.0, 1.0 / (exchange_sd * exchange_sd));
    for at_s in times {
        let by_start = left(0.0, at_s);
        let by_exchange = -9.0 * EXCHANGE_W_K / HEAT_J_K * at_s * left(0.0, at_s);
        a += by_start * by_start / (sd_k * sd_k);
        b += by_start * by_exchange / (sd_k * sd_k);
        c += by_exchange * by_exchange / (sd_k * sd_k);
    }
    let slope = |start: f64, exchange: f64| {
        (end(&poured, 39.0 + start, exchange) - end(&poured, 39.0 - start, -exchange)) / 2e-3
    };
    let (by_start, by_exchange) = (slope(1e-3, 0.0), slope(0.0, 1e-3));
    let determinant = a * c - b * b;
    let variance = (by_start * by_start * c - 2.0 * by_start * by_exchange * b
        + by_exchange * by_exchange * a)
        / determinant;
    let expected = NINE_TENTHS * variance.sqrt();
    // The end bends a little over a standard deviation.
    near(course.half_width_s, expected, 0.02 * expected);
}

#[test]
fn numbers_that_cannot_be_are_refused() {
    let refused = |change: fn(&mut Poured)| {
        let mut poured = standing(false);
        change(&mut poured);
        poured.course().is_err()
    };
    assert!(!refused(|_| {}));
    assert!(refused(|poured| poured.nominal_s = 0.0));
    assert!(refused(|poured| poured.start_c.sd = 0.0));
    assert!(refused(|poured| poured.ln_exchange.mean = 4.0));
    assert!(refused(|poured| poured.slope.sd_j_mol = -1.0));
    assert!(refused(|poured| poured.tank.heat_j_k = 0.0));
    assert!(refused(|poured| poured.readings = vec![read(-1.0, 38.0, 0.3)]));
    assert!(refused(|poured| poured.readings = vec![read(60.0, 38.0, 0.0)]));
}
