//! What film does to a solution: load, blending, topping up, and what that means for time.
//!
//! The state is the film area per litre and a share of freshness. Area is conserved: what is not in
//! the bottle any more went out with film or was poured away. Slopes and limits come from the kit's
//! leaflet, never from here.

use crate::refused::{Refused, above_nought, within};

/// A working solution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solution {
    /// How much there is, in litres.
    pub litres: f64,
    /// Film area that has been through it, per litre, in square metres.
    pub load_m2_l: f64,
    /// What is left of its strength against age: 1 fresh, 0 dead.
    pub freshness: f64,
}

impl Solution {
    /// A fresh one.
    pub const fn fresh(litres: f64) -> Self {
        Self { litres, load_m2_l: 0.0, freshness: 1.0 }
    }

    /// After film of this area: it leaves wet with `carried_out_l` of the solution, and has brought
    /// `carried_in_l` of water along.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be, such as more carried out than there is.
    pub fn after_film(
        self,
        area_m2: f64,
        carried_in_l: f64,
        carried_out_l: f64,
    ) -> Result<Self, Refused> {
        self.check()?;
        within("a film area", area_m2, 0.0, 1e3)?;
        within("what is carried in", carried_in_l, 0.0, 1e3)?;
        within("what is carried out", carried_out_l, 0.0, self.litres)?;
        let left = self.litres - carried_out_l;
        let litres = above_nought("what is left", left + carried_in_l)?;
        let area = (self.load_m2_l * self.litres + area_m2) * left / self.litres;
        Ok(Self { litres, load_m2_l: area / litres, freshness: self.freshness * left / litres })
    }

    /// Two put together.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be.
    pub fn with(self, other: Self) -> Result<Self, Refused> {
        self.check()?;
        other.check()?;
        let litres = self.litres + other.litres;
        let share = |one: f64, two: f64| (one * self.litres + two * other.litres) / litres;
        Ok(Self {
            litres,
            load_m2_l: share(self.load_m2_l, other.load_m2_l),
            freshness: share(self.freshness, other.freshness),
        })
    }

    /// So much poured away and the same of fresh put in.
    ///
    /// # Errors
    ///
    /// [`Refused`] if that is more than there is.
    pub fn topped_up(self, litres: f64) -> Result<Self, Refused> {
        self.check()?;
        within("a top-up", litres, 0.0, self.litres)?;
        if litres >= self.litres {
            return Ok(Self::fresh(self.litres));
        }
        if litres == 0.0 {
            return Ok(self);
        }
        Self { litres: self.litres - litres, ..self }.with(Self::fresh(litres))
    }

    /// How many litres to exchange for fresh before the next film, so that the load stays within a
    /// limit after it; more than there is if even a whole exchange would not do.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be.
    pub fn to_exchange(self, next_area_m2: f64, limit_m2_l: f64) -> Result<Exchange, Refused> {
        self.check()?;
        within("a film area", next_area_m2, 0.0, 1e3)?;
        above_nought("a limit", limit_m2_l)?;
        let over = self.load_m2_l + next_area_m2 / self.litres - limit_m2_l;
        if over <= 0.0 {
            return Ok(Exchange { litres: 0.0, is_possible: true });
        }
        // A fresh solution that is too small for the film divides by nought: infinitely much.
        let litres = self.litres * over / self.load_m2_l;
        Ok(Exchange { litres, is_possible: litres <= self.litres })
    }

    /// After so many days, as a caution and not as a time: the rate of a full bottle and what air
    /// over the solution adds are set from a leaflet's shelf lives.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be, such as a bottle smaller than what is in it.
    pub fn after_days(self, days: f64, ageing: Ageing) -> Result<Self, Refused> {
        self.check()?;
        within("days", days, 0.0, 1e5)?;
        within("a bottle", ageing.bottle_l, self.litres, 1e3)?;
        within("a rate", ageing.per_day, 0.0, 1e3)?;
        within("a rate", ageing.per_day_of_air, 0.0, 1e3)?;
        within("a filling", ageing.half_full, 1e-6, 1.0 - 1e-6)?;
        let air = (ageing.bottle_l - self.litres) / self.litres;
        let reference = (1.0 - ageing.half_full) / ageing.half_full;
        let rate = ageing.per_day + ageing.per_day_of_air * (air / reference).max(0.0);
        Ok(Self { freshness: self.freshness * libm::exp(-rate * days), ..self })
    }

    fn check(self) -> Result<(), Refused> {
        within("a volume of solution", self.litres, 1e-6, 1e4)?;
        within("a load", self.load_m2_l, 0.0, 1e4)?;
        within("a freshness", self.freshness, 0.0, 1.0).map(|_| ())
    }
}

/// What to exchange for fresh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exchange {
    /// How much, in litres.
    pub litres: f64,
    /// Whether there is so much.
    pub is_possible: bool,
}

/// How a solution ages.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ageing {
    /// What the bottle holds when full, in litres.
    pub bottle_l: f64,
    /// The rate in a full bottle, per day.
    pub per_day: f64,
    /// What as much air as solution adds at the reference filling, per day.
    pub per_day_of_air: f64,
    /// The reference filling: a share of the bottle.
    pub half_full: f64,
}

/// How a leaflet says that time grows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rule {
    /// So many seconds for each roll before, in so many millilitres.
    Added {
        /// Seconds for each roll.
        seconds: f64,
        /// In how many millilitres.
        per_ml: f64,
    },
    /// So many seconds more for every so many rolls, in so many millilitres.
    Stepped {
        /// Seconds for each step.
        seconds: f64,
        /// Rolls to a step.
        rolls: f64,
        /// In how many millilitres.
        per_ml: f64,
    },
}

/// The time of the next roll after `rolls` trade rolls through `ml`.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn next_time_s(nominal_s: f64, rule: Rule, rolls: f64, ml: f64) -> Result<f64, Refused> {
    above_nought("a time", nominal_s)?;
    within("rolls", rolls, 0.0, 1e4)?;
    above_nought("a volume", ml)?;
    let (seconds, count, per_ml) = match rule {
        Rule::Added { seconds, per_ml } => (seconds, rolls, per_ml),
        Rule::Stepped { seconds, rolls: step, per_ml } => {
            above_nought("rolls to a step", step)?;
            // Steps are of rolls in the leaflet's volume.
            let steps = (rolls * per_ml / ml / step).floor();
            return within(
                "seconds",
                nominal_s + within("seconds", seconds, 0.0, 1e5)? * steps,
                0.0,
                1e6,
            );
        }
    };
    above_nought("a rule's volume", per_ml)?;
    within("seconds", seconds, 0.0, 1e5)?;
    within("seconds", nominal_s + seconds * count * per_ml / ml, 0.0, 1e6)
}

/// How much longer a load and age make a time: a factor from a leaflet's slope per square metre and
/// litre, and an exponent for age.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be, and for a dead solution.
pub fn time_factor(
    solution: Solution,
    slope_per_m2_l: f64,
    age_exponent: f64,
) -> Result<f64, Refused> {
    solution.check()?;
    above_nought("a freshness", solution.freshness)?;
    within("a slope", slope_per_m2_l, 0.0, 1e3)?;
    within("an exponent", age_exponent, 0.0, 10.0)?;
    let worn = 1.0 + slope_per_m2_l * solution.load_m2_l;
    Ok(worn * libm::pow(solution.freshness, -age_exponent))
}

/// The load that topping up `litres` for each roll of `area_m2` comes to in the end.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn steady_load_m2_l(litres: f64, area_m2: f64, top_up_l: f64) -> Result<f64, Refused> {
    above_nought("a volume of solution", litres)?;
    within("a film area", area_m2, 0.0, 1e3)?;
    within("a top-up", top_up_l, f64::MIN_POSITIVE, litres)?;
    // Nothing that could be called a top-up may come to a load without end.
    within("a load", area_m2 / litres * (litres - top_up_l) / top_up_l, 0.0, 1e9)
}

/// What share of a bath is the bath before it, after so many rolls that carried it over.
///
/// With a rinse between them, what is carried is diluted by it first.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn contamination(
    bath_ml: f64,
    carried_ml: f64,
    rinse_ml: Option<f64>,
    rolls: u32,
) -> Result<f64, Refused> {
    above_nought("a bath", bath_ml)?;
    within("what is carried over", carried_ml, 0.0, bath_ml)?;
    let diluted = match rinse_ml {
        Some(rinse) => carried_ml / (carried_ml + above_nought("a rinse", rinse)?),
        None => 1.0,
    };
    let each = carried_ml / (bath_ml + carried_ml) * diluted;
    Ok(1.0 - whole_power(1.0 - each, rolls))
}

/// A number multiplied by itself so often, by squaring: a power of any exponent takes far more code.
fn whole_power(mut base: f64, mut times: u32) -> f64 {
    let mut power = 1.0;
    while times > 0 {
        if times % 2 == 1 {
            power *= base;
        }
        base *= base;
        times /= 2;
    }
    power
}

/// Whether what is left covers the reels.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn covers(
    mixed_ml: f64,
    lost_ml_per_roll: f64,
    rolls: u32,
    least_ml: f64,
) -> Result<bool, Refused> {
    above_nought("a volume", mixed_ml)?;
    within("a loss", lost_ml_per_roll, 0.0, mixed_ml)?;
    above_nought("a tank's least volume", least_ml)?;
    Ok(mixed_ml - lost_ml_per_roll * f64::from(rolls) >= least_ml)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_worn_solution_takes_longer_and_a_topped_up_one_less() {
        let worn = Solution::fresh(1.0).after_film(0.4, 0.0, 0.0).unwrap();
        let fresher = worn.topped_up(0.25).unwrap();
        let factor = |solution| time_factor(solution, 0.5, 0.0).unwrap();
        assert!(factor(worn) > factor(fresher) && factor(fresher) > 1.0);
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let one = Solution::fresh(1.0);
        assert!(one.after_film(0.05, 0.0, 2.0).is_err());
        assert!(Solution::fresh(0.0).topped_up(0.1).is_err());
        assert!(one.topped_up(f64::NAN).is_err());
        assert!(
            next_time_s(210.0, Rule::Added { seconds: 15.0, per_ml: 0.0 }, 3.0, 1_000.0).is_err()
        );
        assert!(!one.to_exchange(2.0, 0.4).unwrap().is_possible);
    }

    #[test]
    fn a_rule_counts_rolls_in_its_own_volume() {
        let added = Rule::Added { seconds: 10.0, per_ml: 1_000.0 };
        assert_eq!(next_time_s(210.0, added, 3.0, 1_000.0), Ok(240.0));
        assert_eq!(next_time_s(210.0, added, 3.0, 500.0), Ok(270.0));
        let stepped = Rule::Stepped { seconds: 15.0, rolls: 4.0, per_ml: 1_000.0 };
        assert_eq!(next_time_s(195.0, stepped, 3.0, 1_000.0), Ok(195.0));
        assert_eq!(next_time_s(195.0, stepped, 4.0, 1_000.0), Ok(210.0));
    }

    proptest! {
        #[test]
        fn blending_conserves_area(
            litres in 0.1..5.0_f64, load in 0.0..2.0_f64, more in 0.1..5.0_f64, other in 0.0..2.0_f64,
        ) {
            let one = Solution { litres, load_m2_l: load, freshness: 0.9 };
            let two = Solution { litres: more, load_m2_l: other, freshness: 0.5 };
            let both = one.with(two).unwrap();
            let area = |solution: Solution| solution.litres * solution.load_m2_l;
            prop_assert!((area(both) - area(one) - area(two)).abs() < 1e-9);
        }

        #[test]
        fn no_numbers_make_it_panic(a: f64, b: f64, c: f64, d: f64, rolls: u32) {
            let solution = Solution { litres: a, load_m2_l: b, freshness: c };
            let _ = (solution.after_film(d, a, b).is_ok(), solution.topped_up(d).is_ok());
            let ageing = Ageing { bottle_l: a, per_day: b, per_day_of_air: c, half_full: d };
            let _ = (solution.after_days(d, ageing).is_ok(), solution.to_exchange(c, d).is_ok());
            let _ = (contamination(a, b, Some(c), rolls).is_ok(), covers(a, b, rolls, c).is_ok());
            let _ = next_time_s(a, Rule::Stepped { seconds: b, rolls: c, per_ml: d }, a, b).is_ok();
            let _ = (time_factor(solution, a, d).is_ok(), steady_load_m2_l(a, b, c).is_ok());
        }
    }
}
