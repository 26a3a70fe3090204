//! Tempering: what the thermometer has said so far, what follows from it, and what to do next.
//!
//! Estimates, all of it: the constants are computed and then learned, never measured on this vessel.
//! The whole evening is fitted anew after each reading, so that a reading can be put right or taken
//! away, and two readings of a bottle already give a time.

mod next;
mod window;

use process_model::advice::{self, HandsInTub};
use process_model::estimate::{Arrival, Estimate, Guess, Looking};
use process_model::refused::Refused;
use process_model::tub::Tub;
use process_model::vessel;

pub use next::Next;

/// *Ready* is the estimate within this of the aim, or inside the band. Our choice.
pub const READY_K: f64 = 0.5;
/// A bottle of which that little is missing is let go on without another look.
const NEAR_K: f64 = 0.15;
/// What is left for the dark is never aimed farther off than this.
const MOST_OFF_K: f64 = 3.0;
/// How long a reading near the aim is good for, in seconds.
const FRESH_S: f64 = 180.0;
/// A thermometer that reads tenths, in hands that hurry: our choice.
const READING_SD_K: f64 = 0.225;
/// How far ahead is looked, on which grid, with how many draws.
const AHEAD: (f64, f64, u32) = (3_600.0, 30.0, 24);

/// What a bottle is to reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Target {
    /// What to aim at, in °C.
    pub aim_c: f64,
    /// The coolest that is ready, in °C.
    pub least_c: f64,
    /// The warmest that is ready, in °C.
    pub most_c: f64,
    /// After how long it is to be there, in seconds: what is left for the dark is aimed at what makes
    /// it so. Nought: now.
    pub leave_s: f64,
}

impl Target {
    /// What any temperature is.
    pub const POINTLESS: Self = Self { aim_c: 30.0, least_c: 0.0, most_c: 90.0, leave_s: 0.0 };
}

/// A bottle that stands in the tub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bottle {
    /// What it holds, in joules per kelvin.
    pub heat_j_k: f64,
    /// Natural logarithm of its time constant at 10 °C difference, in seconds.
    pub ln_tau10: Guess,
    /// What it is to reach.
    pub target: Target,
}

/// What is known of an evening before anything is read.
#[derive(Clone, Debug, PartialEq)]
pub struct Kitchen {
    /// The bottles.
    pub bottles: Vec<Bottle>,
    /// How much the tub holds when it is as full as it gets, in litres.
    pub tub_l: f64,
    /// Whether a circulator keeps the tub where it is set: what is read of it is what it is set to.
    pub is_held: bool,
    /// Natural logarithm of its loss, in watts per kelvin.
    pub ln_loss: Guess,
    /// How the rate of every bottle grows with the difference.
    pub p: Guess,
    /// The room, in °C.
    pub room_c: f64,
    /// The hot tap, in °C.
    pub hot_c: f64,
    /// The cold tap, in °C.
    pub cold_c: f64,
    /// Whether hands go into the tub.
    pub hands: HandsInTub,
}

/// What was read or done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fact {
    /// A temperature was read: of the bottle of that number; the number after the last is the tub.
    Read {
        /// Which.
        node: usize,
        /// What it said, the thermometer's offset taken away, in °C.
        celsius: f64,
    },
    /// Water was taken out of the tub and other water put in.
    Swapped {
        /// How much was taken out, in litres.
        drain_l: f64,
        /// How much was put in, in litres.
        add_l: f64,
        /// How warm that was, in °C.
        celsius: f64,
    },
    /// A bottle was lifted out.
    Lifted {
        /// Which.
        bottle: usize,
    },
    /// A bottle was put back.
    PutBack {
        /// Which.
        bottle: usize,
    },
}

/// A fact and its instant, in seconds since the tub was filled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Noted {
    /// When, in seconds.
    pub at_s: f64,
    /// What.
    pub fact: Fact,
}

/// How a bottle is doing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outlook {
    /// Nothing is known of it: it was not read.
    Unread,
    /// It is where it should be.
    Ready,
    /// It gets there.
    Arrives {
        /// When.
        arrival: Arrival,
    },
    /// This tub does not bring it there.
    Peaks {
        /// The warmest (when it warms) it becomes, with its interval.
        arrival: Arrival,
    },
    /// It is beyond what it should be and not on its way back.
    Over {
        /// By how much, in kelvins.
        by_k: f64,
    },
}

/// What is true of tub and bottles at an instant.
#[derive(Clone, Debug, PartialEq)]
pub struct Tempering {
    /// Estimated temperatures of the bottles and of the tub, in °C. Empty while the tub is unread.
    pub now_c: Vec<f64>,
    /// What each bottle is aimed at now, in °C: what it is left at for the dark.
    pub aims_c: Vec<f64>,
    /// How each bottle is doing.
    pub outlooks: Vec<Outlook>,
    /// What to do next.
    pub next: Next,
    /// The tub by the most likely values.
    pub tub: Option<Tub>,
    /// All that was estimated.
    pub estimate: Option<Estimate>,
    /// When the estimate's own time begins, in seconds.
    pub from_s: f64,
}

impl Tempering {
    /// What the thermometer should say at `now_s`: the least and the most, four times in five.
    /// Nothing while the tub is unread.
    pub fn expect_c(&self, node: usize, now_s: f64) -> Option<(f64, f64)> {
        let estimate = self.estimate.as_ref()?;
        let here_s = now_s - self.from_s;
        let now_c = estimate.temperatures(&[here_s]).ok()?.pop()?;
        let celsius = *now_c.get(node)?;
        let spread = estimate.spread_k(here_s, AHEAD.2).ok()?;
        // A bottle may not have been swirled.
        let pull = now_c.last()? - celsius;
        let doubt = [spread.get(node).copied()?, READING_SD_K, 0.045 * pull];
        let sd = doubt.iter().map(|sd| sd * sd).sum::<f64>().sqrt();
        // Four in five lie within 1.2816 standard deviations.
        let middle = celsius + 0.02 * pull;
        Some((middle - 1.2816 * sd, middle + 1.2816 * sd))
    }

    /// What was learned for the next session: of each bottle, of the tub, and of both.
    pub fn learned(&self) -> Option<(Vec<Guess>, Guess, Guess)> {
        let estimate = self.estimate.as_ref()?;
        let count = self.outlooks.len();
        let of = |place| estimate.learned(place, vessel::DRIFT_SD);
        let bottles: Option<Vec<Guess>> = (0..count).map(|number| of(2 * number)).collect();
        // How the rate grows with the difference is no property that drifts.
        Some((bottles?, of(2 * count)?, estimate.learned(2 * count + 2, 0.0)?))
    }
}

/// What is true at `now_s`, from everything noted up to then.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn temper(kitchen: &Kitchen, noted: &[Noted], now_s: f64) -> Result<Tempering, Refused> {
    let count = kitchen.bottles.len();
    let unread = |next| Tempering {
        now_c: Vec::new(),
        aims_c: kitchen.bottles.iter().map(|bottle| bottle.target.aim_c).collect(),
        outlooks: vec![Outlook::Unread; count],
        next,
        tub: None,
        estimate: None,
        from_s: 0.0,
    };
    if last_read(noted, count).is_none() {
        return Ok(unread(Next::Measure { node: count }));
    }
    let (evidence, from_s) = window::evidence(kitchen, noted, now_s)?;
    let estimate = evidence.fit()?;
    let here_s = now_s - from_s;
    let now_c = estimate.temperatures(&[here_s])?.pop().unwrap_or_default();
    let (tub, _) = estimate.tub();
    let tub = Tub { litres: window::litres(kitchen, noted), ..tub };
    let kitchen = &aimed(kitchen, &tub, &now_c);
    let mut outlooks = Vec::with_capacity(count);
    for (number, bottle) in kitchen.bottles.iter().enumerate() {
        outlooks.push(outlook(&estimate, number, bottle, (here_s, &now_c), noted)?);
    }
    let aims_c = kitchen.bottles.iter().map(|bottle| bottle.target.aim_c).collect();
    let seen = next::Seen { kitchen, noted, now_s, now_c: &now_c, outlooks: &outlooks, tub: &tub };
    let next = next::next(&seen)?;
    let (tub, estimate) = (Some(tub), Some(estimate));
    Ok(Tempering { now_c, aims_c, outlooks, next, tub, estimate, from_s })
}

/// The kitchen with what bottles must be left at, so that they are at their aims later.
fn aimed(kitchen: &Kitchen, tub: &Tub, now_c: &[f64]) -> Kitchen {
    let mut aimed = kitchen.clone();
    for (number, bottle) in aimed.bottles.iter_mut().enumerate() {
        let target = &mut bottle.target;
        if target.leave_s <= 0.0 {
            continue;
        }
        let leave_c = advice::leave_c(tub, now_c, number, target.aim_c, target.leave_s);
        // A tub that is about to be changed says nothing beyond a few degrees.
        let leave_c = leave_c.unwrap_or(target.aim_c);
        let leave_c = leave_c.max(target.aim_c - MOST_OFF_K).min(target.aim_c + MOST_OFF_K);
        let by = leave_c - target.aim_c;
        *target = Target {
            aim_c: leave_c,
            least_c: target.least_c + by,
            most_c: target.most_c + by,
            leave_s: target.leave_s,
        };
    }
    aimed
}

/// How one bottle is doing.
fn outlook(
    estimate: &Estimate,
    number: usize,
    bottle: &Bottle,
    (here_s, now_c): (f64, &[f64]),
    noted: &[Noted],
) -> Result<Outlook, Refused> {
    if last_read(noted, number).is_none() {
        return Ok(Outlook::Unread);
    }
    let (Some(celsius), Some(tub_c)) = (now_c.get(number), now_c.last()) else {
        return Ok(Outlook::Unread);
    };
    let Target { aim_c, least_c, most_c, .. } = bottle.target;
    if (celsius - aim_c).abs() <= READY_K || (least_c <= *celsius && *celsius <= most_c) {
        return Ok(Outlook::Ready);
    }
    // Warm enough, and the tub warms it further; or it was lifted out and stays as it is.
    let warms = tub_c > celsius && !is_out(noted, number);
    if *celsius > aim_c && (warms || is_out(noted, number)) {
        return Ok(Outlook::Over { by_k: celsius - aim_c });
    }
    let (horizon_s, grid_s, draws) = AHEAD;
    let looking = Looking { now_s: here_s, horizon_s, grid_s, draws };
    let arrival = estimate.arrival(number, aim_c, looking)?;
    Ok(if arrival.likely_s.is_finite() && arrival.never < 0.5 {
        Outlook::Arrives { arrival }
    } else {
        Outlook::Peaks { arrival }
    })
}

/// The last reading of a node: when and what.
fn last_read(noted: &[Noted], node: usize) -> Option<(f64, f64)> {
    noted.iter().rev().find_map(|noted| match noted.fact {
        Fact::Read { node: of, celsius } if of == node => Some((noted.at_s, celsius)),
        Fact::Read { .. } | Fact::Swapped { .. } | Fact::Lifted { .. } | Fact::PutBack { .. } => {
            None
        }
    })
}

/// Whether a bottle stands outside the tub.
pub(crate) fn is_out(noted: &[Noted], number: usize) -> bool {
    let last = noted.iter().rev().find_map(|noted| match noted.fact {
        Fact::Lifted { bottle } if bottle == number => Some(true),
        Fact::PutBack { bottle } if bottle == number => Some(false),
        Fact::Read { .. } | Fact::Swapped { .. } | Fact::Lifted { .. } | Fact::PutBack { .. } => {
            None
        }
    });
    last.unwrap_or(false)
}
