use proptest::prelude::*;

use super::*;
use crate::tub::TUB_J_K_L;

fn guess(mean: f64, sd: f64) -> Guess {
    Guess { mean, sd }
}

/// One bottle of a litre in eight litres of warm water, not read yet.
fn kitchen() -> Evidence {
    let bottle = BottleGuess {
        heat_j_k: 4281.0,
        ln_tau10: guess(libm::log(700.0), 0.35),
        start_c: guess(20.0, 5.0),
    };
    Evidence {
        bottles: vec![bottle],
        litres: 8.0,
        heat_j_k_l: TUB_J_K_L,
        room_c: 20.0,
        ln_loss: guess(libm::log(5.0), 0.4),
        tub_c: guess(46.0, 2.0),
        p: guess(0.12, 0.06),
        jumps: vec![],
        readings: vec![],
        events: vec![],
    }
}

/// Readings of a bottle that is `faster` than the guess, every three minutes.
fn read(evidence: &Evidence, faster: f64, count: u32) -> Vec<Reading> {
    let mut truth = evidence.means();
    truth[0] -= faster;
    let times: Vec<f64> = (0..count).map(|index| 180.0 * f64::from(index)).collect();
    let course = evidence.course(&truth, &times);
    let of = |(at_s, warm): (&f64, &Vec<f64>)| {
        [0, 1].map(|node| Reading { at_s: *at_s, node, celsius: warm[node], sd_k: 0.25 })
    };
    times.iter().zip(&course).flat_map(of).collect()
}

#[test]
fn readings_teach_how_fast_a_bottle_is() {
    let mut evidence = kitchen();
    evidence.readings = read(&evidence, 0.3, 4);
    let estimate = evidence.fit().unwrap();
    assert!((estimate.values[0] - (libm::log(700.0) - 0.3)).abs() < 0.1, "{:?}", estimate.values);
    assert!(estimate.sd(0) < 0.2);
    let next = estimate.learned(0, 0.10).unwrap();
    assert!(next.sd > estimate.sd(0) && next.sd < 0.25);
}

#[test]
fn a_tub_that_cannot_get_there_says_where_it_peaks() {
    let mut evidence = kitchen();
    evidence.litres = 3.0;
    evidence.tub_c = guess(40.0, 0.5);
    let arrival = evidence.fit().unwrap().arrival(0, 39.5, Looking::from(0.0)).unwrap();
    assert!(arrival.likely_s.is_infinite());
    assert!(arrival.peak_least_c <= arrival.peak_c && arrival.peak_c <= arrival.peak_most_c);
    assert!((30.0..38.0).contains(&arrival.peak_c), "{arrival:?}");
}

#[test]
fn a_reading_before_the_beginning_or_of_nothing_is_refused() {
    let mut evidence = kitchen();
    evidence.readings = vec![Reading { at_s: -1.0, node: 0, celsius: 30.0, sd_k: 0.25 }];
    assert!(matches!(evidence.fit(), Err(Refused::Number { what: "a reading's time", .. })));
    evidence.readings[0] = Reading { at_s: 1.0, node: 2, celsius: 30.0, sd_k: 0.25 };
    assert_eq!(evidence.fit(), Err(Refused::NoBottle { number: 2 }));
    evidence.readings[0] = Reading { at_s: 1.0, node: 0, celsius: f64::NAN, sd_k: 0.25 };
    assert!(matches!(evidence.fit(), Err(Refused::Number { .. })));
}

#[test]
fn readings_out_of_order_or_twice_are_taken_in_their_order() {
    let mut evidence = kitchen();
    evidence.readings = read(&evidence, 0.2, 3);
    let ordered = evidence.fit().unwrap();
    evidence.readings.rotate_left(2);
    let turned = evidence.fit().unwrap();
    assert!((ordered.values[0] - turned.values[0]).abs() < 1e-6);
    let twice = [evidence.readings.clone(), evidence.readings.clone()].concat();
    evidence.readings = twice;
    assert!(evidence.fit().unwrap().sd(0) < ordered.sd(0));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn what_is_looked_at_no_further_would_not_have_come_there(
        litres in 2.0..8.0, tub_c in 30.0..48.0, target_c in 30.0..46.0, room_c in 10.0..35.0,
        added_at_s in 0.0..3000.0, added_c in 10.0..60.0,
    ) {
        let mut evidence = kitchen();
        evidence.litres = litres;
        evidence.tub_c = guess(tub_c, 0.5);
        evidence.room_c = room_c;
        evidence.jumps = vec![guess(0.0, 0.1)];
        let act = Act::Add { litres: 2.0, celsius: added_c, jump_k: 0.0 };
        evidence.events = vec![Event { at_s: added_at_s, act }];
        let estimate = evidence.fit().unwrap();
        let looking = Looking { draws: 1, ..Looking::from(0.0) };
        let arrival = estimate.arrival(0, target_c, looking).unwrap();
        let times: Vec<f64> = (0..=180).map(|index| 20.0 * f64::from(index)).collect();
        let course = estimate.temperatures(&times).unwrap();
        let warmest = course.iter().map(|warm| warm[0]).fold(f64::NEG_INFINITY, f64::max);
        let begins_below = course[0][0] < target_c;
        let arrives = begins_below && warmest >= target_c;
        prop_assert_eq!(arrival.likely_s.is_finite(), arrives || !begins_below
            && course.iter().any(|warm| warm[0] <= target_c));
        if arrival.likely_s.is_infinite() {
            prop_assert!((arrival.peak_c - warmest).abs() < 1e-6, "{} {warmest}", arrival.peak_c);
        }
    }

    #[test]
    fn more_readings_do_not_make_the_estimate_worse(faster in -0.3..0.3_f64) {
        let mut evidence = kitchen();
        let all = read(&evidence, faster, 5);
        let truth = libm::log(700.0) - faster;
        let off = |evidence: &Evidence| (evidence.fit().unwrap().values[0] - truth).abs();
        evidence.readings = all[..4].to_vec();
        let few = off(&evidence);
        evidence.readings = all;
        prop_assert!(off(&evidence) <= few + 0.01);
    }

    #[test]
    fn no_readings_make_it_panic(numbers in prop::collection::vec((any::<f64>(), 0_usize..4, -50.0..150.0_f64), 0..6)) {
        let mut evidence = kitchen();
        evidence.readings = numbers
            .into_iter()
            .map(|(at_s, node, celsius)| Reading { at_s: at_s.abs().min(9_000.0), node, celsius, sd_k: 0.25 })
            .collect();
        if let Ok(estimate) = evidence.fit() {
            let _ = estimate.arrival(0, 38.9, Looking { draws: 4, ..Looking::from(60.0) }).is_ok();
        }
    }
}
