//! Several thousand results of the model, hashed bit by bit.

use process_model::development::{
    ColdTank, Curve, Duty, Pair, TYPICAL_COLOUR, Tank, dose, pour_off_s, sensitivity, straight,
};
use process_model::estimate::Looking;
use process_model::solution::{Solution, time_factor};
use process_model::tub::{Act, Bottle, Event, TUB_J_K_L, Tub};
use process_model::vessel::{Material, bottle, ln_loss};
use process_model::wash::{Left, Washing, half_time_s};

use crate::work::kitchen;

/// FNV-1a over the bits of numbers.
struct Digest {
    hash: u64,
    count: u32,
}

impl Digest {
    fn add(&mut self, value: f64) {
        for byte in value.to_bits().to_le_bytes() {
            self.hash = (self.hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
        self.count += 1;
    }

    fn all(&mut self, values: impl IntoIterator<Item = f64>) {
        values.into_iter().for_each(|value| self.add(value));
    }
}

pub(crate) fn digest() -> String {
    let mut digest = Digest { hash: 0xcbf2_9ce4_8422_2325, count: 0 };
    tubs(&mut digest);
    estimates(&mut digest);
    developers(&mut digest);
    tanks(&mut digest);
    washes(&mut digest);
    solutions(&mut digest);
    format!("{} results, {:016x}", digest.count, digest.hash)
}

/// So many even steps from one number to another.
fn between(from: f64, until: f64, steps: u32) -> impl Iterator<Item = f64> {
    (0..steps).map(move |step| from + (until - from) * f64::from(step) / f64::from(steps))
}

fn tubs(digest: &mut Digest) {
    for water in between(38.0, 49.0, 12) {
        for p in between(0.0, 0.25, 6) {
            let bottle = Bottle { heat_j_k: 4281.0, tau10_s: 635.0, p };
            let tub = Tub {
                bottles: vec![bottle; 2],
                litres: 8.0,
                heat_j_k_l: TUB_J_K_L,
                loss_w_k: 5.0,
                room_c: 20.0,
            };
            let add = Act::Add { litres: 1.5, celsius: 49.0, jump_k: 0.0 };
            let events = [Event { at_s: 301.0, act: add }];
            let times: Vec<f64> = between(60.0, 1_800.0, 12).collect();
            let course = tub.run(&[20.0, 24.0, water], &times, &events).unwrap_or_default();
            digest.all(course.into_iter().flatten());
        }
    }
}

fn estimates(digest: &mut Digest) {
    for little in between(0.0, 1.0, 6) {
        let Ok(estimate) = kitchen(little).fit() else { continue };
        digest.all(estimate.values.iter().copied());
        digest.all(estimate.covariance.iter().copied());
        if let Ok(arrival) = estimate.arrival(0, 38.0, Looking::from(300.0)) {
            digest.all([arrival.likely_s, arrival.early_s, arrival.late_s, arrival.peak_c]);
        }
    }
}

fn developers(digest: &mut Digest) {
    let pairs = [
        Pair { celsius: 30.0, seconds: 480.0 },
        Pair { celsius: 37.8, seconds: 195.0 },
        Pair { celsius: 45.0, seconds: 120.0 },
    ];
    for rounding in between(0.0, 30.0, 10) {
        let Ok(curve) = Curve::fit(&pairs, rounding, Some(TYPICAL_COLOUR)) else { continue };
        digest.add(curve.slope.mean_j_mol);
        for celsius in between(20.0, 46.0, 20) {
            digest.all(curve.seconds(celsius));
            digest.all(sensitivity(curve.slope, 38.9, celsius, 0.3).map(|found| found.sd_ln));
        }
    }
    for drop in between(-3.0, 3.0, 30) {
        let course = |at: f64| straight(&[(0.0, 40.0), (300.0, 40.0 - drop)], at);
        digest.add(dose(&course, 80_000.0, 38.9, (0.0, 210.0), &[300.0]));
        digest.all(pour_off_s(&course, 80_000.0, 38.9, 210.0, &[300.0]));
    }
}

fn tanks(digest: &mut Digest) {
    for cold in between(20.0, 38.0, 12) {
        let tank = Tank {
            heat_j_k: 2430.0,
            in_tub_w_k: 1.76,
            in_air_w_k: 1.21,
            tub_c: 38.9,
            room_c: 20.0,
            out: (0..7).map(|nth| Duty { at_s: 30.0 * f64::from(nth), seconds: 5.0 }).collect(),
        };
        let cold = Some(ColdTank { heat_j_k: 340.0, celsius: cold });
        if let Ok(found) = tank.pouring(cold, 80_000.0, 38.9, 210.0) {
            digest.all([found.pour_c, found.end_c]);
        }
    }
    for litres in between(0.3, 2.0, 30) {
        for material in Material::ALL {
            digest.all(bottle(Some(material), litres, 0.8).map(|found| found.ln_tau10.mean));
        }
        digest.all(ln_loss(litres * 6.0, false).map(|found| found.mean));
    }
}

fn washes(digest: &mut Digest) {
    for celsius in between(10.0, 45.0, 30) {
        let half = half_time_s(60.0, celsius).unwrap_or(f64::NAN);
        digest.add(half);
        let washing = Washing { gelatin_l: 0.002, carried_l: 0.008, half_time_s: half };
        let before = Left { gelatin: 1.0, water: 1.0 };
        let after = washing.fills(0.5, &[60.0; 8], before).unwrap_or_default();
        digest.all(after.into_iter().flat_map(|left| [left.gelatin, left.water]));
        digest.all(washing.running(0.5, 0.01, 300.0, before).map(|left| left.gelatin));
    }
}

fn solutions(digest: &mut Digest) {
    let mut solution = Solution::fresh(1.0);
    for area in between(0.03, 0.11, 40) {
        let worn = solution.after_film(area, 0.004, 0.01).and_then(|worn| worn.topped_up(0.04));
        let Ok(worn) = worn else { break };
        solution = worn;
        digest.all([solution.litres, solution.load_m2_l, solution.freshness]);
        digest.all(time_factor(solution, 0.5, 1.2));
    }
}
