use proptest::prelude::*;

use super::*;
use crate::tub::{Bottle, TUB_J_K_L};

/// Two litre bottles in eight litres.
fn tub(litres: f64) -> Tub {
    let bottle = Bottle { heat_j_k: 4281.0, tau10_s: 635.0, p: 0.12 };
    Tub { bottles: vec![bottle; 2], litres, heat_j_k_l: TUB_J_K_L, loss_w_k: 5.0, room_c: 20.0 }
}

fn wish(target_c: f64) -> Wish {
    let most_c = HandsInTub::Yes.planned_most_c();
    Wish { bottle: 0, target_c, in_s: 600.0, tap_c: 49.0, most_l: 9.0, most_c }
}

#[test]
fn two_cold_bottles_take_several_rounds() {
    let plan = rounds(&tub(8.0), &[20.0, 20.0, 43.0], wish(38.9)).unwrap();
    assert!(plan.rounds.len() >= 2, "{plan:?}");
    assert!(plan.arrives_s.is_some_and(|at| at < 3_600.0), "{plan:?}");
    assert!(plan.rounds.iter().all(|round| round.tub_c <= 43.5 + 1e-6), "{plan:?}");
    let halves = plan.rounds.iter().flat_map(|round| [round.add_l, round.drain_l]);
    assert!(halves.into_iter().all(|litres| (litres * 2.0).fract().abs() < 1e-9), "{plan:?}");
}

#[test]
fn a_tub_that_gets_there_by_itself_needs_no_round() {
    let plan =
        rounds(&tub(12.0), &[37.0, 37.0, 43.0], Wish { most_l: 12.0, ..wish(38.9) }).unwrap();
    assert!(plan.rounds.is_empty() && plan.arrives_s.is_some(), "{plan:?}");
}

#[test]
fn a_bottle_that_is_too_warm_is_cooled_the_same_way() {
    let cold = Wish { tap_c: 15.0, ..wish(38.9) };
    let plan = rounds(&tub(8.0), &[42.0, 40.0, 43.0], cold).unwrap();
    assert!(plan.arrives_s.is_some() && !plan.rounds.is_empty(), "{plan:?}");
}

#[test]
fn taps_that_are_too_cold_are_never_an_amount() {
    let found = water(&tub(8.0), &[20.0, 20.0, 30.0], Wish { tap_c: 35.0, ..wish(38.9) }).unwrap();
    assert!(!found.is_feasible);
    let plan = rounds(&tub(8.0), &[20.0, 20.0, 30.0], Wish { tap_c: 35.0, ..wish(38.9) }).unwrap();
    assert_eq!(plan.arrives_s, None);
    assert!(plan.peak_c < 35.0);
}

#[test]
fn a_bottle_is_left_warmer_the_longer_it_waits() {
    let leave =
        |minutes: f64| leave_c(&tub(8.0), &[0.0, 40.0, 41.0], 0, 38.9, minutes * 60.0).unwrap();
    assert!(leave(0.0) - 38.9 < 1e-6);
    let cooling =
        |minutes: f64| leave_c(&tub(8.0), &[0.0, 36.0, 36.0], 0, 38.9, minutes * 60.0).unwrap();
    assert!(cooling(10.0) > cooling(5.0) && cooling(5.0) > 38.9);
}

#[test]
fn what_is_not_there_is_refused() {
    let missing = Wish { bottle: 2, ..wish(38.9) };
    assert_eq!(
        water(&tub(8.0), &[20.0, 20.0, 40.0], missing),
        Err(Refused::NoBottle { number: 2 })
    );
    assert!(leave_c(&tub(8.0), &[20.0, 20.0, 40.0], 2, 38.9, 60.0).is_err());
    assert!(water(&tub(8.0), &[20.0, 20.0, 40.0], Wish { tap_c: f64::NAN, ..wish(38.9) }).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn advice_never_plans_a_tub_that_burns_hands(bottle in 10.0..36.0_f64, water in 25.0..45.0_f64, tap in 40.0..60.0_f64) {
        let plan = rounds(&tub(8.0), &[bottle, bottle, water], Wish { tap_c: tap, ..wish(38.9) }).unwrap();
        prop_assert!(plan.rounds.iter().all(|round| round.tub_c <= 43.5 + 1e-6));
    }

    #[test]
    fn no_wish_makes_it_panic(a: f64, b: f64, c: f64, d: f64, e: f64, bottle in 0_usize..3) {
        let wish = Wish { bottle, target_c: a, in_s: b, tap_c: c, most_l: d, most_c: e };
        let _ = (water(&tub(8.0), &[a, b, c], wish).is_ok(), rounds(&tub(8.0), &[20.0, 20.0, 40.0], wish).is_ok());
        let _ = leave_c(&tub(8.0), &[a, b, c], bottle, d, e).is_ok();
    }
}
