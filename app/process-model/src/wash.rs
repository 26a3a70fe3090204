//! How washing takes out what the film carries: an estimate; the eye decides.
//!
//! Gelatin exchanges with the water around it at a rate with a half time; each fill begins with
//! what stayed of the one before. What is left after three changes or more follows from the soak
//! minutes, not from the litres.

use crate::refused::{Refused, above_nought, water_c, within};

/// What the film carries into a wash.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Washing {
    /// Water in the gelatin, in litres. About 2 mL for a roll.
    pub gelatin_l: f64,
    /// What stays in the tank when it is poured out, in litres.
    pub carried_l: f64,
    /// Half time of the exchange, in seconds.
    pub half_time_s: f64,
}

/// Concentrations relative to the last bath.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// In the gelatin.
    pub gelatin: f64,
    /// In the water around it.
    pub water: f64,
}

/// Half time of the exchange in running water at 20 °C, in seconds.
///
/// # Source
///
/// US Navy photography course: "about one half in one minute" (secondary).
pub const HALF_TIME_20_C_S: f64 = 60.0;

/// The half time at another temperature: diffusion goes with absolute temperature over viscosity.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn half_time_s(at_20_c_s: f64, celsius: f64) -> Result<f64, Refused> {
    above_nought("a half time", at_20_c_s)?;
    water_c("the wash water", celsius)?;
    let runs = |celsius: f64| (celsius + 273.15) / viscosity(celsius);
    Ok(at_20_c_s * runs(20.0) / runs(celsius))
}

/// Viscosity of water in pascal-seconds, 5 to 60 °C.
///
/// # Source
///
/// Fit to IAPWS-95 within 4e-5; checked by `tests/references`.
fn viscosity(celsius: f64) -> f64 {
    const FIT: [f64; 6] = [
        -7.134_367_86,
        -0.532_270_834,
        0.087_352_964_9,
        -0.018_283_469_6,
        0.005_039_508_38,
        -0.001_136_882_49,
    ];
    let x = (celsius - 30.0) / 25.0;
    libm::exp(FIT.iter().rev().fold(0.0, |sum, coefficient| sum * x + coefficient))
}

impl Washing {
    /// What is left after each of these soaks, each in a fill of fresh water.
    ///
    /// `before` is what gelatin and carried liquid hold at first; usually 1 and 1.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be.
    pub fn fills(self, fill_l: f64, soaks_s: &[f64], before: Left) -> Result<Vec<Left>, Refused> {
        self.check(fill_l)?;
        within("a concentration", before.gelatin, 0.0, 1e6)?;
        within("a concentration", before.water, 0.0, 1e6)?;
        let mut left = before;
        let mut after = Vec::with_capacity(soaks_s.len());
        for soak in soaks_s {
            within("a soak", *soak, 0.0, 1e6)?;
            left = self.soak(
                Left { water: left.water * self.carried_l / fill_l, ..left },
                fill_l,
                *soak,
            );
            after.push(left);
        }
        Ok(after)
    }

    /// How many fills of `soak_s` bring the gelatin down to `limit`; nothing if sixty do not.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be.
    pub fn changes(self, fill_l: f64, soak_s: f64, limit: f64) -> Result<Option<u32>, Refused> {
        above_nought("a limit", limit)?;
        let after = self.fills(fill_l, &[soak_s; 60], Left { gelatin: 1.0, water: 1.0 })?;
        let place = after.iter().position(|left| left.gelatin <= limit);
        Ok(place.and_then(|place| u32::try_from(place + 1).ok()))
    }

    /// What is left after `seconds` in running water that is well mixed.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be.
    pub fn running(
        self,
        tank_l: f64,
        flow_l_s: f64,
        seconds: f64,
        before: Left,
    ) -> Result<Left, Refused> {
        self.check(tank_l)?;
        within("a flow", flow_l_s, 0.0, 1e3)?;
        within("a time", seconds, 0.0, 1e6)?;
        within("a concentration", before.gelatin, 0.0, 1e6)?;
        within("a concentration", before.water, 0.0, 1e6)?;
        let rate = self.rate();
        let into_water = rate * self.gelatin_l / tank_l;
        let (a, b, c, d) = (-rate, rate, into_water, -into_water - flow_l_s / tank_l);
        let half = f64::midpoint(a, d);
        let root = (half * half - (a * d - b * c)).max(0.0).sqrt();
        // Two equal rates are a limit that is not worth a formula of its own.
        let (one, other) = (half + root, half - root.max(1e-12));
        let (one_s, other_s) = (libm::exp(one * seconds), libm::exp(other * seconds));
        let apart = one - other;
        let mix = |own: f64, cross: f64, mine: f64, theirs: f64| {
            (one_s * ((own - other) * mine + cross * theirs)
                - other_s * ((own - one) * mine + cross * theirs))
                / apart
        };
        Ok(Left {
            gelatin: mix(a, b, before.gelatin, before.water),
            water: mix(d, c, before.water, before.gelatin),
        })
    }

    /// The exchange of gelatin and still water.
    fn soak(self, left: Left, fill_l: f64, seconds: f64) -> Left {
        let all = left.gelatin * self.gelatin_l + left.water * fill_l;
        let even = all / (self.gelatin_l + fill_l);
        let fades = libm::exp(-self.rate() * (1.0 + self.gelatin_l / fill_l) * seconds);
        let gelatin = even + (left.gelatin - even) * fades;
        Left { gelatin, water: (all - gelatin * self.gelatin_l) / fill_l }
    }

    fn rate(self) -> f64 {
        core::f64::consts::LN_2 / self.half_time_s
    }

    fn check(self, fill_l: f64) -> Result<(), Refused> {
        within("water in the gelatin", self.gelatin_l, 1e-9, 1.0)?;
        within("a half time", self.half_time_s, 1.0, 1e6)?;
        within("a fill", fill_l, 1e-3, 1e3)?;
        within("what stays in the tank", self.carried_l, 0.0, fill_l).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const ROLL: Washing = Washing { gelatin_l: 0.002, carried_l: 0.008, half_time_s: 38.0 };

    #[test]
    fn warm_water_washes_faster() {
        let warm = half_time_s(HALF_TIME_20_C_S, 38.9).unwrap();
        assert!((37.0..39.5).contains(&warm), "{warm}");
        assert!(half_time_s(60.0, 10.0).unwrap() > 60.0);
    }

    #[test]
    fn a_tank_smaller_than_what_stays_in_it_is_refused() {
        let washing = Washing { carried_l: 0.6, ..ROLL };
        assert!(washing.fills(0.5, &[60.0], Left { gelatin: 1.0, water: 1.0 }).is_err());
        assert!(ROLL.changes(0.0, 60.0, 0.01).is_err());
    }

    proptest! {
        #[test]
        fn more_fills_never_leave_more(soak in 10.0..120.0_f64, fill in 0.2..1.5_f64, count in 2_usize..12) {
            let after = ROLL.fills(fill, &vec![soak; count], Left { gelatin: 1.0, water: 1.0 }).unwrap();
            prop_assert!(after.windows(2).all(|pair| pair[1].gelatin <= pair[0].gelatin + 1e-12));
        }

        #[test]
        fn no_numbers_make_it_panic(a: f64, b: f64, c: f64, d: f64, e: f64) {
            let washing = Washing { gelatin_l: a, carried_l: b, half_time_s: c };
            let before = Left { gelatin: d, water: e };
            let _ = (washing.fills(d, &[e], before).is_ok(), washing.changes(a, b, c).is_ok());
            let _ = (washing.running(a, b, c, before).is_ok(), half_time_s(a, b).is_ok());
        }
    }
}
