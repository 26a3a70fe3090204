mod doses;
mod tanks;
mod times;

use proptest::prelude::*;

use super::*;

fn pair(celsius: f64, seconds: f64) -> Pair {
    Pair { celsius, seconds }
}

#[test]
fn one_time_without_a_typical_slope_is_refused() {
    assert_eq!(Curve::fit(&[pair(38.9, 210.0)], 15.0, None), Err(Refused::OnePair));
    assert_eq!(Curve::fit(&[pair(38.9, 210.0); 2], 15.0, None), Err(Refused::OnePair));
    let curve = Curve::fit(&[pair(38.9, 210.0)], 15.0, Some(TYPICAL_COLOUR)).unwrap();
    assert!((curve.seconds(37.9).unwrap() / 210.0 - 1.104).abs() < 0.002);
}

#[test]
fn a_time_outside_the_printed_ones_says_that_it_is_an_estimate() {
    let pairs = [pair(30.0, 480.0), pair(37.8, 195.0)];
    let inside = between(&pairs, 34.0).unwrap();
    assert!(!inside.is_estimate && (195.0..480.0).contains(&inside.seconds));
    assert!(between(&pairs, 40.0).unwrap().is_estimate);
    assert!((between(&pairs, 30.0).unwrap().seconds - 480.0).abs() < 1e-9);
    assert_eq!(between(&pairs[..1], 30.0), Err(Refused::OnePair));
    assert!(matches!(between(&[], 30.0), Err(Refused::None { .. })));
}

#[test]
fn advice_is_a_choice_within_bounds_and_the_bound_beyond_them() {
    let sheet = (195.0, 210.0, 300.0);
    assert_eq!(advise(210.0, 213.0, 6.0, sheet), Ok(Advice::OnCourse));
    assert_eq!(advise(210.0, 232.0, 6.0, sheet), Ok(Advice::Choice { seconds: 230.0 }));
    assert_eq!(advise(210.0, 330.0, 6.0, sheet), Ok(Advice::Bound { seconds: 300.0 }));
    // The sheet's shortest is 195; bounds are never narrower than ten per cent.
    assert_eq!(advise(210.0, 180.0, 6.0, sheet), Ok(Advice::Bound { seconds: 189.0 }));
}

#[test]
fn a_cold_tank_wants_a_warmer_developer() {
    let tank = Tank {
        heat_j_k: 2430.0,
        in_tub_w_k: 1.76,
        in_air_w_k: 1.21,
        tub_c: 38.9,
        room_c: 20.0,
        out: (0..7).map(|nth| Duty { at_s: 30.0 * f64::from(nth), seconds: 5.0 }).collect(),
    };
    let pour = |cold| tank.pouring(cold, 80_000.0, 38.9, 210.0).unwrap().above_k;
    let cool = Some(ColdTank { heat_j_k: 340.0, celsius: 32.9 });
    assert!(pour(None) > 0.1 && pour(cool) > pour(None) + 0.5);
}

proptest! {
    #[test]
    fn hotter_is_never_longer(cold in 15.0..45.0_f64, more in 0.0..5.0_f64, second in 50.0..400.0_f64) {
        let curve = Curve::fit(&[pair(30.0, 480.0), pair(38.0, 480.0 - second)], 15.0, None).unwrap();
        prop_assert!(curve.seconds(cold + more).unwrap() <= curve.seconds(cold).unwrap() + 1e-9);
    }

    #[test]
    fn a_dose_is_the_sum_of_its_parts(end in 50.0..400.0_f64, share in 0.01..0.99_f64, drop in -5.0..5.0_f64) {
        let course = |at: f64| straight(&[(0.0, 40.0), (400.0, 40.0 - drop)], at);
        let part = |from, until| dose(&course, 80_000.0, 38.9, (from, until), &[]);
        let middle = end * share;
        let whole = part(0.0, end);
        prop_assert!((whole - part(0.0, middle) - part(middle, end)).abs() < 1e-6);
    }

    #[test]
    fn pouring_off_when_told_makes_the_dose(start in 36.0..42.0_f64, end in 34.0..42.0_f64) {
        let course = |at: f64| straight(&[(0.0, start), (300.0, end)], at);
        let time = pour_off_s(&course, 80_000.0, 38.9, 210.0, &[300.0]).unwrap();
        let done = dose(&course, 80_000.0, 38.9, (0.0, time), &[300.0]);
        prop_assert!((done - 210.0).abs() < 1e-6);
    }

    #[test]
    fn no_numbers_make_it_panic(a: f64, b: f64, c: f64, d: f64) {
        let slope = Slope { mean_j_mol: a, sd_j_mol: b };
        let _ = (sensitivity(slope, a, c, d).is_ok(), advise(a, b, c, (a, c, d)).is_ok());
        let _ = Curve::fit(&[pair(a, b), pair(c, d)], a, Some(slope)).is_ok();
        let _ = between(&[pair(a, b), pair(c, d)], b).is_ok();
        let out = vec![Duty { at_s: c, seconds: d }];
        let tank = Tank { heat_j_k: a, in_tub_w_k: b, in_air_w_k: c, tub_c: d, room_c: a, out };
        let _ = tank.pouring(Some(ColdTank { heat_j_k: a, celsius: b }), c, d, 210.0).is_ok();
    }
}
