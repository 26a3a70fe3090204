//! A developer that has been poured: what readings in the tank say of its course, and when it is to
//! be poured off.

use super::{Slope, Tank, dose, pour_off_s};
use crate::estimate::Guess;
use crate::refused::{Refused, above_nought, water_c, within};

/// Rounds of the search: each case that was looked at stands still after four.
const ROUNDS: u32 = 8;
/// Four in five lie within so many standard deviations.
const FOUR_IN_FIVE: f64 = 1.281_551_565_5;

/// A temperature read through the pouring opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InTheTank {
    /// Seconds since the clock of the step began.
    pub at_s: f64,
    /// What it said, the thermometer's offset taken away.
    pub celsius: f64,
    /// How sure it is.
    pub sd_k: f64,
}

/// What is known of a developer in the tank.
#[derive(Clone, Debug, PartialEq)]
pub struct Poured {
    /// The tank, what surrounds it, and when it is lifted.
    pub tank: Tank,
    /// How warm the film is when the clock begins.
    pub start_c: Guess,
    /// Natural logarithm of a factor on what the tank exchanges: lifts are longer than planned.
    pub ln_exchange: Guess,
    /// What was read in it.
    pub readings: Vec<InTheTank>,
    /// How the developer follows temperature.
    pub slope: Slope,
    /// The temperature for which its time is meant.
    pub nominal_c: f64,
    /// Its time there.
    pub nominal_s: f64,
}

/// The most likely course.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Course {
    /// How warm the film was when the clock began.
    pub start_c: f64,
    /// When the dose is complete, in seconds since the clock began.
    pub pour_off_s: f64,
    /// Half of the interval that holds it four times in five, in seconds.
    pub half_width_s: f64,
    /// The mean temperature until then.
    pub mean_c: f64,
    ln_exchange: f64,
}

impl Poured {
    /// The most likely course and how sure it is.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be, and a dose that is not reached within four times the
    /// nominal time.
    pub fn course(&self) -> Result<Course, Refused> {
        self.check()?;
        let mut values = [self.start_c.mean, self.ln_exchange.mean];
        let mut normal = self.normal(values).0;
        for _ in 0..ROUNDS {
            let (matrix, right) = self.normal(values);
            let [a, b, c] = matrix;
            let determinant = a * c - b * b;
            let step = [
                (c * right[0] - b * right[1]) / determinant,
                (a * right[1] - b * right[0]) / determinant,
            ];
            // A factor of more than five in one step leads nowhere.
            values = [values[0] + step[0], values[1] + step[1].clamp(-1.5, 1.5)];
            normal = matrix;
        }
        let energy = self.slope.mean_j_mol;
        let likely = self.pour_off(values, energy)?;
        // One standard deviation along each column of the covariance's root, and of the slope.
        let [a, b, c] = normal;
        let (first, second) = (1.0 / (a - b * b / c).sqrt(), 1.0 / c.sqrt());
        let along = [[first, -b / c * first], [0.0, second]];
        let mut variance = 0.0;
        for [start, exchange] in along {
            let moved = [values[0] + start, values[1] + exchange];
            let off = self.pour_off(moved, energy).unwrap_or(likely) - likely;
            variance += off * off;
        }
        let steeper = energy + self.slope.sd_j_mol;
        let off = self.pour_off(values, steeper).unwrap_or(likely) - likely;
        variance += off * off;
        let tank = self.tank_with(values[1]);
        Ok(Course {
            start_c: values[0],
            pour_off_s: likely,
            half_width_s: FOUR_IN_FIVE * variance.sqrt(),
            mean_c: mean(&tank, values[0], likely),
            ln_exchange: values[1],
        })
    }

    /// What `seconds` of that course amount to at the nominal temperature, in seconds.
    pub fn equivalent_s(&self, course: &Course, seconds: f64) -> f64 {
        let tank = self.tank_with(course.ln_exchange);
        let warm = |at: f64| tank.celsius(course.start_c, at);
        dose(&warm, self.slope.mean_j_mol, self.nominal_c, (0.0, seconds), &tank.knots_s())
    }

    fn tank_with(&self, ln_exchange: f64) -> Tank {
        let factor = libm::exp(ln_exchange);
        Tank {
            in_tub_w_k: self.tank.in_tub_w_k * factor,
            in_air_w_k: self.tank.in_air_w_k * factor,
            ..self.tank.clone()
        }
    }

    fn pour_off(&self, [start_c, ln_exchange]: [f64; 2], energy: f64) -> Result<f64, Refused> {
        let tank = self.tank_with(ln_exchange);
        let warm = |at: f64| tank.celsius(start_c, at);
        let found = pour_off_s(&warm, energy, self.nominal_c, self.nominal_s, &tank.knots_s());
        found.ok_or(Refused::NoEstimate)
    }

    /// The matrix (three numbers, as it is symmetric) and the right side of the problem around
    /// `values`: guesses and readings are its rows.
    fn normal(&self, values: [f64; 2]) -> ([f64; 3], [f64; 2]) {
        let [start_c, ln_exchange] = values;
        let guesses = [self.start_c, self.ln_exchange];
        let weight = guesses.map(|guess| 1.0 / (guess.sd * guess.sd));
        let mut matrix = [weight[0], 0.0, weight[1]];
        let mut right =
            [weight[0] * (guesses[0].mean - start_c), weight[1] * (guesses[1].mean - ln_exchange)];
        let tank = self.tank_with(ln_exchange);
        let (warmer, faster) = (start_c + 0.01, self.tank_with(ln_exchange + 0.01));
        for reading in &self.readings {
            let here = tank.celsius(start_c, reading.at_s);
            let by_start = (tank.celsius(warmer, reading.at_s) - here) / 0.01;
            let by_exchange = (faster.celsius(start_c, reading.at_s) - here) / 0.01;
            let weight = 1.0 / (reading.sd_k * reading.sd_k);
            let off = reading.celsius - here;
            matrix[0] += weight * by_start * by_start;
            matrix[1] += weight * by_start * by_exchange;
            matrix[2] += weight * by_exchange * by_exchange;
            right[0] += weight * by_start * off;
            right[1] += weight * by_exchange * off;
        }
        (matrix, right)
    }

    fn check(&self) -> Result<(), Refused> {
        self.tank.check()?;
        water_c("a temperature", self.nominal_c)?;
        above_nought("a time", self.nominal_s)?;
        within("a time", self.nominal_s, 1.0, 86_400.0)?;
        within("a slope", self.slope.mean_j_mol, 0.0, 1e6)?;
        within("a slope's standard deviation", self.slope.sd_j_mol, 0.0, 1e6)?;
        water_c("a temperature at the beginning", self.start_c.mean)?;
        within("a standard deviation", self.start_c.sd, 1e-6, 1e3)?;
        within("a factor", self.ln_exchange.mean, -3.0, 3.0)?;
        within("a standard deviation", self.ln_exchange.sd, 1e-6, 10.0)?;
        for reading in &self.readings {
            within("a reading's time", reading.at_s, 0.0, 86_400.0)?;
            water_c("a reading", reading.celsius)?;
            within("a reading's standard deviation", reading.sd_k, 1e-3, 100.0)?;
        }
        Ok(())
    }
}

/// The mean of a course, by the middles of sixty stretches.
fn mean(tank: &Tank, start_c: f64, seconds: f64) -> f64 {
    let stretch = seconds / 60.0;
    let at = |number: u32| stretch * (f64::from(number) + 0.5);
    (0..60).map(|number| tank.celsius(start_c, at(number))).sum::<f64>() / 60.0
}

#[cfg(test)]
mod tests;
