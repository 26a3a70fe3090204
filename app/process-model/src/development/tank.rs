//! A tank in the developer: in the tub and out of it, and how warm the developer must be poured.

use super::{dose, rate};
use crate::refused::{Refused, above_nought, water_c, within};

/// A filled tank and what surrounds it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tank {
    /// What it holds, solution included, in joules per kelvin.
    pub heat_j_k: f64,
    /// What it exchanges with the tub while it stands in it, in watts per kelvin.
    pub in_tub_w_k: f64,
    /// What it exchanges with the room while it is out, in watts per kelvin.
    pub in_air_w_k: f64,
    /// The tub.
    pub tub_c: f64,
    /// The room.
    pub room_c: f64,
    /// When it is out of the tub: begin and length, in seconds, in order.
    pub out: Vec<Duty>,
}

/// A stretch out of the tub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty {
    /// When it begins, in seconds.
    pub at_s: f64,
    /// How long it lasts.
    pub seconds: f64,
}

/// Tank and film that are colder than the developer that is poured on them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColdTank {
    /// What they hold, in joules per kelvin; part of the tank's.
    pub heat_j_k: f64,
    /// How warm they are.
    pub celsius: f64,
}

/// How warm a developer must be poured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pouring {
    /// In the bottle, at the moment of pouring.
    pub pour_c: f64,
    /// How much warmer than nominal that is.
    pub above_k: f64,
    /// How warm it is at the end.
    pub end_c: f64,
}

/// What share of the one-node chill of a cold tank is felt: the shell of plastic gives its cold
/// slowly. 0.5 in a tub, 0.7 in air, 1 for steel.
///
/// # Source
///
/// A trial against a finer model; not measured on a tank.
pub const fn chill_share(is_steel: bool, is_in_tub: bool) -> f64 {
    match (is_steel, is_in_tub) {
        (true, _) => 1.0,
        (false, true) => 0.5,
        (false, false) => 0.7,
    }
}

impl Tank {
    /// The temperature at an instant, begun at `start_c`.
    pub fn celsius(&self, start_c: f64, at_s: f64) -> f64 {
        let mut celsius = start_c;
        let mut now = 0.0;
        for (begin, end, is_out) in self.stretches() {
            if at_s <= begin {
                break;
            }
            let until = at_s.min(end);
            celsius = self.after(celsius, until - begin.max(now), is_out);
            now = until;
        }
        celsius
    }

    /// Instants at which it goes into the tub or out of it.
    pub fn knots_s(&self) -> Vec<f64> {
        self.out.iter().flat_map(|duty| [duty.at_s, duty.at_s + duty.seconds]).collect()
    }

    /// How warm the developer must be poured for a dose of `nominal_s` seconds at `nominal_c`.
    ///
    /// # Errors
    ///
    /// [`Refused`] for numbers that cannot be.
    pub fn pouring(
        &self,
        cold: Option<ColdTank>,
        energy_j_mol: f64,
        nominal_c: f64,
        nominal_s: f64,
    ) -> Result<Pouring, Refused> {
        self.check()?;
        within("a slope", energy_j_mol, 0.0, 1e6)?;
        water_c("a temperature", nominal_c)?;
        within("a time", nominal_s, 1.0, 86_400.0)?;
        if let Some(cold) = cold {
            within("the heat of a cold tank", cold.heat_j_k, 0.0, self.heat_j_k)?;
            water_c("a cold tank", cold.celsius)?;
        }
        let knots = self.knots_s();
        let start = |pour_c: f64| match cold {
            Some(cold) => {
                let solution = self.heat_j_k - cold.heat_j_k;
                (solution * pour_c + cold.heat_j_k * cold.celsius) / self.heat_j_k
            }
            None => pour_c,
        };
        let done = |pour_c: f64| {
            let start_c = start(pour_c);
            let course = |at: f64| self.celsius(start_c, at);
            dose(&course, energy_j_mol, nominal_c, (0.0, nominal_s), &knots)
        };
        let (mut least, mut most) = (nominal_c - 15.0, nominal_c + 25.0);
        for _ in 0..60 {
            let middle = f64::midpoint(least, most);
            if done(middle) > nominal_s {
                most = middle;
            } else {
                least = middle;
            }
        }
        let pour_c = f64::midpoint(least, most);
        let end_c = self.celsius(start(pour_c), nominal_s);
        Ok(Pouring { pour_c, above_k: pour_c - nominal_c, end_c })
    }

    /// How far a poured developer is from its dose, as a rate: more than one is too warm.
    pub fn rate_at(&self, start_c: f64, at_s: f64, energy_j_mol: f64, nominal_c: f64) -> f64 {
        rate(energy_j_mol, self.celsius(start_c, at_s), nominal_c)
    }

    /// Begin, end and whether it is out of the tub, from 0 s on.
    fn stretches(&self) -> Vec<(f64, f64, bool)> {
        let mut stretches = Vec::with_capacity(2 * self.out.len() + 1);
        let mut now = 0.0;
        for duty in &self.out {
            let (begin, end) = (f64::max(duty.at_s, now), duty.at_s + duty.seconds);
            if begin > now {
                stretches.push((now, begin, false));
            }
            if end > begin {
                stretches.push((begin, end, true));
                now = end;
            }
        }
        stretches.push((now, f64::INFINITY, false));
        stretches
    }

    fn after(&self, celsius: f64, seconds: f64, is_out: bool) -> f64 {
        let (around, exchange) =
            if is_out { (self.room_c, self.in_air_w_k) } else { (self.tub_c, self.in_tub_w_k) };
        around + (celsius - around) * libm::exp(-exchange / self.heat_j_k * seconds)
    }

    pub(super) fn check(&self) -> Result<(), Refused> {
        above_nought("a tank's heat", self.heat_j_k)?;
        within("an exchange", self.in_tub_w_k, 0.0, 1e4)?;
        within("an exchange", self.in_air_w_k, 0.0, 1e4)?;
        water_c("the tub", self.tub_c)?;
        within("the room", self.room_c, -50.0, 80.0)?;
        if self.out.len() > 1_000 {
            return Err(Refused::TooMany { what: "stretches", count: self.out.len(), most: 1_000 });
        }
        for duty in &self.out {
            within("a stretch's begin", duty.at_s, 0.0, 1e6)?;
            within("a stretch", duty.seconds, 0.0, 1e6)?;
        }
        Ok(())
    }
}
