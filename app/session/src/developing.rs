//! A developer in the tank that answers to the thermometer: what it amounts to, and when it should
//! be poured back.

use process_model::development::{
    Advice, Course, Curve, InTheTank, Pair, Poured, Slope, TYPICAL_COLOUR, advise, chill_share,
};
use process_model::estimate::Guess;

use crate::entry::Place;
use crate::evening::{self, seconds};
use crate::plan::PlannedStep;
use crate::run::Run;
use crate::timestamp::Timestamp;
use crate::vessels::Vessels;
use process_model::sheet::Bath;

/// A reading through the pouring opening, in hands that hurry.
const READING_SD_K: f64 = 0.25;
/// The film's temperature at the beginning, where tank and reel were soaked, and where not.
const START_SD_K: (f64, f64) = (0.5, 1.0);
/// Lifts last longer than planned: a factor of about 1.2.
const EXCHANGE: Guess = Guess { mean: 0.2, sd: 0.35 };
/// Times of a sheet are printed to so many seconds.
const PRINTED_S: f64 = 5.0;

/// A developer as the readings tell it. Estimates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Developing {
    /// Which step of the plan.
    pub step: usize,
    /// The course.
    pub course: Course,
    /// What to offer: nothing where no reading was taken in the tank.
    pub advice: Option<Advice>,
    /// How much it amounts to at the temperature of the sheet when it was poured off, or now, in
    /// seconds.
    pub equivalent_s: f64,
    /// How many readings in the tank it rests on.
    pub readings: usize,
    /// Whether its bottle was read before it was poured, and the tub at any time: what was not read
    /// is taken to be as the sheet has it.
    pub read: (bool, bool),
}

/// The developer at `index` by what was read, until it was out or `now`.
pub fn developing(
    run: &Run,
    index: usize,
    vessels: &Vessels,
    pairs: &[Pair],
    now: Timestamp,
) -> Option<Developing> {
    let step = run.plan.steps.get(index).filter(|step| step.is_developer())?;
    let aim_c = step.developer?.aim.get();
    let actual = run.state.actual.get(index)?;
    let zero = run.step_clock(index)?.zero(actual.poured_at?);
    let until = actual.out_at.unwrap_or(now);
    let readings: Vec<InTheTank> = run
        .state
        .readings
        .iter()
        .filter(|reading| reading.place == Place::InTheTank && !reading.doubted)
        .filter(|reading| zero <= reading.at && reading.at <= until)
        .map(|reading| InTheTank {
            at_s: seconds(reading.at.since_ms(zero)),
            celsius: reading.celsius.get() - vessels.offset_k,
            sd_k: READING_SD_K,
        })
        .collect();
    let count = readings.len();
    let is_read = |is_it: &dyn Fn(&crate::run::Reading) -> bool| {
        run.state.readings.iter().any(|reading| !reading.doubted && is_it(reading))
    };
    let poured = poured(run, index, step, vessels, pairs, (aim_c, zero, readings));
    let course = poured.course().ok()?;
    let planned_s = seconds(step.time_ms);
    let least_s = seconds(step.least_ms).min(planned_s);
    // A plan knows the shortest time only; the longest is never nearer than a tenth.
    let bounds = (least_s, planned_s, planned_s);
    let advice = advise(planned_s, course.pour_off_s, course.half_width_s, bounds).ok();
    Some(Developing {
        step: index,
        equivalent_s: poured.equivalent_s(&course, seconds(until.since_ms(zero)).max(0.0)),
        course,
        advice: advice.filter(|_| count > 0),
        readings: count,
        read: (
            is_read(&|reading| reading.place == Place::Bottle(step.bath) && reading.at <= zero),
            is_read(&|reading| reading.place == Place::Tub),
        ),
    })
}

fn poured(
    run: &Run,
    index: usize,
    step: &PlannedStep,
    vessels: &Vessels,
    pairs: &[Pair],
    (aim_c, zero, readings): (f64, Timestamp, Vec<InTheTank>),
) -> Poured {
    let last = |place: Place| {
        let before = |reading: &&crate::run::Reading| reading.place == place && reading.at <= zero;
        let reading = run.state.readings.iter().rev().find(before);
        reading.map(|reading| reading.celsius.get() - vessels.offset_k)
    };
    let tub_c = run
        .last_reading(Place::Tub)
        .map_or(aim_c, |reading| reading.celsius.get() - vessels.offset_k);
    let pour_c = last(Place::Bottle(step.bath))
        .or_else(|| evening::pour_c(&run.plan, step, vessels))
        .unwrap_or(aim_c);
    let soaked = index.checked_sub(1).and_then(|before| run.plan.steps.get(before));
    let is_soaked = soaked.is_some_and(|before| before.bath == Bath::PreSoak);
    let water_c = last(Place::Bottle(Bath::PreSoak)).unwrap_or(aim_c) - 1.0;
    let shell_c = if is_soaked { water_c } else { vessels.room_c };
    let known = evening::defaults(vessels);
    let felt = known.shell_j_k * chill_share(vessels.is_steel, true) / known.heat_j_k;
    let sd = if is_soaked { START_SD_K.0 } else { START_SD_K.1 };
    Poured {
        tank: evening::tank(&run.plan, step, vessels, tub_c),
        start_c: Guess { mean: pour_c - felt * (pour_c - shell_c), sd },
        ln_exchange: EXCHANGE,
        readings,
        slope: slope(pairs),
        nominal_c: aim_c,
        nominal_s: seconds(step.time_ms),
    }
}

/// How steeply the developer follows temperature: from the sheet's own times, else typical.
fn slope(pairs: &[Pair]) -> Slope {
    let curve = Curve::fit(pairs, PRINTED_S, Some(TYPICAL_COLOUR));
    curve.map_or(TYPICAL_COLOUR, |curve| curve.slope)
}

#[cfg(test)]
mod tests;
