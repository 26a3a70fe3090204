//! What to do next: one thing at a time, for one person with one thermometer.

use process_model::advice::{self, LOOK_EARLY_K, Round, Wish};
use process_model::refused::Refused;
use process_model::tub::Tub;

use super::{FRESH_S, Fact, Kitchen, NEAR_K, Noted, Outlook, last_read, window};

/// A tub is read so long after water was put in, in seconds: it has to mix.
const MIXES_S: f64 = 30.0;
/// A bottle is read a second time after this, in seconds: two readings three minutes apart say more
/// than three at half of that (a simulated trial).
const SECOND_S: f64 = 180.0;
/// No bottle is read again before this, in seconds.
const LEAST_GAP_S: f64 = 60.0;
/// Nor is one left alone for longer, in seconds.
const MOST_GAP_S: f64 = 480.0;
/// A bottle that arrives within this needs no other water, in seconds.
const SOON_S: f64 = 420.0;
/// A round that is due within this is done now, in seconds.
const NOW_S: f64 = 45.0;

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Next {
    /// Read it now.
    Measure {
        /// Which bottle; the number after the last is the tub.
        node: usize,
    },
    /// Take water out of the tub and put other water in.
    Swap {
        /// How much out and in, and how warm the tub is then.
        round: Round,
        /// How warm the water is that is put in, in °C.
        tap_c: f64,
    },
    /// Lift it out: it is where it should be.
    Lift {
        /// Which bottle.
        bottle: usize,
    },
    /// Nothing until then; then read it.
    Wait {
        /// When, in seconds.
        until_s: f64,
        /// Which bottle or the tub.
        node: usize,
    },
    /// No water of these taps brings that bottle there.
    CannotGetThere {
        /// Which bottle.
        bottle: usize,
    },
    /// Everything is where it should be.
    Ready,
}

/// What the choice is made from.
pub(super) struct Seen<'a> {
    pub(super) kitchen: &'a Kitchen,
    pub(super) noted: &'a [Noted],
    pub(super) now_s: f64,
    pub(super) now_c: &'a [f64],
    pub(super) outlooks: &'a [Outlook],
    pub(super) tub: &'a Tub,
}

/// What to do next.
pub(super) fn next(seen: &Seen<'_>) -> Result<Next, Refused> {
    let Seen { kitchen, noted, now_s, outlooks, .. } = *seen;
    let count = kitchen.bottles.len();
    if !window::is_tub_known(kitchen, noted) {
        let mixed_s = last_swap(noted) + MIXES_S;
        return Ok(measure_at(seen, count, mixed_s));
    }
    if let Some(node) = outlooks.iter().position(|outlook| *outlook == Outlook::Unread) {
        return Ok(Next::Measure { node });
    }
    let waiting: Vec<usize> = (0..count).filter(|number| is_waiting(seen, *number)).collect();
    if let Some(bottle) = (0..count).find(|number| is_to_lift(seen, *number)) {
        return Ok(Next::Lift { bottle });
    }
    let Some(slowest) = slowest(seen, &waiting) else { return Ok(Next::Ready) };
    // What is due soon is read first: water is planned from what is known then.
    let due = |number: usize| (look_at(seen, number), number);
    let earlier =
        |one: (f64, usize), other: (f64, usize)| if one.0 <= other.0 { one } else { other };
    let first = waiting.iter().map(|number| due(*number)).reduce(earlier);
    if let Some((at_s, node)) = first
        && at_s <= now_s
    {
        return Ok(Next::Measure { node });
    }
    match water(seen, slowest)? {
        Some(Water::Swap { round, tap_c }) => return Ok(Next::Swap { round, tap_c }),
        Some(Water::None) => return Ok(Next::CannotGetThere { bottle: slowest }),
        None => {}
    }
    Ok(first.map_or(Next::Ready, |(at_s, node)| measure_at(seen, node, at_s)))
}

fn measure_at(seen: &Seen<'_>, node: usize, at_s: f64) -> Next {
    if at_s <= seen.now_s { Next::Measure { node } } else { Next::Wait { until_s: at_s, node } }
}

fn last_swap(noted: &[Noted]) -> f64 {
    let swap = noted.iter().rev().find(|noted| matches!(noted.fact, Fact::Swapped { .. }));
    swap.map_or(f64::NEG_INFINITY, |noted| noted.at_s)
}

/// How far a bottle is from its aim now: positive is too cold.
fn missing_k(seen: &Seen<'_>, number: usize) -> f64 {
    let aim = seen.kitchen.bottles.get(number).map_or(0.0, |bottle| bottle.target.aim_c);
    aim - seen.now_c.get(number).copied().unwrap_or_default()
}

/// Whether its last reading is young and near enough to go by the estimate.
fn is_fresh(seen: &Seen<'_>, number: usize) -> bool {
    last_read(seen.noted, number).is_some_and(|(at_s, _)| seen.now_s - at_s <= FRESH_S)
}

/// Whether a bottle whose aim is a point is not there yet. One with a band that it is in waits for
/// nothing.
fn is_waiting(seen: &Seen<'_>, number: usize) -> bool {
    if super::is_out(seen.noted, number) {
        // It was lifted out because it was there; only a reading can say otherwise.
        return !matches!(seen.outlooks[number], Outlook::Ready)
            && !is_cooling_outside(seen, number);
    }
    !is_there(seen, number)
}

fn is_cooling_outside(seen: &Seen<'_>, number: usize) -> bool {
    matches!(seen.outlooks[number], Outlook::Over { by_k } if by_k < 1.0)
}

/// Whether a bottle is where it should be, as surely as a reading can say.
fn is_there(seen: &Seen<'_>, number: usize) -> bool {
    if !matches!(seen.outlooks[number], Outlook::Ready) {
        return false;
    }
    let missing = missing_k(seen, number);
    if missing.abs() > super::READY_K {
        // It is inside a band that is wider than that.
        return true;
    }
    is_fresh(seen, number) && (missing.abs() <= NEAR_K || !is_coming_nearer(seen, missing, number))
}

/// Whether the tub still moves a bottle towards its aim.
fn is_coming_nearer(seen: &Seen<'_>, missing: f64, number: usize) -> bool {
    let (tub, bottle) = (seen.now_c.last(), seen.now_c.get(number));
    let pull = tub.zip(bottle).map_or(0.0, |(tub, bottle)| tub - bottle);
    pull * missing > 0.0 && pull.abs() > 0.3
}

/// Whether a bottle has arrived in a tub that would carry it on.
fn is_to_lift(seen: &Seen<'_>, number: usize) -> bool {
    let missing = missing_k(seen, number);
    let pull = seen.now_c.last().copied().unwrap_or_default()
        - seen.now_c.get(number).copied().unwrap_or_default();
    let exact = missing.abs() <= super::READY_K;
    let stays = seen.kitchen.bottles.get(number).is_none_or(|bottle| bottle.target.leave_s > 0.0);
    is_there(seen, number)
        && !stays
        && exact
        && pull.abs() > 1.0
        && !super::is_out(seen.noted, number)
}

/// The bottle that is latest; one that does not arrive at all before any that does.
fn slowest(seen: &Seen<'_>, waiting: &[usize]) -> Option<usize> {
    let mut slowest: Option<(f64, usize)> = None;
    for number in waiting {
        let at_s = match seen.outlooks[*number] {
            Outlook::Arrives { arrival } => arrival.likely_s,
            Outlook::Peaks { .. } | Outlook::Over { .. } => f64::INFINITY,
            Outlook::Ready | Outlook::Unread => 0.0,
        };
        if slowest.is_none_or(|(other, _)| at_s > other) {
            slowest = Some((at_s, *number));
        }
    }
    slowest.map(|(_, number)| number)
}

/// When a bottle is looked at next, in seconds.
fn look_at(seen: &Seen<'_>, number: usize) -> f64 {
    let Some((read_s, _)) = last_read(seen.noted, number) else { return seen.now_s };
    let least_s = read_s + LEAST_GAP_S;
    let most_s = read_s + MOST_GAP_S;
    let readings = seen
        .noted
        .iter()
        .filter(|noted| matches!(noted.fact, Fact::Read { node, .. } if node == number))
        .count();
    let second_s = if readings < 2 { read_s + SECOND_S } else { f64::INFINITY };
    let due_s = match seen.outlooks[number] {
        Outlook::Arrives { arrival } => {
            // As much earlier as the last quarter degree takes at the pace of the last stretch.
            let missing = missing_k(seen, number).abs().max(LOOK_EARLY_K);
            seen.now_s + arrival.likely_s * (missing - LOOK_EARLY_K) / missing
        }
        Outlook::Ready if is_fresh(seen, number) => read_s + FRESH_S,
        Outlook::Ready | Outlook::Over { .. } | Outlook::Unread => seen.now_s,
        Outlook::Peaks { .. } => most_s,
    };
    due_s.min(second_s).max(least_s).min(most_s)
}

/// What other water would do.
enum Water {
    /// This much, now.
    Swap { round: Round, tap_c: f64 },
    /// Nothing helps.
    None,
}

/// The water that the slowest bottle needs now, if it needs any.
fn water(seen: &Seen<'_>, number: usize) -> Result<Option<Water>, Refused> {
    let Seen { kitchen, now_c, tub, .. } = *seen;
    let Some(bottle) = kitchen.bottles.get(number) else { return Ok(None) };
    let over = matches!(seen.outlooks[number], Outlook::Over { .. });
    let soon = match seen.outlooks[number] {
        Outlook::Arrives { arrival } => arrival.likely_s <= SOON_S,
        Outlook::Ready | Outlook::Unread => true,
        Outlook::Peaks { .. } | Outlook::Over { .. } => false,
    };
    if soon || super::is_out(seen.noted, number) {
        return Ok(None);
    }
    let wish = Wish {
        bottle: number,
        target_c: bottle.target.aim_c,
        in_s: SOON_S,
        tap_c: if over { kitchen.cold_c } else { kitchen.hot_c },
        most_l: kitchen.tub_l,
        most_c: kitchen.hands.planned_most_c(),
    };
    let plan = advice::rounds(tub, now_c, wish)?;
    Ok(match plan.rounds.first() {
        Some(round) if round.at_s <= NOW_S => {
            Some(Water::Swap { round: *round, tap_c: wish.tap_c })
        }
        None if plan.arrives_s.is_none() => Some(Water::None),
        Some(_) | None => None,
    })
}
