//! A kitchen as it might be: not the model of the estimate.
//!
//! Invented, within the ranges that the comments name. A bottle is two nodes, the tub's loss bends
//! with its temperature, the room drifts, and litres are not what the person says.

use crate::chance::Chance;

/// Joules per kelvin in a litre of water at 40 °C.
const WATER_J_K_L: f64 = 4150.0;
/// The step of the integration, in seconds.
const STEP_S: f64 = 2.0;
/// What share of a bottle lies next to its wall.
const OUTER: f64 = 0.25;

/// One bottle, truly.
#[derive(Clone, Debug)]
pub struct Bottle {
    /// What the person says, in litres.
    pub said_l: f64,
    heat_j_k: f64,
    tau10_s: f64,
    p: f64,
    core_c: f64,
    outer_c: f64,
    /// Whether it stands in the tub.
    pub is_in: bool,
}

/// The kitchen, truly.
#[derive(Clone, Debug)]
pub struct Kitchen {
    /// The bottles.
    pub bottles: Vec<Bottle>,
    /// What the person says the tub holds, in litres.
    pub said_l: f64,
    litres: f64,
    /// The tub, in °C.
    pub tub_c: f64,
    loss_w_k: f64,
    bend: f64,
    room_c: f64,
    drift_k_h: f64,
    /// The hot tap, in °C.
    pub hot_c: f64,
    /// The cold tap, in °C.
    pub cold_c: f64,
    /// Seconds since the tub was filled.
    pub now_s: f64,
    /// The warmest that the tub ever was.
    pub tub_most_c: f64,
}

impl Kitchen {
    /// The kitchen of that seed. Bottles, tub, room and taps stay the same from session to session;
    /// what is poured into them does not.
    pub fn new(seed: u64) -> Self {
        let mut chance = Chance::new(seed);
        let count = if chance.between(0.0, 1.0) < 0.5 { 1 } else { 2 };
        let p = chance.between(0.02, 0.20);
        let bottles = (0..count).map(|_| Bottle::new(&mut chance, p)).collect();
        let said_l = (chance.between(6.0, 14.0) * 2.0).round() / 2.0;
        let litres = said_l * chance.between(0.8, 1.2);
        let loss_w_k = (1.45 + 0.44 * litres) * libm::exp(0.3 * chance.normal());
        Self {
            bottles,
            said_l,
            litres,
            tub_c: 40.0,
            loss_w_k,
            bend: chance.between(0.01, 0.03),
            room_c: chance.between(18.0, 24.0),
            drift_k_h: chance.between(-2.0, 2.0),
            hot_c: chance.between(45.0, 55.0),
            cold_c: chance.between(10.0, 18.0),
            now_s: 0.0,
            tub_most_c: 0.0,
        }
    }

    /// Fills the tub at about `celsius` and puts cold bottles in.
    pub fn begin(&mut self, chance: &mut Chance, celsius: f64) {
        // By the thermometer, and never warmer than the tap.
        self.tub_c = (celsius + 0.2 * chance.normal()).min(self.hot_c);
        self.tub_most_c = self.tub_c;
        self.litres = self.said_l * chance.between(0.8, 1.2);
        self.now_s = 0.0;
        for bottle in &mut self.bottles {
            bottle.core_c = chance.between(18.0, 24.0);
            bottle.outer_c = bottle.core_c;
            bottle.is_in = true;
        }
    }

    /// Lets time pass.
    pub fn pass(&mut self, seconds: f64) {
        let mut left = seconds;
        while left > 1e-9 {
            let step = left.min(STEP_S);
            self.step(step);
            left -= step;
        }
    }

    fn step(&mut self, step: f64) {
        let mut given_w = 0.0;
        for bottle in &mut self.bottles {
            given_w += bottle.step(step, self.tub_c, self.room_c);
        }
        let above = self.tub_c - self.room_c;
        // Evaporation grows faster than the difference does.
        let loss_w = self.loss_w_k * (1.0 + self.bend * (self.tub_c - 39.0)) * above;
        self.tub_c -= (given_w + loss_w) * step / (WATER_J_K_L * self.litres);
        self.tub_most_c = self.tub_most_c.max(self.tub_c);
        self.room_c += self.drift_k_h * step / 3600.0;
        self.now_s += step;
    }

    /// Takes water out and puts water of `celsius` in; both are not quite what is said.
    pub fn swap(&mut self, chance: &mut Chance, drain_l: f64, add_l: f64, celsius: f64) {
        let drain = drain_l * chance.between(0.8, 1.2);
        let add = add_l * chance.between(0.8, 1.2);
        self.litres = (self.litres - drain).max(0.3);
        self.tub_c = (self.litres * self.tub_c + add * celsius) / (self.litres + add);
        self.litres += add;
        self.tub_most_c = self.tub_most_c.max(self.tub_c);
    }

    /// Takes half of the water out and brings the rest to `celsius` by the thermometer, as far as
    /// the tap can.
    pub fn refill_half(&mut self, chance: &mut Chance, celsius: f64) {
        let most = f64::midpoint(self.tub_c, self.hot_c);
        self.tub_c = (celsius + 0.2 * chance.normal()).min(most).max(self.tub_c);
        self.tub_most_c = self.tub_most_c.max(self.tub_c);
    }

    /// What the thermometer says of a bottle; of the tub, if there is no bottle of that number.
    pub fn read(&self, chance: &mut Chance, node: usize) -> f64 {
        let true_c = match self.bottles.get(node) {
            Some(bottle) => {
                let is_swirled = chance.between(0.0, 1.0) >= 0.2;
                let pull = if is_swirled { 0.0 } else { 0.1 * (self.tub_c - bottle.mixed_c()) };
                bottle.mixed_c() + pull
            }
            None => self.tub_c,
        };
        ((true_c + 0.2 * chance.normal()) * 10.0).round() / 10.0
    }
}

impl Bottle {
    fn new(chance: &mut Chance, p: f64) -> Self {
        let said_l = if chance.between(0.0, 1.0) < 0.5 { 0.5 } else { 1.0 };
        let litres = said_l * chance.between(0.9, 1.1);
        // Fully to six tenths immersed: from the table's still time constants to its slow ones.
        let deep = chance.between(0.0, 1.0);
        let (fast, slow) = if said_l < 0.75 { (486.0, 774.0) } else { (635.0, 1013.0) };
        let tau10_s = (fast + (slow - fast) * deep) * libm::exp(0.1 * chance.normal());
        Self {
            said_l,
            heat_j_k: 4281.0 * litres,
            tau10_s: tau10_s * litres / said_l,
            p,
            core_c: 20.0,
            outer_c: 20.0,
            is_in: true,
        }
    }

    /// Its temperature once it is swirled.
    pub fn mixed_c(&self) -> f64 {
        OUTER * self.outer_c + (1.0 - OUTER) * self.core_c
    }

    /// Gives the heat it takes from the tub, in watts.
    fn step(&mut self, step: f64, tub_c: f64, room_c: f64) -> f64 {
        // A quarter of the resistance lies inside.
        let (outside, inside) = (0.75 * self.tau10_s, 0.25 * self.tau10_s);
        let outer_j_k = OUTER * self.heat_j_k;
        let core_j_k = self.heat_j_k - outer_j_k;
        let inner_w = self.heat_j_k / inside * (self.outer_c - self.core_c);
        let taken_w = if self.is_in {
            let pull = tub_c - self.outer_c;
            libm::pow(pull.abs().max(0.3) / 10.0, self.p) * self.heat_j_k / outside * pull
        } else {
            // Ninety minutes in air.
            self.heat_j_k / 5400.0 * (room_c - self.outer_c)
        };
        self.outer_c += (taken_w - inner_w) * step / outer_j_k;
        self.core_c += inner_w * step / core_j_k;
        if self.is_in { taken_w } else { 0.0 }
    }
}
