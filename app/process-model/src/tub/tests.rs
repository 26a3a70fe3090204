use proptest::prelude::*;

use super::*;

fn tub(loss_w_k: f64) -> Tub {
    let bottle = Bottle { heat_j_k: 4281.0, tau10_s: 700.0, p: 0.12 };
    Tub { bottles: vec![bottle; 2], litres: 8.0, heat_j_k_l: TUB_J_K_L, loss_w_k, room_c: 20.0 }
}

/// Heat in all of it above 0 °C, in joules.
fn heat(tub: &Tub, warm: &[f64]) -> f64 {
    let bottles: f64 =
        tub.bottles.iter().zip(warm).map(|(bottle, warm)| bottle.heat_j_k * warm).sum();
    bottles + tub.litres * tub.heat_j_k_l * warm[warm.len() - 1]
}

#[test]
fn what_is_read_at_the_instant_of_an_act_was_read_before_it() {
    let add = Act::Add { litres: 2.0, celsius: 60.0, jump_k: 0.0 };
    let events = [Event { at_s: 60.0, act: add }];
    let read = tub(5.0).run(&[20.0, 20.0, 40.0], &[60.0, 60.001], &events).unwrap();
    assert!(read[1][2] - read[0][2] > 3.0, "{read:?}");
}

#[test]
fn a_bottle_that_is_lifted_out_keeps_its_temperature() {
    let events = [Event { at_s: 0.0, act: Act::Out { bottle: 0 } }];
    let read = tub(5.0).run(&[20.0, 20.0, 44.0], &[600.0], &events).unwrap();
    assert!((read[0][0] - 20.0).abs() < 1e-12 && read[0][1] > 30.0);
}

#[test]
fn impossible_numbers_are_refused_with_their_value() {
    let boiling = tub(5.0).run(&[20.0, 20.0, 120.0], &[60.0], &[]);
    assert_eq!(boiling, Err(Refused::Number { what: "a temperature", value: 120.0 }));
    let back = tub(5.0).run(&[20.0, 20.0, 40.0], &[60.0, 30.0], &[]);
    assert_eq!(back, Err(Refused::Number { what: "a time", value: 30.0 }));
    let empty = Tub { litres: 0.0, ..tub(5.0) };
    assert!(empty.run(&[20.0, 20.0, 40.0], &[60.0], &[]).is_err());
    let events = [Event { at_s: 0.0, act: Act::Out { bottle: 7 } }];
    let missing = tub(5.0).run(&[20.0, 20.0, 40.0], &[60.0], &events);
    assert_eq!(missing, Err(Refused::NoBottle { number: 7 }));
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![any::<f64>(), -10.0..120.0_f64, Just(0.0)]
}

proptest! {
    #[test]
    fn without_loss_no_heat_is_lost(bottle in 5.0..45.0_f64, water in 10.0..60.0_f64, time in 1.0..4000.0_f64) {
        let tub = tub(0.0);
        let start = [bottle, bottle + 3.0, water];
        let end = tub.run(&start, &[time], &[]).unwrap().remove(0);
        let (before, after) = (heat(&tub, &start), heat(&tub, &end));
        prop_assert!((before - after).abs() < 1e-6 * before.abs(), "{before} {after}");
    }

    #[test]
    fn a_warmer_tub_never_leaves_a_bottle_colder(water in 30.0..48.0_f64, more in 0.0..5.0_f64) {
        let end = |water: f64| tub(5.0).run(&[20.0, 22.0, water], &[900.0], &[]).unwrap()[0][0];
        prop_assert!(end(water + more) >= end(water) - 1e-9);
    }

    #[test]
    fn nothing_that_is_asked_makes_it_panic(
        numbers in prop::collection::vec(any_number(), 14),
        bottle in 0_usize..4,
    ) {
        let [heat, tau, p, litres, holds, loss, room, a, b, c, at, add, warm, time] = numbers[..] else {
            unreachable!("fourteen numbers")
        };
        let bottles = vec![Bottle { heat_j_k: heat, tau10_s: tau, p }; 2];
        let tub = Tub { bottles, litres, heat_j_k_l: holds, loss_w_k: loss, room_c: room };
        let put = Act::Add { litres: add, celsius: warm, jump_k: 0.0 };
        let events = [Event { at_s: at, act: put }, Event { at_s: time, act: Act::Out { bottle } }];
        // Times are held short so that a million seconds are not gone through again and again.
        let _ = tub.run(&[a, b, c], &[time.min(5_000.0)], &events).is_ok();
    }
}
