//! The developer step in simulated tanks: solution and shell are two nodes, lifts last longer than
//! planned, and pouring loses warmth. None of that is the model's.

use process_model::development::{
    Advice, ColdTank, Duty, InTheTank, Poured, Slope, TYPICAL_COLOUR, Tank, advise, chill_share,
    rate,
};
use process_model::estimate::Guess;
use process_model::vessel;

use crate::chance::Chance;

/// The developer of the shipped sheet: 3:30 at 38.9 °C.
const NOMINAL: (f64, f64) = (38.9, 210.0);
/// A tank of half a litre.
const LITRES: f64 = 0.5;
/// The room as the page takes it.
const ROOM_C: f64 = 21.0;

/// What the person reads once the developer is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reads {
    /// Nothing.
    Nothing,
    /// The tank once, after a minute.
    Once,
    /// The tank after one and after two minutes.
    Twice,
}

/// By how much the dose is off when the developer is poured off, in per cent of it.
pub fn off_by(seed: u64, reads: Reads, offset_k: f64) -> f64 {
    let mut chance = Chance::new(seed ^ 0x7a4c);
    let is_soaked = seed.is_multiple_of(2);
    let said_tub_c = chance.between(38.9, 42.0);
    let model = page_tank(said_tub_c);
    let shell = vessel::tank(LITRES, false).map_or(340.0, |tank| tank.shell_j_k);
    let share = chill_share(false, true);
    // What the page takes the shell to be: near the pre-soak water, or the room.
    let shell_c = if is_soaked { NOMINAL.0 - 1.0 } else { ROOM_C };
    let felt = ColdTank { heat_j_k: shell * share, celsius: shell_c };
    let energy = TYPICAL_COLOUR.mean_j_mol;
    let pouring = model.pouring(Some(felt), energy, NOMINAL.0, NOMINAL.1);
    let pour_c = pouring.map_or(NOMINAL.0 + 1.1, |pouring| pouring.pour_c);
    let start_c = pour_c - felt.heat_j_k / model.heat_j_k * (pour_c - shell_c);
    let mut truth = Truth::new(&mut chance, said_tub_c, is_soaked);
    // The bottle is where the page wants it within what tempering reaches, by this thermometer.
    truth.pour(pour_c - offset_k + 0.25 * chance.normal() - chance.between(0.0, 0.3));
    let times: &[f64] = match reads {
        Reads::Nothing => &[],
        Reads::Once => &[60.0],
        Reads::Twice => &[60.0, 120.0],
    };
    let mut readings = Vec::new();
    for at_s in times {
        truth.until(*at_s);
        let celsius = ((truth.solution_c + offset_k + 0.2 * chance.normal()) * 10.0).round() / 10.0;
        readings.push(InTheTank { at_s: *at_s, celsius, sd_k: 0.25 });
    }
    let poured = Poured {
        tank: model,
        start_c: Guess { mean: start_c, sd: if is_soaked { 0.5 } else { 1.0 } },
        ln_exchange: Guess { mean: 0.2, sd: 0.35 },
        readings,
        slope: Slope { sd_j_mol: 15_000.0, ..TYPICAL_COLOUR },
        nominal_c: NOMINAL.0,
        nominal_s: NOMINAL.1,
    };
    let mut until_s = NOMINAL.1;
    // Without a reading in the tank no other time is offered.
    if !poured.readings.is_empty()
        && let Ok(course) = poured.course()
    {
        let bounds = (NOMINAL.1 * 0.9, NOMINAL.1, NOMINAL.1 * 1.1);
        until_s = match advise(NOMINAL.1, course.pour_off_s, course.half_width_s, bounds) {
            Ok(Advice::Choice { seconds } | Advice::Bound { seconds }) => seconds,
            Ok(Advice::OnCourse) | Err(_) => NOMINAL.1,
        };
    }
    truth.until(until_s);
    100.0 * (truth.dose_s / NOMINAL.1 - 1.0)
}

/// The tank as the page knows it: half a litre of plastic, wet, lifted as planned.
fn page_tank(tub_c: f64) -> Tank {
    let known = vessel::tank(LITRES, false);
    let (heat_j_k, in_tub_w_k, in_air_w_k) =
        known.map_or((2430.0, 1.76, 1.21), |tank| (tank.heat_j_k, tank.in_tub_w_k, tank.wet_w_k));
    Tank { heat_j_k, in_tub_w_k, in_air_w_k, tub_c, room_c: ROOM_C, out: lifts(1.0) }
}

/// The first lift lasts for pouring and the first spell, later ones for five seconds.
fn lifts(longer: f64) -> Vec<Duty> {
    let later = (1..7).map(|lift| Duty { at_s: 30.0 * f64::from(lift), seconds: 5.0 * longer });
    [Duty { at_s: 0.0, seconds: 20.0 * longer }].into_iter().chain(later).collect()
}

/// The tank, truly.
struct Truth {
    solution_c: f64,
    shell_c: f64,
    solution_j_k: f64,
    shell_j_k: f64,
    between_w_k: f64,
    in_tub_w_k: f64,
    in_air_w_k: f64,
    tub_c: f64,
    room_c: f64,
    lifts: Vec<Duty>,
    now_s: f64,
    dose_s: f64,
}

impl Truth {
    fn new(chance: &mut Chance, said_tub_c: f64, is_soaked: bool) -> Self {
        let room_c = chance.between(18.0, 24.0);
        let mut truth = Self {
            solution_c: NOMINAL.0 + chance.between(-1.0, 1.0),
            shell_c: room_c,
            solution_j_k: 2090.0 * chance.between(0.9, 1.1),
            shell_j_k: 340.0 * chance.between(0.8, 1.2),
            between_w_k: chance.between(4.0, 9.0),
            in_tub_w_k: 1.76 * chance.between(0.7, 1.3),
            in_air_w_k: 1.21 * chance.between(0.7, 1.5),
            tub_c: said_tub_c + 0.3 * chance.normal(),
            room_c,
            lifts: lifts(chance.between(1.0, 2.0)),
            now_s: 0.0,
            dose_s: 0.0,
        };
        if is_soaked {
            truth.until(60.0);
        }
        (truth.now_s, truth.dose_s) = (0.0, 0.0);
        truth
    }

    fn pour(&mut self, celsius: f64) {
        self.solution_c = celsius;
        (self.now_s, self.dose_s) = (0.0, 0.0);
    }

    fn until(&mut self, until_s: f64) {
        const STEP_S: f64 = 0.5;
        while self.now_s < until_s - 1e-9 {
            let step = STEP_S.min(until_s - self.now_s);
            let now = self.now_s;
            let is_out =
                self.lifts.iter().any(|lift| lift.at_s <= now && now < lift.at_s + lift.seconds);
            let (around, exchange) =
                if is_out { (self.room_c, self.in_air_w_k) } else { (self.tub_c, self.in_tub_w_k) };
            let inner_w = self.between_w_k * (self.solution_c - self.shell_c);
            self.dose_s += step * rate(TYPICAL_COLOUR.mean_j_mol, self.solution_c, NOMINAL.0);
            self.solution_c -= inner_w * step / self.solution_j_k;
            self.shell_c += (inner_w + exchange * (around - self.shell_c)) * step / self.shell_j_k;
            self.now_s += step;
        }
    }
}
