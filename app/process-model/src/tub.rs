//! The tub and the bottles in it, as they warm and cool.
//!
//! A bottle follows the tub at a rate that grows a little with the difference; the tub gives what
//! the bottles take, and loses to the room. Water is put in and taken out, bottles are lifted out.

use crate::refused::{Refused, above_nought, water_c, within};

/// What a litre of tub water holds, in joules per kelvin.
pub const TUB_J_K_L: f64 = 4150.0;
/// The longest step of the integration, in seconds.
const LONGEST_STEP_S: f64 = 10.0;
/// Below this difference the rate does not fall any more: keeps it smooth at none.
const LEAST_DIFFERENCE_K: f64 = 0.3;
/// A tub is never drained below this: the last litre clings to the bottles.
const LEAST_LITRES: f64 = 0.2;
/// More bottles than anybody has hands for.
pub const MOST_BOTTLES: usize = 5;

/// Temperatures of bottles, then of the tub; the rest is nought.
type Warm = [f64; MOST_BOTTLES + 1];

/// A bottle and how it follows the tub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bottle {
    /// What it holds, contents and walls, in joules per kelvin.
    pub heat_j_k: f64,
    /// Its time constant at a difference of 10 °C, in seconds.
    pub tau10_s: f64,
    /// How the rate grows with the difference: 0 not at all.
    pub p: f64,
}

/// A tub with bottles in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tub {
    /// The bottles.
    pub bottles: Vec<Bottle>,
    /// How much water, in litres.
    pub litres: f64,
    /// What a litre of it holds, in joules per kelvin; usually [`TUB_J_K_L`].
    pub heat_j_k_l: f64,
    /// What it loses, in watts per kelvin above the room.
    pub loss_w_k: f64,
    /// The room.
    pub room_c: f64,
}

/// Something that is done to the tub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Act {
    /// Water is put in.
    Add {
        /// How much.
        litres: f64,
        /// How warm.
        celsius: f64,
        /// By how much the tub is warmer than that makes it: volumes are guessed.
        jump_k: f64,
    },
    /// Water is taken out.
    Drain {
        /// How much.
        litres: f64,
    },
    /// The tub is brought to this temperature.
    Set {
        /// How warm.
        celsius: f64,
    },
    /// A bottle is lifted out.
    Out {
        /// Which, from 0.
        bottle: usize,
    },
    /// A bottle is put back.
    In {
        /// Which, from 0.
        bottle: usize,
    },
}

/// An act and its instant. What is read at that instant was read before it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// Seconds since the beginning.
    pub at_s: f64,
    /// What is done.
    pub act: Act,
}

impl Tub {
    /// Temperatures of the bottles, then of the tub, at each of `times_s`.
    ///
    /// `start_c` are the temperatures at 0 s in the same order; `times_s` must not go back; `events`
    /// may stand in any order.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be, temperatures that are none of water, bottles that are
    /// not there, times before the beginning or out of order.
    pub fn run(
        &self,
        start_c: &[f64],
        times_s: &[f64],
        events: &[Event],
    ) -> Result<Vec<Vec<f64>>, Refused> {
        self.check(start_c, times_s, events)?;
        Ok(self.run_checked(start_c, times_s, &in_order(events)))
    }

    /// As [`run`](Self::run), for numbers that have been looked at, events in order.
    pub(crate) fn run_checked(
        &self,
        start_c: &[f64],
        times_s: &[f64],
        events: &[Event],
    ) -> Vec<Vec<f64>> {
        let mut read = Vec::with_capacity(times_s.len());
        self.visit(start_c, times_s, events, &mut |warm| {
            read.push(warm.to_vec());
            true
        });
        read
    }

    /// Shows the temperatures at each time to `visit`, until it has seen enough.
    pub(crate) fn visit(
        &self,
        start_c: &[f64],
        times_s: &[f64],
        events: &[Event],
        visit: &mut dyn FnMut(&[f64]) -> bool,
    ) {
        let mut warm = Warm::default();
        warm.iter_mut().zip(start_c).for_each(|(warm, start)| *warm = *start);
        let nodes = start_c.len().min(warm.len());
        let is_in = [true; MOST_BOTTLES + 1];
        let rates = [Rate::default(); MOST_BOTTLES];
        let mut state = State { warm, nodes, litres: self.litres, is_in, rates };
        let (mut now, mut next) = (0.0, 0);
        for time in times_s {
            while let Some(event) = events.get(next).filter(|event| event.at_s < *time) {
                self.advance(&mut state, event.at_s - now);
                now = f64::max(now, event.at_s);
                state.act(event.act);
                next += 1;
            }
            self.advance(&mut state, time - now);
            now = f64::max(now, *time);
            if !visit(&state.warm[..nodes]) {
                break;
            }
        }
    }

    fn check(&self, start_c: &[f64], times_s: &[f64], events: &[Event]) -> Result<(), Refused> {
        let count = self.bottles.len();
        if count > MOST_BOTTLES {
            return Err(Refused::TooMany { what: "bottles", count, most: MOST_BOTTLES });
        }
        if start_c.len() != count + 1 {
            return Err(Refused::NoBottle { number: start_c.len().min(count) });
        }
        for bottle in &self.bottles {
            above_nought("a bottle's heat", bottle.heat_j_k)?;
            within("a bottle's time constant", bottle.tau10_s, 1.0, 1e6)?;
            within("an exponent", bottle.p, -1.0, 2.0)?;
        }
        within("a tub's volume", self.litres, LEAST_LITRES, 1_000.0)?;
        above_nought("the heat of a litre", self.heat_j_k_l)?;
        within("a tub's loss", self.loss_w_k, 0.0, 1_000.0)?;
        within("the room", self.room_c, -50.0, 80.0)?;
        for celsius in start_c {
            water_c("a temperature", *celsius)?;
        }
        let mut last = 0.0;
        for time in times_s {
            last = within("a time", *time, last, 1e6)?;
        }
        events.iter().try_for_each(|event| check_event(event, count))
    }

    /// Lets `seconds` pass.
    fn advance(&self, state: &mut State, seconds: f64) {
        if seconds <= 0.0 {
            return;
        }
        let steps = (seconds / LONGEST_STEP_S - 1e-9).ceil().max(1.0);
        let step = seconds / steps;
        let mut done = 0.0;
        while done < steps {
            self.step(state, step);
            done += 1.0;
        }
    }

    /// One step of the classic fourth-order Runge-Kutta rule.
    fn step(&self, state: &mut State, h: f64) {
        let begun = state.warm;
        let (mut sum, mut slope) = (Warm::default(), Warm::default());
        // The share of the step at which each slope is taken, and its weight in the sum.
        for (by, weight) in [(0.0, 1.0), (h / 2.0, 2.0), (h / 2.0, 2.0), (h, 1.0)] {
            for index in 0..state.nodes {
                state.warm[index] = begun[index] + by * slope[index];
            }
            self.slope(state, &mut slope);
            for index in 0..state.nodes {
                sum[index] += weight * slope[index];
            }
        }
        for index in 0..state.nodes {
            state.warm[index] = begun[index] + h / 6.0 * sum[index];
        }
    }

    /// How fast each bottle and the tub warm, in kelvins per second.
    fn slope(&self, state: &mut State, slope: &mut Warm) {
        let last = state.nodes - 1;
        let tub = state.warm[last];
        let mut heat_w = -self.loss_w_k * (tub - self.room_c);
        for (index, bottle) in self.bottles.iter().enumerate() {
            slope[index] = 0.0;
            if state.is_in[index] {
                let difference = tub - state.warm[index];
                let per_s = state.rates[index].at(difference.abs().max(LEAST_DIFFERENCE_K), bottle);
                slope[index] = per_s * difference;
                heat_w -= bottle.heat_j_k * slope[index];
            }
        }
        slope[last] = heat_w / (self.heat_j_k_l * state.litres);
    }
}

/// The rate of a bottle at one difference, from which those nearby are worked out.
#[derive(Clone, Copy, Debug, Default)]
struct Rate {
    difference_k: f64,
    per_s: f64,
}

impl Rate {
    /// A power of the difference over the time constant, per second.
    ///
    /// From step to step the difference hardly changes: a few terms of the binomial series give the same
    /// to 1e-9 of it, at a tenth of the work.
    fn at(&mut self, difference_k: f64, bottle: &Bottle) -> f64 {
        const NEAR: f64 = 0.03;
        let x = difference_k / self.difference_k - 1.0;
        if x.abs() < NEAR {
            let p = bottle.p;
            let inner = 1.0 + (p - 3.0) / 4.0 * x;
            let inner = 1.0 + (p - 2.0) / 3.0 * x * inner;
            let inner = 1.0 + (p - 1.0) / 2.0 * x * inner;
            return self.per_s * (1.0 + p * x * inner);
        }
        // As a power, but half the work: the base is never nought.
        let grows = libm::exp(bottle.p * libm::log(difference_k / 10.0));
        *self = Self { difference_k, per_s: grows / bottle.tau10_s };
        self.per_s
    }
}

#[derive(Clone, Debug)]
struct State {
    warm: Warm,
    /// How many of them there are.
    nodes: usize,
    litres: f64,
    is_in: [bool; MOST_BOTTLES + 1],
    rates: [Rate; MOST_BOTTLES],
}

impl State {
    fn act(&mut self, act: Act) {
        let tub = &mut self.warm[self.nodes.saturating_sub(1)];
        match act {
            Act::Add { litres, celsius, jump_k } => {
                *tub = (self.litres * *tub + litres * celsius) / (self.litres + litres) + jump_k;
                self.litres += litres;
            }
            Act::Drain { litres } => self.litres = (self.litres - litres).max(LEAST_LITRES),
            Act::Set { celsius } => *tub = celsius,
            Act::Out { bottle } => self.lift(bottle, false),
            Act::In { bottle } => self.lift(bottle, true),
        }
    }

    fn lift(&mut self, bottle: usize, back: bool) {
        if let Some(is_in) = self.is_in.get_mut(bottle) {
            *is_in = back;
        }
    }
}

/// Events by their instants; those of one instant as they stand.
pub(crate) fn in_order(events: &[Event]) -> Vec<Event> {
    let mut ordered: Vec<Event> = Vec::with_capacity(events.len());
    for event in events {
        let place = ordered.iter().rposition(|other| other.at_s <= event.at_s);
        ordered.insert(place.map_or(0, |place| place + 1), *event);
    }
    ordered
}

fn check_event(event: &Event, bottles: usize) -> Result<(), Refused> {
    within("a time", event.at_s, 0.0, 1e6)?;
    match event.act {
        Act::Add { litres, celsius, jump_k } => {
            within("a volume of water", litres, 0.0, 1_000.0)?;
            water_c("the water put in", celsius)?;
            within("a jump", jump_k, -50.0, 50.0).map(|_| ())
        }
        Act::Drain { litres } => within("a volume of water", litres, 0.0, 1_000.0).map(|_| ()),
        Act::Set { celsius } => water_c("a temperature", celsius).map(|_| ()),
        Act::Out { bottle } | Act::In { bottle } if bottle >= bottles => {
            Err(Refused::NoBottle { number: bottle })
        }
        Act::Out { .. } | Act::In { .. } => Ok(()),
    }
}

#[cfg(test)]
mod tests;
