//! The evidence of an evening, or of its last part where the evening was long.

use process_model::advice;
use process_model::estimate::{BottleGuess, Evidence, Guess, Reading};
use process_model::refused::Refused;
use process_model::tub::{Act, Event, TUB_J_K_L};

use super::{Fact, Kitchen, Noted, READING_SD_K, last_read};

/// Bottles stand in the room before they are put in: so sure.
const START_SD_K: f64 = 5.0;
/// The tub at the beginning, before it is read.
const TUB_SD_K: f64 = 2.0;
/// Volumes are guessed: by so much the tub may be off after water was put in.
const JUMP: Guess = Guess { mean: 0.0, sd: 0.8 };
/// What an estimate can hold: the more water was put in, the more there is to find out.
const MOST_VALUES: usize = 16;
/// How sure a temperature is that an earlier part of the evening hands on.
const HANDED_ON_SD_K: f64 = 0.4;
/// What a tub is given away for in an estimate that has to begin anew.
const KEPT_ADDITIONS: usize = 3;

/// What is to be fitted, and when its own time begins.
pub(super) fn evidence(
    kitchen: &Kitchen,
    noted: &[Noted],
    now_s: f64,
) -> Result<(Evidence, f64), Refused> {
    let fixed = 2 * kitchen.bottles.len() + 3;
    let most = MOST_VALUES.saturating_sub(fixed).max(1);
    let adds: Vec<f64> = noted
        .iter()
        .filter(|noted| matches!(noted.fact, Fact::Swapped { .. }))
        .map(|noted| noted.at_s)
        .collect();
    if adds.len() <= most {
        return Ok((whole(kitchen, noted, now_s), 0.0));
    }
    // The last few additions make a window of their own; what was learned before is its guess.
    let split_s = adds[adds.len() - KEPT_ADDITIONS];
    let before: Vec<Noted> = noted.iter().filter(|noted| noted.at_s < split_s).copied().collect();
    let (earlier, from_s) = evidence(kitchen, &before, split_s)?;
    let earlier = earlier.fit()?;
    let handed_on = earlier.temperatures(&[split_s - from_s])?.pop().unwrap_or_default();
    let count = kitchen.bottles.len();
    let mut known = kitchen.clone();
    for (number, bottle) in known.bottles.iter_mut().enumerate() {
        bottle.ln_tau10 = earlier.learned(2 * number, 0.0).unwrap_or(bottle.ln_tau10);
    }
    known.ln_loss = earlier.learned(2 * count, 0.0).unwrap_or(known.ln_loss);
    known.p = earlier.learned(2 * count + 2, 0.0).unwrap_or(known.p);
    let later: Vec<Noted> = noted
        .iter()
        .filter(|noted| noted.at_s >= split_s)
        .map(|noted| Noted { at_s: noted.at_s - split_s, fact: noted.fact })
        .collect();
    let mut evidence = whole(&known, &later, now_s - split_s);
    evidence.litres = litres(kitchen, &before);
    let guess = |mean: f64| Guess { mean, sd: HANDED_ON_SD_K };
    for (bottle, celsius) in evidence.bottles.iter_mut().zip(&handed_on) {
        bottle.start_c = guess(*celsius);
    }
    if let Some(celsius) = handed_on.get(count) {
        evidence.tub_c = guess(*celsius);
    }
    // A bottle that is outside was lifted before this window began.
    for bottle in (0..count).filter(|bottle| super::is_out(&before, *bottle)) {
        evidence.events.insert(0, Event { at_s: 0.0, act: Act::Out { bottle } });
    }
    Ok((evidence, split_s))
}

/// Everything noted, as one window.
fn whole(kitchen: &Kitchen, noted: &[Noted], now_s: f64) -> Evidence {
    let count = kitchen.bottles.len();
    let start = Guess { mean: kitchen.room_c, sd: START_SD_K };
    let first_tub = noted.iter().find_map(|noted| match noted.fact {
        Fact::Read { node, celsius } if node == count => Some(celsius),
        Fact::Read { .. } | Fact::Swapped { .. } | Fact::Lifted { .. } | Fact::PutBack { .. } => {
            None
        }
    });
    let mut evidence = Evidence {
        bottles: kitchen
            .bottles
            .iter()
            .map(|bottle| BottleGuess {
                heat_j_k: bottle.heat_j_k,
                ln_tau10: bottle.ln_tau10,
                start_c: start,
            })
            .collect(),
        litres: kitchen.tub_l,
        heat_j_k_l: TUB_J_K_L,
        room_c: kitchen.room_c,
        ln_loss: kitchen.ln_loss,
        tub_c: Guess { mean: first_tub.unwrap_or(kitchen.hands.planned_most_c()), sd: TUB_SD_K },
        p: kitchen.p,
        jumps: Vec::new(),
        readings: Vec::new(),
        events: Vec::new(),
    };
    let mut tub = Told { tub_c: first_tub, litres: kitchen.tub_l };
    for (place, one) in noted.iter().enumerate() {
        if (0.0..=now_s).contains(&one.at_s) {
            tub.take(&mut evidence, *one, kitchen, &noted[..place]);
        }
    }
    evidence
}

/// The tub as readings and water alone tell it: enough to say how far off an unswirled bottle may be.
struct Told {
    tub_c: Option<f64>,
    litres: f64,
}

impl Told {
    /// Puts one fact into the evidence.
    fn take(&mut self, evidence: &mut Evidence, one: Noted, kitchen: &Kitchen, before: &[Noted]) {
        let Noted { at_s, fact } = one;
        let count = kitchen.bottles.len();
        let mut act = |act| evidence.events.push(Event { at_s, act });
        match fact {
            Fact::Read { node, celsius } if node == count => {
                self.tub_c = Some(celsius);
                // Water that a machine brings somewhere else cools by no law.
                if kitchen.is_held && last_read(before, count).is_some() {
                    return act(Act::Set { celsius });
                }
                let sd_k = READING_SD_K;
                evidence.readings.push(Reading { at_s, node, celsius, sd_k });
            }
            Fact::Read { node, celsius } => {
                let is_in = !super::is_out(before, node);
                let (celsius, sd_k) = match self.tub_c.filter(|_| is_in) {
                    Some(tub_c) => advice::unswirled(celsius, READING_SD_K, tub_c),
                    None => (celsius, READING_SD_K),
                };
                evidence.readings.push(Reading { at_s, node, celsius, sd_k });
            }
            Fact::Swapped { drain_l, add_l, celsius } => {
                let kept_l = (self.litres - drain_l).max(0.2);
                let mixed = |tub_c| (kept_l * tub_c + add_l * celsius) / (kept_l + add_l);
                self.tub_c = self.tub_c.map(mixed);
                self.litres = kept_l + add_l;
                act(Act::Drain { litres: drain_l });
                act(Act::Add { litres: add_l, celsius, jump_k: 0.0 });
                evidence.jumps.push(JUMP);
            }
            Fact::Lifted { bottle } => act(Act::Out { bottle }),
            Fact::PutBack { bottle } => act(Act::In { bottle }),
        }
    }
}

/// How much water should be in the tub now, in litres.
pub(super) fn litres(kitchen: &Kitchen, noted: &[Noted]) -> f64 {
    noted.iter().fold(kitchen.tub_l, |litres, noted| match noted.fact {
        Fact::Swapped { drain_l, add_l, .. } => (litres - drain_l).max(0.2) + add_l,
        Fact::Read { .. } | Fact::Lifted { .. } | Fact::PutBack { .. } => litres,
    })
}

/// Whether the tub was read since water was last put in.
pub(super) fn is_tub_known(kitchen: &Kitchen, noted: &[Noted]) -> bool {
    let swapped = noted.iter().rev().find(|noted| matches!(noted.fact, Fact::Swapped { .. }));
    let read = last_read(noted, kitchen.bottles.len());
    match (swapped, read) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(swapped), Some((read_s, _))) => read_s >= swapped.at_s,
    }
}
