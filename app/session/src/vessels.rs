//! Bottles, tub and tank as the person has set them up, and what earlier evenings have taught.
//!
//! What was never set up is assumed: a litre of plastic bottle, eight litres of tub, half a litre of
//! plastic tank, taps of 48 and 15 °C, a room of 21 °C. Common sizes, no source.

use process_model::advice::HandsInTub;
use process_model::estimate::Guess;
use process_model::sheet::Bath;
use process_model::vessel::{self, BottleDefaults, Material};

use crate::notebook::{Kind, Named, Record};
use crate::shelf::LOST_ML;

/// How deep a bottle usually stands in the water, as a share of its height.
const IMMERSED: f64 = 0.8;
/// What vessels are assumed to hold, in litres: a bottle, a tub, a tank.
pub const USUAL_L: (f64, f64, f64) = (1.0, 8.0, 0.5);

/// A bottle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BottleVessel {
    /// What it holds.
    pub bath: Bath,
    /// How much, in litres.
    pub litres: f64,
    /// What it is made of.
    pub material: Material,
    /// Its time constant as it was learned.
    pub ln_tau10: Option<Guess>,
}

/// Everything that stands on the counter.
#[derive(Clone, Debug, PartialEq)]
pub struct Vessels {
    /// The bottles that were set up.
    pub bottles: Vec<BottleVessel>,
    /// How much the tub holds, in litres; nought: there is no tub.
    pub tub_l: f64,
    /// Whether a circulator keeps the tub where it is set.
    pub has_circulator: bool,
    /// Whose hands go into the tub.
    pub hands: HandsInTub,
    /// Its loss as it was learned.
    pub ln_loss: Option<Guess>,
    /// How the rate grows with the difference, as it was learned.
    pub p: Option<Guess>,
    /// The hot tap, in °C.
    pub hot_c: f64,
    /// The cold tap, in °C.
    pub cold_c: f64,
    /// The room, in °C.
    pub room_c: f64,
    /// How much the tank holds, in litres.
    pub tank_l: f64,
    /// How much of that covers the reels, in litres, where it was said.
    pub covers_l: Option<f64>,
    /// How much of a bath stays in it with each roll when it is poured out, in millilitres.
    pub carry_over_ml: f64,
    /// Whether it is of steel.
    pub is_steel: bool,
    /// What the thermometer shows less what is true, in kelvins.
    pub offset_k: f64,
}

impl Default for Vessels {
    fn default() -> Self {
        let (_, tub_l, tank_l) = USUAL_L;
        Self {
            bottles: Vec::new(),
            tub_l,
            has_circulator: false,
            hands: HandsInTub::Yes,
            ln_loss: None,
            p: None,
            hot_c: 48.0,
            cold_c: 15.0,
            room_c: 21.0,
            tank_l,
            covers_l: None,
            carry_over_ml: LOST_ML,
            is_steel: false,
            offset_k: 0.0,
        }
    }
}

impl Vessels {
    /// What the records say.
    pub fn of(records: &[Record]) -> Self {
        let mut vessels = Self::default();
        for record in records.iter().filter(|record| !record.is_deleted()) {
            match (record.kind(), record.text("vessel")) {
                (Kind::Vessel, "bottle") => vessels.bottles.extend(bottle_of(record)),
                (Kind::Vessel, "tub") => vessels.take_tub(record),
                (Kind::Vessel, "tank") => {
                    vessels.tank_l = litres(record, 0.1, 10.0).unwrap_or(vessels.tank_l);
                    let covers_ml = record.number("least_ml");
                    vessels.covers_l =
                        covers_ml.filter(|ml| (10.0..=10_000.0).contains(ml)).map(|ml| ml / 1000.0);
                    let carried = record.number("carry_over_ml");
                    vessels.carry_over_ml =
                        carried.filter(|ml| (0.0..=200.0).contains(ml)).unwrap_or(LOST_ML);
                    vessels.is_steel = record.text("material") == "steel";
                }
                (Kind::Thermometer, _) => {
                    let offset = record.number("offset_kelvins").unwrap_or_default();
                    vessels.offset_k = offset.clamp(-10.0, 10.0);
                }
                _ => {}
            }
        }
        vessels
    }

    /// The bottle of a bath: as set up, or the usual one.
    pub fn bottle(&self, bath: Bath) -> BottleVessel {
        let usual =
            BottleVessel { bath, litres: USUAL_L.0, material: Material::Hdpe, ln_tau10: None };
        self.bottles.iter().find(|bottle| bottle.bath == bath).copied().unwrap_or(usual)
    }

    /// How fast a bottle follows the tub, and what it holds: as learned, else as computed.
    pub fn follows(&self, bath: Bath) -> BottleDefaults {
        let bottle = self.bottle(bath);
        let known = vessel::bottle(Some(bottle.material), bottle.litres, IMMERSED);
        let usual = BottleDefaults { heat_j_k: 4281.0, ln_tau10: Guess { mean: 6.6, sd: 0.5 } };
        let known = known.unwrap_or(usual);
        BottleDefaults { ln_tau10: bottle.ln_tau10.unwrap_or(known.ln_tau10), ..known }
    }

    /// The tub's loss: as learned, else as computed.
    pub fn loss(&self) -> Guess {
        let computed = || vessel::ln_loss(self.tub_l.max(0.5), false);
        let usual = Guess { mean: 1.6, sd: 0.5 };
        self.ln_loss.unwrap_or_else(|| computed().unwrap_or(usual))
    }

    fn take_tub(&mut self, record: &Record) {
        let within = |field: &str, least: f64, most: f64| {
            record.number(field).filter(|number| (least..=most).contains(number))
        };
        self.tub_l = within("volume_ml", 0.0, 200_000.0).map_or(self.tub_l, |ml| ml / 1000.0);
        self.hot_c = within("hot_celsius", 0.0, 100.0).unwrap_or(self.hot_c);
        self.cold_c = within("cold_celsius", 0.0, 60.0).unwrap_or(self.cold_c);
        self.room_c = within("room_celsius", -20.0, 60.0).unwrap_or(self.room_c);
        self.has_circulator = record.text("material") == CIRCULATOR;
        self.ln_loss = learned(record, "ln_g", "ln_g_sd", (-3.0, 6.0));
        self.p = learned(record, "p", "p_sd", (-0.5, 0.8));
    }
}

fn bottle_of(record: &Record) -> Option<BottleVessel> {
    Some(BottleVessel {
        bath: Bath::from_file_name(record.text("bath"))?,
        litres: litres(record, 0.05, 20.0).unwrap_or(USUAL_L.0),
        material: material(record.text("material")),
        ln_tau10: learned(record, "ln_tau10", "ln_tau10_sd", (3.0, 10.0)),
    })
}

fn litres(record: &Record, least: f64, most: f64) -> Option<f64> {
    let litres = record.number("volume_ml")? / 1000.0;
    (least..=most).contains(&litres).then_some(litres)
}

/// A learned value that is not absurd.
fn learned(record: &Record, mean: &str, sd: &str, (least, most): (f64, f64)) -> Option<Guess> {
    let guess = Guess { mean: record.number(mean)?, sd: record.number(sd)? };
    let is_one = (least..=most).contains(&guess.mean) && (1e-3..=2.0).contains(&guess.sd);
    is_one.then_some(guess)
}

/// What stands in the place of a tub's material where a circulator keeps it warm.
pub const CIRCULATOR: &str = "circulator";

/// The names of materials in files.
pub const MATERIALS: [(&str, Material); 5] = [
    ("hdpe", Material::Hdpe),
    ("pet", Material::Pet),
    ("accordion", Material::Accordion),
    ("glass", Material::Glass),
    ("steel", Material::Steel),
];

fn material(name: &str) -> Material {
    MATERIALS.iter().find(|(known, _)| *known == name).map_or(Material::Hdpe, |(_, one)| *one)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::timestamp::Timestamp;

    fn record(fields: &[(&str, f64)], vessel: &str) -> Record {
        let record = Record::new(Kind::Vessel, "v", "d", Timestamp::default());
        let record = record.with("name", "it").with("vessel", vessel).with("bath", "developer");
        fields.iter().fold(record, |record, (field, number)| record.with(field, *number))
    }

    #[test]
    fn what_was_not_set_up_is_usual() {
        let vessels = Vessels::of(&[]);
        assert!((vessels.bottle(Bath::Developer).litres - 1.0).abs() < 1e-9);
        assert!((vessels.tub_l - 8.0).abs() < 1e-9);
        assert!(vessels.loss().mean > 1.0);
    }

    #[test]
    fn what_was_learned_goes_before_what_was_computed() {
        let taught = [("volume_ml", 500.0), ("ln_tau10", 6.0), ("ln_tau10_sd", 0.1)];
        let vessels = Vessels::of(&[record(&taught, "bottle")]);
        let follows = vessels.follows(Bath::Developer);
        assert!((follows.ln_tau10.mean - 6.0).abs() < 1e-9);
        assert!((follows.heat_j_k - 2158.0).abs() < 1.0);
    }

    #[test]
    fn absurd_numbers_are_not_taken() {
        let absurd = [("volume_ml", -5.0), ("ln_tau10", 600.0), ("ln_tau10_sd", 0.1)];
        let vessels = Vessels::of(&[record(&absurd, "bottle"), record(&[("ln_g", 1e9)], "tub")]);
        assert_eq!(vessels.bottle(Bath::Developer).ln_tau10, None);
        assert!((vessels.bottle(Bath::Developer).litres - 1.0).abs() < 1e-9);
        assert_eq!(vessels.ln_loss, None);
    }
}
