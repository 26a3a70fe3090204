//! Numbers nobody would type, into every public function of the model that takes numbers: refused, or
//! answered by a number.

use process_model::advice::Wish;
use process_model::development::{self, Pair, Slope};
use process_model::refused::Refused;
use process_model::solution::{self, Rule};
use process_model::tub::{Bottle, Tub};
use process_model::{advice, mixing, printed, vessel, wash, water};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::for_a_while;

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => 0.0..60.0_f64,
        1 => 0.0..5000.0_f64,
        1 => any::<f64>(),
        1 => select(vec![
            f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -0.0, f64::MIN_POSITIVE, f64::MAX, f64::MIN,
            -273.15, 1e-300, 1e15,
        ]),
    ]
}

type Of = (&'static str, fn(&[f64]) -> Result<f64, Refused>);

/// Each by name, with as many of eight numbers as it takes.
const ANSWERED: [Of; 18] = [
    ("mixed_c", |n| water::mixed_c(n[0], n[1], n[2], n[3])),
    ("blend", |n| water::blend(n[0], n[1], n[2], n[3]).map(|both| both.hot + both.cold)),
    ("added", |n| water::added(n[0], n[1], n[2], n[3])),
    ("one_plus", |n| mixing::one_plus(n[0], n[1]).map(|made| made.water)),
    ("one_in", |n| mixing::one_in(n[0], n[1]).map(|made| made.water)),
    ("half_time_s", |n| wash::half_time_s(n[0], n[1])),
    ("ln_loss", |n| vessel::ln_loss(n[0], n[1] > 1.0).map(|guess| guess.mean)),
    ("bottle", |n| vessel::bottle(None, n[0], n[1]).map(|bottle| bottle.heat_j_k)),
    ("tank", |n| vessel::tank(n[0], n[1] > 1.0).map(|_| 0.0)),
    ("added seconds", |n| {
        solution::next_time_s(n[0], Rule::Added { seconds: n[1], per_ml: n[2] }, n[3], n[4])
    }),
    ("stepped seconds", |n| {
        let rule = Rule::Stepped { seconds: n[1], rolls: n[2], per_ml: n[5] };
        solution::next_time_s(n[0], rule, n[3], n[4])
    }),
    ("steady load", |n| solution::steady_load_m2_l(n[0], n[1], n[2])),
    ("contamination", |n| solution::contamination(n[0], n[1], None, whole(n[2]))),
    ("rinsed contamination", |n| solution::contamination(n[0], n[1], Some(n[3]), whole(n[2]))),
    ("sensitivity", |n| {
        let slope = Slope { mean_j_mol: n[3], sd_j_mol: n[4] };
        development::sensitivity(slope, n[0], n[1], n[2]).map(|found| found.rate)
    }),
    ("between", |n| {
        let pairs = [(n[0], n[1]), (n[2], n[3]), (n[4], n[5])];
        let pairs = pairs.map(|(celsius, seconds)| Pair { celsius, seconds });
        development::between(&pairs, n[6]).map(|_| 0.0)
    }),
    ("leave_c", |n| advice::leave_c(&tub(n), &[n[5], n[6]], usize::from(n[7] > 20.0), n[2], n[3])),
    ("water", |n| advice::water(&tub(n), &[n[5], n[6]], wish(n)).map(|water| water.tub_c)),
];

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "any whole number will do"
)]
fn whole(number: f64) -> u32 {
    number as u32
}

fn tub(n: &[f64]) -> Tub {
    let bottle = Bottle { heat_j_k: n[4], tau10_s: n[7], p: 0.15 };
    Tub {
        bottles: vec![bottle, bottle],
        litres: n[0],
        heat_j_k_l: 4180.0,
        loss_w_k: n[1],
        room_c: n[2],
    }
}

fn wish(n: &[f64]) -> Wish {
    let bottle = usize::from(n[0] > 30.0);
    Wish { bottle, target_c: n[2], in_s: n[3], tap_c: n[1], most_l: n[0], most_c: n[4] }
}

#[test]
fn no_number_makes_the_model_panic_or_answer_with_what_is_no_number() {
    for_a_while("numbers", &vec(number(), 8), |numbers| {
        for (name, ask) in ANSWERED {
            if let Ok(answer) = ask(&numbers) {
                prop_assert!(answer.is_finite(), "{name} answers {answer}");
            }
        }
        let _ = printed::burns_after_s(numbers[0]);
        let _ = mixing::graduation(numbers[0]);
        let points = [(numbers[0], numbers[1]), (numbers[2], numbers[3])];
        let _ = development::straight(&points, numbers[4]);
        let _ = advice::seconds_in(numbers[0], numbers[1], (numbers[2], numbers[3]), numbers[4]);
        let _ = advice::unswirled(numbers[0], numbers[1], numbers[2]);
        Ok(())
    });
}
