//! Water of two temperatures put together.

use crate::refused::{Refused, above_nought, water_c, within};

/// The temperature of two things put together, each with its heat in joules per kelvin.
///
/// # Errors
///
/// [`Refused`] for heats of nothing and temperatures that are none of water.
pub fn mixed_c(one_j_k: f64, one_c: f64, other_j_k: f64, other_c: f64) -> Result<f64, Refused> {
    above_nought("a heat", one_j_k)?;
    above_nought("a heat", other_j_k)?;
    water_c("a temperature", one_c)?;
    water_c("a temperature", other_c)?;
    Ok((one_j_k * one_c + other_j_k * other_c) / (one_j_k + other_j_k))
}

/// How much of hot and cold water make a volume of a temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blend {
    /// Hot water, in the unit of the volume.
    pub hot: f64,
    /// Cold water, in the unit of the volume.
    pub cold: f64,
}

/// Hot and cold water for `volume` at `target_c`. One litre holds as much as another: over the
/// temperatures of a sink that errs by less than 0.03 °C.
///
/// # Errors
///
/// [`Refused::OutsideSources`] if the target does not lie between the two.
pub fn blend(volume: f64, target_c: f64, hot_c: f64, cold_c: f64) -> Result<Blend, Refused> {
    above_nought("a volume", volume)?;
    for celsius in [target_c, hot_c, cold_c] {
        water_c("a temperature", celsius)?;
    }
    let (least_c, most_c) = (hot_c.min(cold_c), hot_c.max(cold_c));
    if !(least_c..=most_c).contains(&target_c) || least_c >= most_c {
        return Err(Refused::OutsideSources { target_c, least_c, most_c });
    }
    let hot = volume * (target_c - cold_c) / (hot_c - cold_c);
    Ok(Blend { hot, cold: volume - hot })
}

/// How much water of `water_c` brings `volume` from one temperature to another.
///
/// # Errors
///
/// [`Refused::OutsideSources`] if that water cannot.
pub fn added(volume: f64, from_c: f64, target_c: f64, with_c: f64) -> Result<f64, Refused> {
    within("a volume", volume, 0.0, 1e9)?;
    for celsius in [from_c, target_c, with_c] {
        water_c("a temperature", celsius)?;
    }
    let share = (target_c - from_c) / (with_c - target_c);
    let amount = volume * share;
    if amount.is_finite() && share >= 0.0 {
        return Ok(amount);
    }
    Err(Refused::OutsideSources {
        target_c,
        least_c: from_c.min(with_c),
        most_c: from_c.max(with_c),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_target_outside_the_two_taps_is_refused() {
        let refused = blend(1_000.0, 38.9, 35.0, 15.0).unwrap_err();
        assert_eq!(refused.to_string(), "38.9 °C lies outside 15 to 35 °C");
        assert!(blend(1_000.0, 20.0, 20.0, 20.0).is_err());
        assert!(added(1.0, 38.0, 40.0, 40.0).is_err());
    }

    proptest! {
        #[test]
        fn mixed_water_lies_between_its_parts_and_volumes_add(
            hot in 30.0..60.0_f64, cold in 5.0..25.0_f64, share in 0.0..1.0_f64, volume in 0.1..5_000.0_f64,
        ) {
            let target = cold + share * (hot - cold);
            let made = blend(volume, target, hot, cold).unwrap();
            prop_assert!((made.hot + made.cold - volume).abs() < 1e-9 * volume);
            prop_assert!(made.hot >= -1e-9 && made.cold >= -1e-9);
            if made.hot > 1e-6 && made.cold > 1e-6 {
                let back = mixed_c(made.hot, hot, made.cold, cold).unwrap();
                prop_assert!((back - target).abs() < 1e-6);
            }
        }

        #[test]
        fn no_numbers_make_it_panic(a: f64, b: f64, c: f64, d: f64) {
            let _ = (blend(a, b, c, d).is_ok(), mixed_c(a, b, c, d).is_ok(), added(a, b, c, d).is_ok());
        }
    }
}
