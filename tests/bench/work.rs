//! The pieces of work.

use process_model::estimate::{BottleGuess, Evidence, Guess, Looking, Reading};
use process_model::hands::{ClockStarts, HandStep, Pattern, Rhythm, Search, earliest};
use process_model::tub::TUB_J_K_L;

use crate::WORK;

/// Does it once. `time` changes the numbers a little, so that nothing can be remembered.
pub(crate) fn once(name: &str, time: u32) -> f64 {
    let little = f64::from(time % 16) * 1e-3;
    match WORK.iter().position(|known| *known == name) {
        Some(0) => fit(little).unwrap_or(f64::NAN),
        Some(1) => arrival(little).unwrap_or(f64::NAN),
        Some(2) => tanks(2),
        Some(3) => tanks(3),
        _ => f64::NAN,
    }
}

/// Two bottles in a tub, read five times.
pub(crate) fn kitchen(little: f64) -> Evidence {
    let guess = |mean, sd| Guess { mean, sd };
    let bottle =
        BottleGuess { heat_j_k: 4281.0, ln_tau10: guess(6.5, 0.35), start_c: guess(20.0, 5.0) };
    let read = |at_s: f64, node: usize, celsius: f64| Reading { at_s, node, celsius, sd_k: 0.25 };
    Evidence {
        bottles: vec![bottle; 2],
        litres: 8.0,
        heat_j_k_l: TUB_J_K_L,
        room_c: 20.0,
        ln_loss: guess(1.609, 0.4),
        tub_c: guess(46.0, 2.0),
        p: guess(0.12, 0.06),
        jumps: vec![],
        readings: vec![
            read(0.0, 2, 46.0 + little),
            read(90.0, 0, 23.4),
            read(120.0, 1, 24.6 + little),
            read(270.0, 0, 29.0),
            read(300.0, 2, 43.1 - little),
        ],
        events: vec![],
    }
}

fn fit(little: f64) -> Option<f64> {
    kitchen(little).fit().ok().map(|estimate| estimate.values.iter().sum())
}

fn arrival(little: f64) -> Option<f64> {
    let estimate = kitchen(little).fit().ok()?;
    let arrival = estimate.arrival(0, 38.0, Looking::from(300.0)).ok()?;
    Some(arrival.peak_c + arrival.never)
}

/// Pre-soak, developer, bleach-fix whose agitation may slip, wash and rinse.
pub(crate) fn steps(slip_s: u32) -> [HandStep; 5] {
    let step = |time_s: u32, pour: u32, bottle: Option<u8>, slip_s: Option<u32>| HandStep {
        time_s,
        pour_in_s: pour,
        pour_out_s: pour,
        bottle,
        rhythm: slip_s.map(|slip_s| Rhythm { first_s: 10, every_s: 30, spell_s: 5, slip_s }),
        rinse_s: 0,
        turnaround_s: 0,
    };
    [
        step(60, 12, None, None),
        step(210, 12, Some(0), Some(0)),
        step(480, 12, Some(1), Some(slip_s)),
        step(480, 10, None, None),
        step(60, 12, None, None),
    ]
}

fn tanks(count: usize) -> f64 {
    let Ok(pattern) = Pattern::of(&steps(10), ClockStarts::WhenComplete, 0) else {
        return f64::NAN;
    };
    let search = Search { tanks: vec![vec![&pattern]; count] };
    earliest(&search).map_or(f64::NAN, |found| f64::from(found.seconds))
}
