//! The evening of a run: which bottles stand in the tub, what they are to reach, and what the log
//! says of the water.

use process_model::advice;
use process_model::development::{ColdTank, Duty, TYPICAL_COLOUR, Tank, chill_share};
use process_model::quantity::Celsius;
use process_model::sheet::Bath;
use process_model::vessel::{self, TankDefaults};

use crate::entry::{Event, Place};
use crate::plan::{Plan, PlannedStep};
use crate::run::Run;
use crate::tempering::{Bottle, Fact, Kitchen, Noted, Target, Tempering, temper};
use crate::timestamp::Timestamp;
use crate::vessels::Vessels;

/// A sheet that names no band is ready within this of its aim.
const BAND_K: f64 = 0.5;
/// A pre-soaked tank is about that much colder than its water was.
const SOAKED_K: f64 = 1.0;

/// A tub that a circulator keeps where it is set behaves as one of so many litres.
const HELD_L: f64 = 400.0;

/// An evening at an instant.
#[derive(Clone, Debug, PartialEq)]
pub struct Evening {
    /// The baths whose bottles stand in the tub, in the order of the sheet.
    pub baths: Vec<Bath>,
    /// When its seconds begin.
    pub began: Timestamp,
    /// What was noted.
    pub noted: Vec<Noted>,
    /// Whether a circulator keeps the tub where it is set.
    pub is_held: bool,
    /// What follows.
    pub tempering: Tempering,
}

impl Evening {
    /// The number of a bottle or the tub; nothing of a place that does not stand in the tub.
    pub fn node_of(&self, place: Place) -> Option<usize> {
        match place {
            Place::Tub => Some(self.baths.len()),
            Place::Bottle(bath) => self.baths.iter().position(|known| *known == bath),
            Place::InTheTank => None,
        }
    }

    /// Whether a bottle stands beside the tub.
    pub fn is_lifted(&self, place: Place) -> bool {
        self.node_of(place).is_some_and(|number| crate::tempering::is_out(&self.noted, number))
    }

    /// The place of a number: the one after the last bottle is the tub.
    pub fn place_of(&self, node: usize) -> Place {
        self.baths.get(node).map_or(Place::Tub, |bath| Place::Bottle(*bath))
    }
}

/// The baths that are brought to temperature in their bottles.
pub fn baths(plan: &Plan) -> Vec<Bath> {
    let mut baths = Vec::new();
    for step in &plan.steps {
        let is_one = step.is_developer()
            || matches!(step.bath, Bath::Bleach | Bath::BleachFix | Bath::Fixer);
        if is_one && !baths.contains(&step.bath) {
            baths.push(step.bath);
        }
    }
    baths.truncate(process_model::tub::MOST_BOTTLES);
    baths
}

/// What is true of the evening of `run` at `now`. Nothing where no estimate can be made of it.
pub fn evening(run: &Run, vessels: &Vessels, dark_s: f64, now: Timestamp) -> Option<Evening> {
    let baths = baths(&run.plan);
    let kitchen = kitchen(&run.plan, &baths, vessels, dark_s);
    let (began, noted) = noted(run, &baths, vessels.offset_k, now);
    let now_s = seconds(now.since_ms(began)).max(0.0);
    let tempering = temper(&kitchen, &noted, now_s).ok()?;
    Some(Evening { baths, began, noted, is_held: vessels.has_circulator, tempering })
}

/// The kitchen of a plan.
pub fn kitchen(plan: &Plan, baths: &[Bath], vessels: &Vessels, dark_s: f64) -> Kitchen {
    let bottle = |bath: &Bath| {
        let known = vessels.follows(*bath);
        let step = plan.steps.iter().find(|step| step.bath == *bath);
        let target = step.map_or(Target::POINTLESS, |step| target(plan, step, vessels, dark_s));
        Bottle { heat_j_k: known.heat_j_k, ln_tau10: known.ln_tau10, target }
    };
    Kitchen {
        bottles: baths.iter().map(bottle).collect(),
        tub_l: if vessels.has_circulator { HELD_L } else { vessels.tub_l.max(0.5) },
        is_held: vessels.has_circulator,
        ln_loss: vessels.loss(),
        p: vessels.p.unwrap_or(vessel::EXPONENT),
        room_c: vessels.room_c,
        hot_c: vessels.hot_c,
        cold_c: vessels.cold_c,
        hands: vessels.hands,
    }
}

/// What a bath is to reach in its bottle: a developer what is poured, once the film is loaded.
fn target(plan: &Plan, step: &PlannedStep, vessels: &Vessels, dark_s: f64) -> Target {
    let (least, most) = step.band;
    match step.developer {
        Some(developer) if step.is_developer() => {
            let pour_c = pour_c(plan, step, vessels).unwrap_or(developer.pour.get());
            Target { aim_c: pour_c, least_c: pour_c, most_c: pour_c, leave_s: dark_s }
        }
        _ => {
            let middle = f64::midpoint(least.get(), most.get());
            let aim_c = step.aim.map_or(middle, Celsius::get);
            let (least_c, most_c) =
                (least.get().min(aim_c - BAND_K), most.get().max(aim_c + BAND_K));
            Target { aim_c, least_c, most_c, leave_s: 0.0 }
        }
    }
}

/// How many minutes a bottle stands in water of `tub_c` until it has come from one temperature to
/// another. Estimate; nothing if that water does not bring it there.
pub fn minutes_in(
    vessels: &Vessels,
    bath: Bath,
    (from_c, to_c): (f64, f64),
    tub_c: f64,
) -> Option<f64> {
    let p = vessels.p.unwrap_or(vessel::EXPONENT).mean;
    let seconds = advice::seconds_in(vessels.follows(bath).ln_tau10.mean, p, (from_c, to_c), tub_c);
    seconds.map(|seconds| seconds / 60.0)
}

/// How warm a developer must be in the bottle at pouring, for the sheet's time to be right: from the
/// state of the tank. Never outside what needs no word. Estimate.
pub fn pour_c(plan: &Plan, step: &PlannedStep, vessels: &Vessels) -> Option<f64> {
    let developer = step.developer?;
    let is_soaked = plan.steps.first().is_some_and(|first| first.bath == Bath::PreSoak);
    let aim_c = developer.aim.get();
    let tank = tank(plan, step, vessels, aim_c);
    let known = defaults(vessels);
    let cold = ColdTank {
        heat_j_k: known.shell_j_k * chill_share(vessels.is_steel, true),
        celsius: if is_soaked { aim_c - SOAKED_K } else { vessels.room_c },
    };
    let nominal_s = seconds(step.time_ms);
    let found = tank.pouring(Some(cold), TYPICAL_COLOUR.mean_j_mol, aim_c, nominal_s).ok()?;
    Some(found.pour_c.max(developer.fine.0.get()).min(developer.fine.1.get()))
}

/// The tank of a step: what it exchanges, and when it is lifted out of the tub.
pub fn tank(plan: &Plan, step: &PlannedStep, vessels: &Vessels, tub_c: f64) -> Tank {
    let known = defaults(vessels);
    let clock = crate::step_clock::StepClock::new(plan, step);
    // Pouring in is out of the tub, too.
    let pour = Duty { at_s: 0.0, seconds: seconds(clock.filled.max(0)) };
    let lifts = clock.spells.iter().map(|spell| Duty {
        at_s: seconds(spell.start.max(0)),
        seconds: seconds(spell.end - spell.start),
    });
    Tank {
        heat_j_k: known.heat_j_k,
        in_tub_w_k: known.in_tub_w_k,
        in_air_w_k: known.wet_w_k,
        tub_c,
        room_c: vessels.room_c,
        out: [pour].into_iter().chain(lifts).filter(|duty| duty.seconds > 0.0).collect(),
    }
}

/// The tank's constants.
pub fn defaults(vessels: &Vessels) -> TankDefaults {
    let usual = TankDefaults {
        heat_j_k: 2430.0,
        shell_j_k: 340.0,
        in_tub_w_k: 1.76,
        dry_w_k: 0.46,
        wet_w_k: 1.21,
    };
    vessel::tank(vessels.tank_l, vessels.is_steel).unwrap_or(usual)
}

/// When its seconds begin, and what the log says of the water up to `now`.
fn noted(run: &Run, baths: &[Bath], offset_k: f64, now: Timestamp) -> (Timestamp, Vec<Noted>) {
    let place = |bath: Bath| baths.iter().position(|known| *known == bath);
    let started = run.started_at();
    let mut facts = Vec::new();
    for entry in run.held() {
        if entry.at > now || started.is_some_and(|started| entry.at >= started) {
            continue;
        }
        let fact = if let Event::Read { place: at, .. } = entry.event {
            let node = match at {
                Place::Tub => Some(baths.len()),
                Place::Bottle(bath) => place(bath),
                Place::InTheTank => None,
            };
            // As corrected; one that was taken away is not there.
            let reading = run.state.readings.iter().find(|reading| reading.seq == entry.seq);
            node.zip(reading).map(|(node, reading)| Fact::Read {
                node,
                celsius: (reading.celsius.get() - offset_k).clamp(0.0, 90.0),
            })
        } else if let Event::WaterSwapped { drain_ml, add_ml, celsius } = entry.event {
            let litres = |ml: u32| f64::from(ml) / 1000.0;
            let (drain_l, add_l) = (litres(drain_ml), litres(add_ml));
            Some(Fact::Swapped { drain_l, add_l, celsius: celsius.get() })
        } else if let Event::BottleMoved { bath, back } = entry.event {
            let moved = |bottle| {
                if back { Fact::PutBack { bottle } } else { Fact::Lifted { bottle } }
            };
            place(bath).map(moved)
        } else {
            None
        };
        facts.extend(fact.map(|fact| (entry.at, fact)));
    }
    let began = facts.first().map_or(now, |(at, _)| *at);
    let noted = facts
        .into_iter()
        .map(|(at, fact)| Noted { at_s: seconds(at.since_ms(began)).max(0.0), fact });
    (began, noted.collect())
}

/// Seconds as milliseconds; nothing here is longer than a day.
#[expect(clippy::cast_possible_truncation, reason = "held within a day")]
pub fn milliseconds(seconds: f64) -> i64 {
    (seconds.clamp(-86_400.0, 86_400.0) * 1000.0) as i64
}

/// Milliseconds as seconds.
#[expect(clippy::cast_precision_loss, reason = "an evening is far shorter than 2^53 ms")]
pub fn seconds(ms: i64) -> f64 {
    ms as f64 / 1000.0
}

#[cfg(test)]
mod tests;
