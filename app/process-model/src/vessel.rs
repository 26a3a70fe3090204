//! Bottles, tubs and tanks before anything has been measured.
//!
//! Computed from textbook correlations (see `tests/references`), not measured on a vessel: so a guess
//! is wide, and every session makes it narrower.

use crate::estimate::Guess;
use crate::refused::{Refused, within};
use crate::tub::TUB_J_K_L;

/// What a vessel is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Material {
    /// White or brown plastic, the usual chemistry bottle.
    #[default]
    Hdpe,
    /// A clear drinks bottle.
    Pet,
    /// A bottle that folds.
    Accordion,
    /// Glass.
    Glass,
    /// Steel.
    Steel,
}

impl Material {
    /// Every material.
    pub const ALL: [Self; 5] = [Self::Hdpe, Self::Pet, Self::Accordion, Self::Glass, Self::Steel];
}

/// A bottle that was computed.
struct Computed {
    material: Material,
    litres: f64,
    heat_j_k: f64,
    /// Time constant at 10 °C difference, still, fully immersed, in seconds.
    still_s: f64,
    /// The same, 60 % immersed.
    shallow_s: f64,
}

const fn computed(
    material: Material,
    litres: f64,
    heat_j_k: f64,
    still_s: f64,
    shallow_s: f64,
) -> Computed {
    Computed { material, litres, heat_j_k, still_s, shallow_s }
}

/// Natural convection by Churchill and Chu 1975, wall by its thickness; sizes and walls are typical
/// and from memory.
const BOTTLES: [Computed; 9] = [
    computed(Material::Hdpe, 0.5, 2158.0, 486.0, 774.0),
    computed(Material::Hdpe, 1.0, 4281.0, 635.0, 1013.0),
    computed(Material::Hdpe, 2.0, 8535.0, 889.0, 1411.0),
    computed(Material::Glass, 0.5, 2334.0, 511.0, 812.0),
    computed(Material::Glass, 1.0, 4566.0, 672.0, 1069.0),
    computed(Material::Pet, 0.3, 1272.0, 378.0, 602.0),
    computed(Material::Pet, 1.0, 4205.0, 542.0, 870.0),
    computed(Material::Accordion, 1.0, 4405.0, 644.0, 1012.0),
    computed(Material::Steel, 1.0, 4286.0, 371.0, 588.0),
];

/// A bottle that nobody knows: eleven minutes, and very unsure.
const UNKNOWN: Guess = Guess { mean: 6.492_239_835, sd: 0.5 };
/// How unsure a computed time constant is: the conductivity of plastic alone differs by 40 % between
/// tables.
const BOTTLE_SD: f64 = 0.35;
/// How unsure a computed loss is: draughts and lids change it by a factor of 0.45 to 2.
const LOSS_SD: f64 = 0.4;
/// How the rate grows with the difference, before it is measured: 0.12 ± 0.06, from the correlations.
pub const EXPONENT: Guess = Guess { mean: 0.12, sd: 0.06 };
/// What is added to a learned value's doubt from one session to the next.
pub const DRIFT_SD: f64 = 0.10;

/// What is known beforehand about a bottle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BottleDefaults {
    /// What it holds, in joules per kelvin.
    pub heat_j_k: f64,
    /// Natural logarithm of its time constant at 10 °C difference, in seconds.
    pub ln_tau10: Guess,
}

/// A bottle of a material and a volume, so deep in the water.
///
/// `immersed` is a share of its height; 0.8 is usual.
///
/// # Errors
///
/// [`Refused`] for volumes and shares that cannot be.
pub fn bottle(
    material: Option<Material>,
    litres: f64,
    immersed: f64,
) -> Result<BottleDefaults, Refused> {
    within("a bottle's volume", litres, 0.05, 20.0)?;
    within("how deep a bottle stands", immersed, 0.1, 1.0)?;
    let known = material.and_then(|material| nearest(material, litres));
    let Some(known) = known else {
        return Ok(BottleDefaults { heat_j_k: 4200.0 * litres, ln_tau10: UNKNOWN });
    };
    // The time constant grows with the volume over the surface, about as the cube root.
    let size = libm::cbrt(litres / known.litres);
    let deep = (immersed - 0.6) / 0.4;
    let rate = 1.0 / known.shallow_s + deep * (1.0 / known.still_s - 1.0 / known.shallow_s);
    let tau_s = size / rate.max(1e-5);
    Ok(BottleDefaults {
        heat_j_k: known.heat_j_k * litres / known.litres,
        ln_tau10: Guess { mean: libm::log(tau_s), sd: BOTTLE_SD },
    })
}

/// The computed bottle of that material that is nearest in size.
fn nearest(material: Material, litres: f64) -> Option<&'static Computed> {
    let off = |bottle: &Computed| libm::log(bottle.litres / litres).abs();
    let mut best: Option<&Computed> = None;
    for bottle in BOTTLES.iter().filter(|bottle| bottle.material == material) {
        if best.is_none_or(|best| off(bottle) < off(best)) {
            best = Some(bottle);
        }
    }
    best
}

/// Litres and loss in watts per kelvin of an open tub at 39 °C in a room of 20 °C.
///
/// Evaporation by Shah 2002 (HVAC&R Research 8(1):125), convection and radiation by the textbook.
const TUBS: [(f64, f64); 6] =
    [(4.0, 3.25), (6.0, 4.12), (8.0, 5.0), (10.0, 5.9), (12.0, 6.7), (15.0, 8.1)];
/// A covered tub loses about this share. Estimate.
const COVERED: f64 = 0.45;

/// Natural logarithm of the loss of a tub, in watts per kelvin.
///
/// # Errors
///
/// [`Refused`] for volumes that cannot be.
pub fn ln_loss(litres: f64, is_covered: bool) -> Result<Guess, Refused> {
    within("a tub's volume", litres, 0.5, 200.0)?;
    let above = TUBS.iter().position(|(size, _)| *size >= litres).unwrap_or(TUBS.len() - 1).max(1);
    let ((small, least), (large, most)) = (TUBS[above - 1], TUBS[above]);
    let share = (litres - small) / (large - small);
    let loss = f64::max(least + share * (most - least), 0.5);
    let loss = if is_covered { loss * COVERED } else { loss };
    Ok(Guess { mean: libm::log(loss), sd: LOSS_SD })
}

/// What a tub of so many litres holds, in joules per kelvin.
pub fn tub_heat_j_k(litres: f64) -> f64 {
    TUB_J_K_L * litres
}

/// A filled tank of half a litre, and what it exchanges with tub and room, in watts per kelvin.
///
/// # Source
///
/// Computed; not measured on a tank. The tub hardly re-warms a plastic tank in 25 s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TankDefaults {
    /// What it holds, solution included, in joules per kelvin.
    pub heat_j_k: f64,
    /// What tank, reel and film hold of that.
    pub shell_j_k: f64,
    /// What it exchanges with the tub.
    pub in_tub_w_k: f64,
    /// What it exchanges with the room while it is dry.
    pub dry_w_k: f64,
    /// What it exchanges with the room while it is wet.
    pub wet_w_k: f64,
}

/// A tank filled with so much.
///
/// # Errors
///
/// [`Refused`] for volumes that cannot be.
pub fn tank(litres: f64, is_steel: bool) -> Result<TankDefaults, Refused> {
    within("a tank's volume", litres, 0.1, 10.0)?;
    // Half a litre: plastic 23 min in the tub, 89 dry and 33 wet in air; steel 5.7, 84 and 26.
    let heat_j_k = 2430.0 * litres / 0.5;
    let surface = libm::cbrt(litres / 0.5) * libm::cbrt(litres / 0.5);
    let exchange = |minutes: f64| 2430.0 / (minutes * 60.0) * surface;
    let (tub, dry, wet) = if is_steel { (5.7, 84.0, 26.0) } else { (23.0, 89.0, 33.0) };
    Ok(TankDefaults {
        heat_j_k,
        shell_j_k: 340.0 * litres / 0.5,
        in_tub_w_k: exchange(tub),
        dry_w_k: exchange(dry),
        wet_w_k: exchange(wet),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_deeper_bottle_follows_faster_and_a_larger_one_slower() {
        let tau = |litres, deep| bottle(Some(Material::Hdpe), litres, deep).unwrap().ln_tau10.mean;
        assert!(tau(1.0, 1.0) < tau(1.0, 0.8) && tau(1.0, 0.8) < tau(1.0, 0.6));
        assert!((libm::exp(tau(1.0, 1.0)) - 635.0).abs() < 1e-6);
        assert!((libm::exp(tau(1.0, 0.6)) - 1013.0).abs() < 1e-6);
        assert!(tau(2.0, 0.8) > tau(1.0, 0.8));
    }

    #[test]
    fn a_covered_tub_loses_less_and_a_larger_one_more() {
        let loss = |litres, covered| libm::exp(ln_loss(litres, covered).unwrap().mean);
        assert!((loss(8.0, false) - 5.0).abs() < 1e-9);
        assert!(loss(8.0, true) < 2.5 && loss(15.0, false) > loss(4.0, false));
    }

    #[test]
    fn a_bottle_of_unknown_make_is_a_wide_guess() {
        let unknown = bottle(None, 1.0, 0.8).unwrap();
        assert!(unknown.ln_tau10.sd > BOTTLE_SD);
        assert!(bottle(None, 0.0, 0.8).is_err() && tank(f64::NAN, true).is_err());
    }

    proptest! {
        #[test]
        fn no_numbers_make_it_panic(a: f64, b: f64, covered: bool) {
            for material in Material::ALL {
                let _ = bottle(Some(material), a, b).is_ok();
            }
            let _ = (ln_loss(a, covered).is_ok(), tank(a, covered).is_ok());
        }
    }
}
