//! Two people with one thermometer: one follows the page, one looks every two minutes.

use process_model::advice::HandsInTub;
use process_model::vessel::{self, Material};
use session::tempering::{Bottle, Fact, Kitchen, Next, Noted, Target, Tempering, temper};

use crate::chance::Chance;
use crate::truth;

/// Where a bottle should be, in °C.
const TARGET_C: f64 = 38.9;
/// One dip of the thermometer, read and rinsed, in seconds.
const DIP_S: f64 = 15.0;
/// Changing water, in seconds.
const SWAP_S: f64 = 45.0;
/// Nobody goes on for longer.
pub const LATEST_S: f64 = 5_400.0;

/// What became of an evening.
#[derive(Clone, Copy, Debug, Default)]
pub struct Evening {
    /// Bottles.
    pub bottles: u32,
    /// Readings, the tub's counted.
    pub dips: u32,
    /// Bottles truly within half a degree when they were held to be ready.
    pub within: u32,
    /// Bottles that truly passed the target by half a degree before.
    pub over: u32,
    /// When the last bottle was held to be ready.
    pub seconds: f64,
    /// Readings for which there was a band.
    pub expected: u32,
    /// Readings inside their band.
    pub held: u32,
    /// The warmest that the tub truly was, in °C.
    pub tub_most_c: f64,
}

/// A kitchen with somebody in it.
struct Scene {
    kitchen: truth::Kitchen,
    chance: Chance,
    ready: Vec<bool>,
    was_over: Vec<bool>,
    evening: Evening,
}

impl Scene {
    fn new(kitchen: truth::Kitchen, seed: u64, fill_c: f64) -> Self {
        let mut scene = Self {
            ready: vec![false; kitchen.bottles.len()],
            was_over: vec![false; kitchen.bottles.len()],
            evening: Evening {
                bottles: if kitchen.bottles.len() == 1 { 1 } else { 2 },
                ..Evening::default()
            },
            chance: Chance::new(seed),
            kitchen,
        };
        scene.kitchen.begin(&mut scene.chance, fill_c);
        scene
    }

    fn pass(&mut self, seconds: f64) {
        let mut left = seconds;
        while left > 0.0 {
            let step = left.min(5.0);
            self.kitchen.pass(step);
            left -= step;
            for (bottle, (was_over, ready)) in
                self.kitchen.bottles.iter().zip(self.was_over.iter_mut().zip(&self.ready))
            {
                *was_over |= !ready && bottle.mixed_c() > TARGET_C + 0.5;
            }
        }
    }

    fn dip(&mut self, node: usize) -> f64 {
        self.pass(DIP_S);
        self.evening.dips += 1;
        self.kitchen.read(&mut self.chance, node)
    }

    /// Somebody holds that bottle to be ready.
    fn hold_ready(&mut self, number: usize) {
        if !self.ready[number] {
            self.ready[number] = true;
            let off = self.kitchen.bottles[number].mixed_c() - TARGET_C;
            self.evening.within += u32::from(off.abs() <= 0.5);
            self.evening.over += u32::from(self.was_over[number]);
            self.evening.seconds = self.kitchen.now_s;
        }
        self.kitchen.bottles[number].is_in = false;
    }

    fn end(mut self) -> Evening {
        for (ready, was_over) in self.ready.iter().zip(&self.was_over) {
            if !ready {
                self.evening.seconds = LATEST_S;
                self.evening.over += u32::from(*was_over);
            }
        }
        self.evening.tub_most_c = self.kitchen.tub_most_c;
        self.evening
    }
}

/// Reads every unready bottle every two minutes and the tub every four, refills half the tub to 45 °C
/// when it is less than two degrees above the target, and stops a bottle within 0.3.
pub fn look_often(seed: u64) -> Evening {
    let mut scene = Scene::new(truth::Kitchen::new(seed), seed ^ 0xb0b, 45.0);
    let count = scene.ready.len();
    let mut round = 0_u32;
    while scene.ready.contains(&false) && scene.kitchen.now_s < LATEST_S {
        let began_s = scene.kitchen.now_s;
        if round.is_multiple_of(2) && scene.dip(count) < TARGET_C + 2.0 {
            scene.pass(SWAP_S);
            scene.evening.dips += 1;
            scene.kitchen.refill_half(&mut scene.chance, 45.0);
        }
        for number in 0..count {
            if scene.ready[number] {
                continue;
            }
            let read = scene.dip(number);
            // Too warm: it stands beside the tub until it is not.
            scene.kitchen.bottles[number].is_in = read <= TARGET_C + 0.3;
            if (read - TARGET_C).abs() <= 0.3 {
                scene.hold_ready(number);
            }
        }
        let gone = scene.kitchen.now_s - began_s;
        scene.pass((120.0 - gone).max(0.0));
        round += 1;
    }
    scene.end()
}

/// Does what the page says, on a first evening and on one that has learned from it.
pub fn follow_page(seed: u64) -> (Evening, Evening) {
    let truth = truth::Kitchen::new(seed);
    let known = known(&truth);
    let (first, learned) = one_evening(truth.clone(), seed ^ 0xa11ce, &known);
    let (second, _) = one_evening(truth, seed ^ 0x5ec0d, &learned);
    (first, second)
}

/// What the person has told the page.
fn known(truth: &truth::Kitchen) -> Kitchen {
    let target = Target { aim_c: TARGET_C, least_c: TARGET_C, most_c: TARGET_C, leave_s: 0.0 };
    let bottle = |bottle: &truth::Bottle| {
        let known = vessel::bottle(Some(Material::Hdpe), bottle.said_l, 0.8).unwrap();
        Bottle { heat_j_k: known.heat_j_k, ln_tau10: known.ln_tau10, target }
    };
    Kitchen {
        bottles: truth.bottles.iter().map(bottle).collect(),
        tub_l: truth.said_l,
        is_held: false,
        ln_loss: vessel::ln_loss(truth.said_l, false).unwrap(),
        p: vessel::EXPONENT,
        room_c: 21.0,
        hot_c: truth.hot_c,
        cold_c: truth.cold_c,
        hands: HandsInTub::Yes,
    }
}

/// Somebody who does what the page says.
struct Follower {
    scene: Scene,
    noted: Vec<Noted>,
    learned: Kitchen,
}

fn one_evening(truth: truth::Kitchen, seed: u64, known: &Kitchen) -> (Evening, Kitchen) {
    let scene = Scene::new(truth, seed, known.hands.planned_most_c());
    let mut one = Follower { scene, noted: Vec::new(), learned: known.clone() };
    while one.scene.kitchen.now_s < LATEST_S {
        let now_s = one.scene.kitchen.now_s;
        let seen = temper(known, &one.noted, now_s).unwrap();
        one.learn(&seen);
        match seen.next {
            Next::Measure { node } => one.measure(&seen, node),
            Next::Swap { round, tap_c } => {
                one.scene.pass(SWAP_S);
                let (drain_l, add_l) = (round.drain_l, round.add_l);
                one.scene.kitchen.swap(&mut one.scene.chance, drain_l, add_l, tap_c);
                one.note(Fact::Swapped { drain_l, add_l, celsius: tap_c });
            }
            Next::Lift { bottle } => {
                one.scene.hold_ready(bottle);
                one.note(Fact::Lifted { bottle });
            }
            Next::Wait { until_s, .. } => one.scene.pass((until_s - now_s).clamp(1.0, 30.0)),
            Next::CannotGetThere { .. } => one.scene.pass(60.0),
            Next::Ready => {
                (0..one.scene.ready.len()).for_each(|number| one.scene.hold_ready(number));
                break;
            }
        }
    }
    (one.scene.end(), one.learned)
}

impl Follower {
    fn note(&mut self, fact: Fact) {
        self.noted.push(Noted { at_s: self.scene.kitchen.now_s, fact });
    }

    fn learn(&mut self, seen: &Tempering) {
        if let Some((bottles, ln_loss, p)) = seen.learned() {
            for (bottle, ln_tau10) in self.learned.bottles.iter_mut().zip(bottles) {
                bottle.ln_tau10 = ln_tau10;
            }
            (self.learned.ln_loss, self.learned.p) = (ln_loss, p);
        }
    }

    /// Reads what the page asks for; where it was read before, the page says what to expect.
    fn measure(&mut self, seen: &Tempering, node: usize) {
        let celsius = self.scene.dip(node);
        let at_s = self.scene.kitchen.now_s;
        let is_of = |noted: &Noted| matches!(noted.fact, Fact::Read { node: of, .. } if of == node);
        if let Some((least, most)) =
            seen.expect_c(node, at_s).filter(|_| self.noted.iter().any(is_of))
        {
            self.scene.evening.expected += 1;
            self.scene.evening.held += u32::from(least <= celsius && celsius <= most);
        }
        self.note(Fact::Read { node, celsius });
    }
}
