//! What to do with the tub: how much water, when to look again, how warm to leave a bottle.

use crate::refused::{Refused, water_c, within};
use crate::tub::{Act, Event, Tub};

/// The next look at a bottle is planned for when it is this much short of its target: looking at
/// the target itself found one in five too warm.
///
/// # Source
///
/// A simulated trial: 10 % overshoot against 20; computed, not measured.
pub const LOOK_EARLY_K: f64 = 0.25;

/// Whose hands go into the tub.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum HandsInTub {
    /// Somebody's: at most 45 °C, and advice plans 43.5, because litres are guessed.
    #[default]
    Yes,
    /// Nobody's, as the person has said: at most 49 °C, planned 1.5 °C lower.
    No,
}

impl HandsInTub {
    /// The warmest tub that advice plans, in °C.
    pub const fn planned_most_c(self) -> f64 {
        match self {
            Self::Yes => 43.5,
            Self::No => 47.5,
        }
    }

    /// The warmest tub that may be, in °C.
    pub const fn most_c(self) -> f64 {
        match self {
            Self::Yes => 45.0,
            Self::No => 49.0,
        }
    }
}

/// Water to put in, and what comes of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// How much to put in, in litres.
    pub add_l: f64,
    /// How much to take out first, in litres.
    pub drain_l: f64,
    /// How warm the tub is then.
    pub tub_c: f64,
    /// How warm the bottle is at the end.
    pub reached_c: f64,
    /// Whether it does what was asked within the limit. If not, no amount may be shown.
    pub is_feasible: bool,
}

/// What is asked of water put in now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    /// Which bottle, from 0.
    pub bottle: usize,
    /// How warm it is to be.
    pub target_c: f64,
    /// In how many seconds.
    pub in_s: f64,
    /// How warm the water is that there is.
    pub tap_c: f64,
    /// How much the tub holds, in litres.
    pub most_l: f64,
    /// How warm the tub may become.
    pub most_c: f64,
}

/// How much water of the tap to put in now, so that a bottle is as warm as wished in time. Only what
/// does not fit is taken out first.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be and bottles that are not there.
pub fn water(tub: &Tub, warm_c: &[f64], wish: Wish) -> Result<Water, Refused> {
    tub.run(warm_c, &[0.0], &[])?;
    if wish.bottle >= tub.bottles.len() {
        return Err(Refused::NoBottle { number: wish.bottle });
    }
    water_c("a target", wish.target_c)?;
    water_c("the tap", wish.tap_c)?;
    within("a time", wish.in_s, 0.0, 86_400.0)?;
    within("a tub's size", wish.most_l, 0.5, 1_000.0)?;
    within("a limit", wish.most_c, 0.0, 100.0)?;
    let after = |add_l: f64| {
        swapped(tub, warm_c, (tub.litres + add_l - wish.most_l).max(0.0), add_l, wish.tap_c)
    };
    let reached = |add_l: f64| {
        let (tub, warm) = after(add_l);
        end(&tub, &warm, wish.in_s, wish.bottle)
    };
    let (none, all) = (reached(0.0) - wish.target_c, reached(wish.most_l) - wish.target_c);
    let of = |add_l: f64, can: bool| {
        let (changed, warm) = after(add_l);
        let tub_c = warm.last().copied().unwrap_or_default();
        Water {
            add_l,
            drain_l: (tub.litres + add_l - wish.most_l).max(0.0),
            tub_c,
            reached_c: end(&changed, &warm, wish.in_s, wish.bottle),
            is_feasible: can && tub_c <= wish.most_c + 1e-9,
        }
    };
    if none * all > 0.0 {
        // No amount does it: the end that comes nearest.
        return Ok(of(if none.abs() < all.abs() { 0.0 } else { wish.most_l }, false));
    }
    let (mut least, mut most) = (0.0, wish.most_l);
    for _ in 0..50 {
        let middle = f64::midpoint(least, most);
        if (reached(middle) - wish.target_c) * none > 0.0 {
            least = middle;
        } else {
            most = middle;
        }
    }
    Ok(of(f64::midpoint(least, most), true))
}

/// How warm a bottle must be left, so that it is at `target_c` after so many seconds.
///
/// `warm_c` are the temperatures of bottles and tub; that of the bottle itself is not looked at.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be and bottles that are not there.
pub fn leave_c(
    tub: &Tub,
    warm_c: &[f64],
    bottle: usize,
    target_c: f64,
    in_s: f64,
) -> Result<f64, Refused> {
    let mut warm = warm_c.to_vec();
    *warm.get_mut(bottle).ok_or(Refused::NoBottle { number: bottle })? = target_c;
    if bottle >= tub.bottles.len() {
        return Err(Refused::NoBottle { number: bottle });
    }
    tub.run(&warm, &[0.0], &[])?;
    within("a time", in_s, 0.0, 86_400.0)?;
    let (mut least, mut most) = (target_c - 40.0, target_c + 40.0);
    for _ in 0..50 {
        let middle = f64::midpoint(least, most);
        warm[bottle] = middle;
        if end(tub, &warm, in_s, bottle) > target_c {
            most = middle;
        } else {
            least = middle;
        }
    }
    Ok(f64::midpoint(least, most))
}

/// One drain-and-refill round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Round {
    /// When, in seconds from now.
    pub at_s: f64,
    /// How much to take out, in litres.
    pub drain_l: f64,
    /// How much to put in, in litres.
    pub add_l: f64,
    /// How warm the tub is then.
    pub tub_c: f64,
}

/// A plan of rounds.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The rounds, in order; none if the tub gets there by itself.
    pub rounds: Vec<Round>,
    /// When the bottle arrives, in seconds from now; nothing if it does not even so.
    pub arrives_s: Option<f64>,
    /// The warmest that the bottle becomes.
    pub peak_c: f64,
}

/// More rounds than anybody carries water for.
const MOST_ROUNDS: usize = 5;
/// Rounds are tried at these delays, in seconds.
const DELAYS_S: [f64; 3] = [0.0, 180.0, 360.0];
/// The least that stays in the tub, in litres.
const STAYS_L: f64 = 1.0;
/// How far ahead is looked, in seconds.
const AHEAD_S: f64 = 2_700.0;
/// Of plans that arrive within this of the fastest, the one with least water is taken.
const AS_GOOD_S: f64 = 60.0;

/// Drain-and-refill rounds, in half litres, that bring a bottle to its target.
///
/// Each round is the smallest within a minute of the fastest; then the next is planned from there. It
/// is planned again after every reading, so that only the first round is ever acted on.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be and bottles that are not there.
pub fn rounds(tub: &Tub, warm_c: &[f64], wish: Wish) -> Result<Plan, Refused> {
    water(tub, warm_c, wish)?;
    let (mut tub, mut warm, mut now) = (tub.clone(), warm_c.to_vec(), 0.0);
    let mut rounds = Vec::new();
    let is_warming = warm.get(wish.bottle).is_some_and(|warm| *warm <= wish.target_c);
    loop {
        let (arrives, peak_c) = course(&tub, &warm, wish, is_warming);
        let soon = f64::max(wish.in_s - now, DELAYS_S[1]);
        if arrives.is_some_and(|arrives| arrives <= soon) || rounds.len() == MOST_ROUNDS {
            return Ok(Plan { rounds, arrives_s: arrives.map(|arrives| now + arrives), peak_c });
        }
        let Some(best) = best_round(&tub, &warm, wish, is_warming) else {
            return Ok(Plan { rounds, arrives_s: arrives.map(|arrives| now + arrives), peak_c });
        };
        warm = after(&tub, &warm, best.at_s);
        (tub, warm) = swapped(&tub, &warm, best.drain_l, best.add_l, wish.tap_c);
        now += best.at_s;
        rounds.push(Round { at_s: now, ..best });
        let (arrives, peak_c) = course(&tub, &warm, wish, is_warming);
        if let Some(arrives) = arrives.filter(|arrives| *arrives <= DELAYS_S[1]) {
            return Ok(Plan { rounds, arrives_s: Some(now + arrives), peak_c });
        }
        // The next is not planned before this one has had time to work.
        warm = after(&tub, &warm, DELAYS_S[1]);
        now += DELAYS_S[1];
    }
}

/// The smallest round within a minute of the fastest; of those that do not arrive, the one that comes
/// nearest.
fn best_round(tub: &Tub, warm: &[f64], wish: Wish, is_warming: bool) -> Option<Round> {
    let mut best: Option<(f64, f64, Round)> = None;
    for at_s in DELAYS_S {
        let warm = after(tub, warm, at_s);
        for half_litres in 1..=24_u32 {
            let add_l = f64::from(half_litres) / 2.0;
            let drain_l = ((tub.litres + add_l - wish.most_l) * 2.0).ceil().max(0.0) / 2.0;
            if drain_l > tub.litres - STAYS_L {
                break;
            }
            let (changed, mixed) = swapped(tub, &warm, drain_l, add_l, wish.tap_c);
            let tub_c = mixed.last().copied().unwrap_or_default();
            if tub_c > wish.most_c + 1e-9 {
                if wish.tap_c > tub_c {
                    // More of it is warmer still.
                    break;
                }
                continue;
            }
            let (arrives, peak_c) = course(&changed, &mixed, wish, is_warming);
            let arrives = arrives.map_or(AHEAD_S * 2.0, |arrives| at_s + arrives);
            // How far it stays away, where it does not arrive.
            let short = if is_warming { wish.target_c - peak_c } else { peak_c - wish.target_c };
            let round = Round { at_s, drain_l, add_l, tub_c };
            let is_better = best.is_none_or(|(other, other_short, taken)| {
                let both_late = arrives > AHEAD_S && other > AHEAD_S;
                if both_late {
                    return short < other_short - 0.05;
                }
                arrives < other - AS_GOOD_S
                    || (arrives < other + AS_GOOD_S
                        && add_l + drain_l < taken.add_l + taken.drain_l)
            });
            if is_better {
                best = Some((arrives, short, round));
            }
        }
    }
    let (arrives, _, round) = best?;
    // A round that changes nothing is none.
    let (by_itself, peak_before) = course(tub, warm, wish, is_warming);
    if let Some(by_itself) = by_itself {
        return (arrives < by_itself - AS_GOOD_S).then_some(round);
    }
    let (changed, mixed) = swapped(tub, warm, round.drain_l, round.add_l, wish.tap_c);
    let (_, peak_after) = course(&changed, &mixed, wish, is_warming);
    let helps =
        if is_warming { peak_after > peak_before + 0.1 } else { peak_after < peak_before - 0.1 };
    (arrives <= AHEAD_S || helps).then_some(round)
}

/// When the bottle reaches its target, and the warmest (or, cooling, the coldest) it becomes.
fn course(tub: &Tub, warm: &[f64], wish: Wish, is_warming: bool) -> (Option<f64>, f64) {
    const GRID_S: f64 = 60.0;
    let mut times = Vec::new();
    let mut at = GRID_S;
    while at <= AHEAD_S {
        times.push(at);
        at += GRID_S;
    }
    let of = |warm: &[f64]| warm.get(wish.bottle).copied().unwrap_or_default();
    let (mut before, mut at) = (of(warm), 0.0);
    let mut peak = before;
    let mut arrives = ((before - wish.target_c).abs() < 1e-9).then_some(0.0);
    // Nothing is computed beyond the arrival: the peak matters only where there is none.
    tub.visit(warm, &times, &[], &mut |warm| {
        let now = of(warm);
        peak = if is_warming { peak.max(now) } else { peak.min(now) };
        if arrives.is_none() && (before - wish.target_c) * (now - wish.target_c) <= 0.0 {
            let share = (wish.target_c - before) / (now - before);
            arrives = Some(at + GRID_S * share);
        }
        (before, at) = (now, at + GRID_S);
        arrives.is_none()
    });
    (arrives, peak)
}

/// The tub after a swap, and its temperatures.
fn swapped(tub: &Tub, warm: &[f64], drain_l: f64, add_l: f64, tap_c: f64) -> (Tub, Vec<f64>) {
    let kept = (tub.litres - drain_l).max(0.0);
    let mut mixed = warm.to_vec();
    if let Some(last) = mixed.last_mut().filter(|_| kept + add_l > 0.0) {
        *last = (kept * *last + add_l * tap_c) / (kept + add_l);
    }
    (Tub { litres: (kept + add_l).max(0.2), ..tub.clone() }, mixed)
}

/// Temperatures after so many seconds.
fn after(tub: &Tub, warm: &[f64], seconds: f64) -> Vec<f64> {
    tub.run_checked(warm, &[seconds], &[]).pop().unwrap_or_else(|| warm.to_vec())
}

fn end(tub: &Tub, warm: &[f64], seconds: f64, bottle: usize) -> f64 {
    after(tub, warm, seconds).get(bottle).copied().unwrap_or_default()
}

/// Minutes of the natural logarithm of a time in seconds.
pub fn minutes(ln_seconds: f64) -> f64 {
    libm::exp(ln_seconds) / 60.0
}

/// How many seconds a bottle of that time constant stands in a tub that keeps its temperature until
/// it has come from one temperature to another; nothing if that water does not bring it there.
///
/// The rate is the one of the difference half-way: within 0.4 °C of the integrated tub for gaps up to
/// ten degrees.
pub fn seconds_in(ln_tau10: f64, p: f64, (from_c, to_c): (f64, f64), tub_c: f64) -> Option<f64> {
    if from_c.total_cmp(&to_c).is_eq() {
        return Some(0.0);
    }
    let (far, near) = (tub_c - from_c, tub_c - to_c);
    if far * near <= 0.0 || near.abs() >= far.abs() {
        return None;
    }
    let between = f64::midpoint(far.abs(), near.abs()).max(0.3);
    let tau_s = libm::exp(ln_tau10 - p * libm::log(between / 10.0));
    Some(tau_s * libm::log(far / near))
}

/// How a reading that was not swirled first is taken: the sensor hangs in water that the wall has
/// warmed. Gives the reading and its standard deviation.
///
/// # Source
///
/// 2 % of the difference to the tub, and 4.5 % more doubt: tuned to a simulated truth.
pub fn unswirled(reading_c: f64, sd_k: f64, tub_c: f64) -> (f64, f64) {
    let difference = tub_c - reading_c;
    let doubt = 0.045 * difference;
    (reading_c - 0.02 * difference, (sd_k * sd_k + doubt * doubt).sqrt())
}

/// Puts a swap into a list of events.
pub fn swap(at_s: f64, drain_l: f64, add_l: f64, celsius: f64) -> [Event; 2] {
    let add = Act::Add { litres: add_l, celsius, jump_k: 0.0 };
    [Event { at_s, act: Act::Drain { litres: drain_l } }, Event { at_s, act: add }]
}

#[cfg(test)]
mod tests;
