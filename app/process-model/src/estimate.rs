//! What the readings say about bottles and tub: the most likely constants, and how sure they are.
//!
//! One estimate over the whole window: prior guesses are rows of the same least-squares problem as
//! the readings, so that a reading can be corrected, taken away or come late, and two readings
//! already give an answer. Levenberg-Marquardt; see the reference cases for what it is held to.

mod fit;
mod sorted;

use crate::draws::draws;
use crate::refused::{Refused, above_nought, water_c, within};
use crate::tub::{Act, Bottle, Event, MOST_BOTTLES, Tub, in_order};
use sorted::{by_time, grid_of, quantile, share, sort};

/// A value before it is measured: its mean and standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// The mean.
    pub mean: f64,
    /// The standard deviation.
    pub sd: f64,
}

impl Guess {
    /// The guess for the next session: the same mean, and a little less sure.
    #[must_use]
    pub fn next(self, drift_sd: f64) -> Self {
        Self { mean: self.mean, sd: (self.sd * self.sd + drift_sd * drift_sd).sqrt() }
    }
}

/// One reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Seconds since the beginning.
    pub at_s: f64,
    /// Which bottle, from 0; the number after the last bottle is the tub.
    pub node: usize,
    /// What the thermometer said, its offset taken away.
    pub celsius: f64,
    /// How sure it is.
    pub sd_k: f64,
}

/// What is known about one bottle beforehand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BottleGuess {
    /// What it holds, in joules per kelvin. Taken as known.
    pub heat_j_k: f64,
    /// Natural logarithm of its time constant at 10 °C difference, in seconds.
    pub ln_tau10: Guess,
    /// Its temperature at the beginning.
    pub start_c: Guess,
}

/// All that is known of a session.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// The bottles.
    pub bottles: Vec<BottleGuess>,
    /// Water in the tub at the beginning, in litres.
    pub litres: f64,
    /// What a litre holds, in joules per kelvin.
    pub heat_j_k_l: f64,
    /// The room.
    pub room_c: f64,
    /// Natural logarithm of the tub's loss in watts per kelvin.
    pub ln_loss: Guess,
    /// The tub at the beginning.
    pub tub_c: Guess,
    /// How the rate grows with the difference, for every bottle.
    pub p: Guess,
    /// By how much the tub may be off after each addition of water, in their order.
    pub jumps: Vec<Guess>,
    /// What was read.
    pub readings: Vec<Reading>,
    /// What was done.
    pub events: Vec<Event>,
}

/// The most likely values, and how sure they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    evidence: Evidence,
    /// For each bottle the logarithm of its time constant and its temperature at the beginning;
    /// then the logarithm of the loss, the tub at the beginning, the exponent; then a jump for each
    /// addition.
    pub values: Vec<f64>,
    /// Their covariance, row by row.
    pub covariance: Vec<f64>,
}

/// When a bottle reaches a temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrival {
    /// From now by the most likely values, in seconds; infinite: not within the horizon.
    pub likely_s: f64,
    /// Nine in ten arrive after this.
    pub early_s: f64,
    /// Nine in ten arrive before this.
    pub late_s: f64,
    /// The share that does not arrive within the horizon.
    pub never: f64,
    /// The warmest by the most likely values; the target, if it arrives.
    pub peak_c: f64,
    /// Nine in ten peaks are warmer than this. What arrives counts as the target: its peak is not
    /// looked for.
    pub peak_least_c: f64,
    /// Nine in ten peaks are colder than this.
    pub peak_most_c: f64,
}

/// How an arrival is looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looking {
    /// From which instant, in seconds since the beginning.
    pub now_s: f64,
    /// How far ahead, in seconds.
    pub horizon_s: f64,
    /// On what grid, in seconds.
    pub grid_s: f64,
    /// With how many draws.
    pub draws: u32,
}

impl Looking {
    /// An hour ahead, every 20 s, with 64 draws.
    pub const fn from(now_s: f64) -> Self {
        Self { now_s, horizon_s: 3600.0, grid_s: 20.0, draws: 64 }
    }
}

impl Evidence {
    /// The number that stands for the tub in a reading.
    pub fn tub_node(&self) -> usize {
        self.bottles.len()
    }

    /// The most likely values.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be, readings before the beginning or of what is not
    /// there, and readings that cannot be brought together.
    pub fn fit(&self) -> Result<Estimate, Refused> {
        self.check()?;
        let mut evidence = self.clone();
        evidence.events = in_order(&self.events);
        evidence.readings = by_time(&self.readings);
        let (values, covariance) = fit::fit(&evidence).ok_or(Refused::NoEstimate)?;
        Ok(Estimate { evidence, values, covariance })
    }

    /// The guesses, in the order of an estimate's values.
    fn guesses(&self) -> Vec<Guess> {
        let bottles = self.bottles.iter().flat_map(|bottle| [bottle.ln_tau10, bottle.start_c]);
        bottles
            .chain([self.ln_loss, self.tub_c, self.p])
            .chain(self.jumps.iter().copied())
            .collect()
    }

    fn check(&self) -> Result<(), Refused> {
        let count = self.bottles.len();
        if count > MOST_BOTTLES {
            return Err(Refused::TooMany { what: "bottles", count, most: MOST_BOTTLES });
        }
        let adds = self.events.iter().filter(|event| matches!(event.act, Act::Add { .. })).count();
        if adds != self.jumps.len() {
            return Err(Refused::None { what: "guess for each addition of water" });
        }
        if self.guesses().len() > 16 {
            return Err(Refused::TooMany { what: "additions of water", count: adds, most: 16 });
        }
        for guess in self.guesses() {
            within("a guess", guess.mean, -1e6, 1e6)?;
            within("a standard deviation", guess.sd, 1e-9, 1e6)?;
        }
        for reading in &self.readings {
            within("a reading's time", reading.at_s, 0.0, 1e6)?;
            water_c("a reading", reading.celsius)?;
            above_nought("a reading's standard deviation", reading.sd_k)?;
            if reading.node > count {
                return Err(Refused::NoBottle { number: reading.node });
            }
        }
        // The same looks at tub and events as a run has, with the guesses put in.
        let (tub, start, events) = self.at(&self.means());
        tub.run(&start, &[], &events).map(|_| ())
    }

    fn means(&self) -> Vec<f64> {
        self.guesses().into_iter().map(|guess| guess.mean).collect()
    }

    /// The tub, the temperatures at the beginning and the events that `values` mean.
    fn at(&self, values: &[f64]) -> (Tub, Vec<f64>, Vec<Event>) {
        let value = |index: usize| values.get(index).copied().unwrap_or_default();
        let count = self.bottles.len();
        let p = value(2 * count + 2);
        let bottle = |(index, bottle): (usize, &BottleGuess)| Bottle {
            heat_j_k: bottle.heat_j_k,
            tau10_s: libm::exp(value(2 * index)),
            p,
        };
        let tub = Tub {
            bottles: self.bottles.iter().enumerate().map(bottle).collect(),
            litres: self.litres,
            heat_j_k_l: self.heat_j_k_l,
            loss_w_k: libm::exp(value(2 * count)),
            room_c: self.room_c,
        };
        let mut start: Vec<f64> = (0..count).map(|index| value(2 * index + 1)).collect();
        start.push(value(2 * count + 1));
        let mut jumps = 2 * count + 3..;
        let events = self.events.iter().map(|event| {
            let act = match event.act {
                Act::Add { litres, celsius, .. } => {
                    Act::Add { litres, celsius, jump_k: value(jumps.next().unwrap_or_default()) }
                }
                other
                @ (Act::Drain { .. } | Act::Set { .. } | Act::Out { .. } | Act::In { .. }) => other,
            };
            Event { at_s: event.at_s, act }
        });
        let events = events.collect();
        (tub, start, events)
    }

    /// Temperatures at these times by these values.
    fn course(&self, values: &[f64], times_s: &[f64]) -> Vec<Vec<f64>> {
        let (tub, start, events) = self.at(values);
        tub.run_checked(&start, times_s, &events)
    }
}

impl Estimate {
    /// Temperatures of bottles and tub at these instants, by the most likely values.
    ///
    /// # Errors
    ///
    /// [`Refused`] for times before the beginning or out of order.
    pub fn temperatures(&self, times_s: &[f64]) -> Result<Vec<Vec<f64>>, Refused> {
        let mut last = 0.0;
        for time in times_s {
            last = within("a time", *time, last, 1e6)?;
        }
        Ok(self.evidence.course(&self.values, times_s))
    }

    /// How sure the temperatures of bottles and tub are at an instant: their standard deviations over
    /// so many draws.
    ///
    /// # Errors
    ///
    /// [`Refused`] for a time before the beginning, and an estimate whose covariance is none.
    pub fn spread_k(&self, at_s: f64, count: u32) -> Result<Vec<f64>, Refused> {
        let at_s = within("a time", at_s, 0.0, 1e6)?;
        let drawn = draws(&self.values, &self.covariance, count.clamp(2, 1024));
        let drawn = drawn.ok_or(Refused::NoEstimate)?;
        let most_likely = self.evidence.course(&self.values, &[at_s]).pop().unwrap_or_default();
        let mut squares = vec![0.0; most_likely.len()];
        let mut number = 0.0;
        for values in &drawn {
            let warm = self.evidence.course(values, &[at_s]).pop().unwrap_or_default();
            for ((sum, warm), likely) in squares.iter_mut().zip(&warm).zip(&most_likely) {
                *sum += (warm - likely) * (warm - likely);
            }
            number += 1.0;
        }
        Ok(squares.into_iter().map(|sum: f64| (sum / number).sqrt()).collect())
    }

    /// The tub and the temperatures at the beginning, by the most likely values.
    pub fn tub(&self) -> (Tub, Vec<f64>) {
        let (tub, start, _) = self.evidence.at(&self.values);
        (tub, start)
    }

    /// How sure a value is, by its place.
    pub fn sd(&self, place: usize) -> f64 {
        let size = self.values.len();
        self.covariance.get(place * size + place).copied().unwrap_or_default().sqrt()
    }

    /// A value as a guess for the next session.
    pub fn learned(&self, place: usize, drift_sd: f64) -> Option<Guess> {
        let mean = *self.values.get(place)?;
        Some(Guess { mean, sd: self.sd(place) }.next(drift_sd))
    }

    /// How far each reading lies from the estimate, in its own standard deviations, by time.
    pub fn residuals(&self) -> Vec<f64> {
        fit::readings_off(&self.evidence, &self.values)
    }

    /// The readings, by time, that lie further than `limit` standard deviations from the estimate.
    ///
    /// They are shown and asked about, never dropped: neighbours of a wrong one are flagged too, and
    /// the worst is the wrong one.
    pub fn flags(&self, limit: f64) -> Vec<usize> {
        let off = self.residuals().into_iter().enumerate();
        off.filter(|(_, z)| z.abs() > limit).map(|(index, _)| index).collect()
    }

    /// When `node` reaches `target_c`, coming from either side.
    ///
    /// # Errors
    ///
    /// [`Refused`] for a node that is not there, numbers that cannot be, and an estimate whose
    /// covariance is none.
    pub fn arrival(
        &self,
        node: usize,
        target_c: f64,
        looking: Looking,
    ) -> Result<Arrival, Refused> {
        if node > self.evidence.bottles.len() {
            return Err(Refused::NoBottle { number: node });
        }
        water_c("a target", target_c)?;
        let now = within("now", looking.now_s, 0.0, 1e6)?;
        let grid = within("a grid", looking.grid_s, 1.0, 3600.0)?;
        let horizon = within("a horizon", looking.horizon_s, grid, 86_400.0)?;
        let times = grid_of(now, horizon, grid);
        let look = |values: &[f64]| self.look(values, node, target_c, &times, grid);
        let (likely_s, peak_c) = look(&self.values);
        let count = looking.draws.clamp(1, 1024);
        let drawn = draws(&self.values, &self.covariance, count).ok_or(Refused::NoEstimate)?;
        let (mut arrivals, mut peaks): (Vec<f64>, Vec<f64>) =
            drawn.iter().map(|values| look(values)).unzip();
        let never = arrivals.iter().filter(|arrival| arrival.is_infinite()).count();
        sort(&mut arrivals);
        sort(&mut peaks);
        Ok(Arrival {
            likely_s,
            early_s: quantile(&arrivals, 0.1),
            late_s: quantile(&arrivals, 0.9),
            never: share(never, arrivals.len()),
            peak_c,
            peak_least_c: quantile(&peaks, 0.1),
            peak_most_c: quantile(&peaks, 0.9),
        })
    }
}

impl Estimate {
    /// Seconds until the first crossing of the target, infinite if there is none; and the warmest.
    /// Nothing is computed beyond the crossing, or the peak of what will not come to it.
    fn look(
        &self,
        values: &[f64],
        node: usize,
        target_c: f64,
        times: &[f64],
        grid: f64,
    ) -> (f64, f64) {
        let (tub, start, events) = self.evidence.at(values);
        let (mut before, mut at, mut peak) = (None, 0.0, f64::NEG_INFINITY);
        let mut arrives = f64::INFINITY;
        let first = times.first().copied().unwrap_or_default();
        let quiet = events.last().map_or(0.0, |event| event.at_s - first);
        tub.visit(&start, times, &events, &mut |warm| {
            let now = warm.get(node).copied().unwrap_or_default() - target_c;
            peak = peak.max(now + target_c);
            if let Some(before) = before.replace(now) {
                if before == 0.0 {
                    arrives = at;
                } else if before * now <= 0.0 {
                    arrives = at + grid * before / (before - now);
                }
                at += grid;
            }
            // Where nothing is warmer, nothing can bring it up to the target: it has had its peak.
            let past = now < 0.0
                && at > quiet
                && warm.iter().all(|other| other - target_c <= now)
                && tub.room_c - target_c <= now;
            arrives.is_infinite() && !past
        });
        (arrives, if arrives.is_finite() { target_c } else { peak })
    }
}

#[cfg(test)]
mod tests;
