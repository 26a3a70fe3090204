//! Doses and the instant at which one is complete, against courses whose dose is known in closed
//! form.

use std::cell::Cell;
use std::f64::consts::PI;

use super::*;

const ENERGY: f64 = 80_000.0;
const NOMINAL_C: f64 = 38.9;

/// The temperature at which a developer runs at `rate`: the law of Arrhenius, solved for it.
fn celsius_of(rate: f64) -> f64 {
    1.0 / (1.0 / kelvins(NOMINAL_C) - GAS_J_MOL_K / ENERGY * libm::log(rate)) - ZERO_C_K
}

fn dose_of(rate: &dyn Fn(f64) -> f64, span: (f64, f64), knots_s: &[f64]) -> f64 {
    dose(&|at| celsius_of(rate(at)), ENERGY, NOMINAL_C, span, knots_s)
}

/// When 210 s are complete, and how often the course was asked for.
fn done_at(rate: &dyn Fn(f64) -> f64, knots_s: &[f64]) -> (Option<f64>, usize) {
    let asked = Cell::new(0);
    let course = |at: f64| {
        assert!((0.0..=840.0).contains(&at), "asked at {at} s, four times the time is 840");
        asked.set(asked.get() + 1);
        celsius_of(rate(at))
    };
    (pour_off_s(&course, ENERGY, NOMINAL_C, 210.0, knots_s), asked.get())
}

#[test]
fn a_course_that_jumps_is_the_sum_of_its_levels() {
    let jump = |at: f64| if at < 70.0 { 2.0 } else { 0.5 };
    let done = dose_of(&jump, (0.0, 100.0), &[70.0]);
    assert!((done - (140.0 + 15.0)).abs() < 1e-9, "{done}");
}

#[test]
fn a_course_is_never_asked_for_outside_its_span_nor_at_its_jumps() {
    let rate = |at: f64| {
        let inside = 40.0 < at && at < 100.0;
        assert!(inside && (at - 70.0).abs() > 0.0, "asked at {at} s");
        1.5
    };
    let done = dose_of(&rate, (40.0, 100.0), &[0.0, 40.0, 70.0, 100.0, 130.0]);
    assert!((done - 90.0).abs() < 1e-9, "{done}");
}

#[test]
fn a_swing_within_each_minute_is_not_lost_in_a_long_span() {
    // Fifteen whole swings, which leave the mean.
    let swing = |at: f64| 1.0 + 0.5 * libm::cos(2.0 * PI * at / 40.0);
    let done = dose_of(&swing, (0.0, 600.0), &[]);
    assert!((done - 600.0).abs() < 0.01, "{done}");
}

#[test]
fn a_dose_is_looked_at_eight_times_a_minute_whenever_it_begins() {
    for (from, until) in [(0.0, 120.0), (600.0, 720.0)] {
        let asked = Cell::new(0);
        let course = |_| {
            asked.set(asked.get() + 1);
            NOMINAL_C
        };
        dose(&course, ENERGY, NOMINAL_C, (from, until), &[]);
        assert_eq!(asked.get(), 16, "from {from} s");
    }
}

#[test]
fn a_developer_that_is_never_done_within_four_times_its_time_has_no_end() {
    assert_eq!(done_at(&|_| 0.24, &[]).0, None);
    assert!(done_at(&|_| 0.26, &[]).0.is_some());
    assert_eq!(done_at(&|_| f64::NAN, &[]).0, None);
}

#[test]
fn a_dose_of_nothing_is_complete_at_once() {
    assert_eq!(pour_off_s(&|_| NOMINAL_C, ENERGY, NOMINAL_C, 0.0, &[]), Some(0.0));
}

#[test]
fn the_end_is_found_in_a_few_rounds() {
    // Two looks at four times the time, fourteen minutes of them, come first.
    let first = 2 * 14 * 8;
    // The rate falls along a line: t - t²/2400 is 210 at 1200 - √936 000 seconds.
    let (found, asked) = done_at(&|at| 1.0 - at / 1_200.0, &[]);
    let expected = 1_200.0 - 936_000.0_f64.sqrt();
    assert!((found.unwrap() - expected).abs() < 1e-6, "{found:?} for {expected}");
    // Halving four times the time down to a billionth of a second would take forty rounds.
    let round = 4 * 8 + 1;
    assert!(asked <= first + 10 * round, "asked {asked} times");
}

#[test]
fn the_end_is_found_where_a_tangent_leads_out_of_the_time_there_is() {
    // 210 s are complete after 30 s; at 210 s the course is so slow that the slope there points
    // hours back.
    let early = |at: f64| if at < 100.0 { 7.0 } else { 0.01 };
    let found = done_at(&early, &[100.0]).0.unwrap();
    assert!((found - 30.0).abs() < 1e-6, "{found}");
    // They are complete a little after 700 s; at 210 s the slope points hours ahead.
    let late = |at: f64| if at < 700.0 { 0.01 } else { 7.0 };
    let found = done_at(&late, &[700.0]).0.unwrap();
    assert!((found - (700.0 + (210.0 - 7.0) / 7.0)).abs() < 1e-6, "{found}");
}
