//! Mixing: dilutions, kits in parts, and what a measuring cylinder can show.

use crate::refused::{Refused, above_nought, within};

/// Millilitres in a US fluid ounce. Exact by definition.
pub const ML_PER_US_FL_OZ: f64 = 29.573_529_562_5;

/// Concentrate and water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dilution {
    /// Concentrate, in the unit of the total.
    pub concentrate: f64,
    /// Water.
    pub water: f64,
}

/// A dilution 1 + `parts`: one part of concentrate and so many of water.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn one_plus(total: f64, parts: f64) -> Result<Dilution, Refused> {
    above_nought("a volume", total)?;
    within("parts of water", parts, 0.0, 1e4)?;
    let concentrate = total / (1.0 + parts);
    Ok(Dilution { concentrate, water: total - concentrate })
}

/// The same written 1 : `parts` and read as one part *in* so many: stronger than 1 + n. Shown beside
/// it, because leaflets mean either.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn one_in(total: f64, parts: f64) -> Result<Dilution, Refused> {
    within("parts", parts, 1.0, 1e4)?;
    one_plus(total, parts - 1.0)
}

/// A part of a kit.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What the kit calls it.
    pub name: String,
    /// How much of it makes the kit's whole volume: millilitres, or grams of a powder.
    pub amount: f64,
    /// Whether it is a powder.
    pub is_powder: bool,
}

/// A kit as its leaflet has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Kit {
    /// What it makes, in millilitres.
    pub makes_ml: f64,
    /// Water to begin with, as a share of what it makes.
    pub water_first: f64,
    /// Its parts, in the order in which they go in.
    pub parts: Vec<Part>,
}

/// One thing to put in.
#[derive(Clone, Debug, PartialEq)]
pub struct Pour {
    /// What: a part's name, or water.
    pub what: String,
    /// How much, as the cylinder or scale can show it.
    pub amount: f64,
    /// How much exactly.
    pub exact: f64,
    /// Whether it is a powder, and so in grams.
    pub is_powder: bool,
}

/// What to put in, in order, and what to beware of.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// In order: water first, the parts, and water to the mark.
    pub pours: Vec<Pour>,
    /// Whether a powder is split: its grains are mixed unevenly, and a part of it is not a part of
    /// what it should be.
    pub splits_powder: bool,
}

impl Kit {
    /// A batch of `ml` of this kit, each amount rounded to what is on the cylinder.
    ///
    /// # Errors
    ///
    /// [`Refused`] for an empty kit, numbers that cannot be, and parts that do not fit into the whole.
    pub fn recipe(&self, ml: f64) -> Result<Recipe, Refused> {
        above_nought("a volume", ml)?;
        above_nought("what a kit makes", self.makes_ml)?;
        within("the water to begin with", self.water_first, 0.0, 1.0)?;
        if self.parts.is_empty() {
            return Err(Refused::None { what: "part of the kit" });
        }
        let scale = ml / self.makes_ml;
        let pour = |what: &str, exact: f64, is_powder: bool| {
            let step = if is_powder { 0.1 } else { graduation(exact) };
            Pour { what: what.to_owned(), amount: (exact / step).round() * step, exact, is_powder }
        };
        let first = ml * self.water_first;
        let mut pours = vec![pour("water", first, false)];
        let mut liquid = first;
        for part in &self.parts {
            within("an amount", part.amount, 0.0, 1e6)?;
            let exact = part.amount * scale;
            liquid += if part.is_powder { 0.0 } else { exact };
            pours.push(pour(&part.name, exact, part.is_powder));
        }
        within("water to the mark", ml - liquid, 0.0, ml)?;
        pours.push(pour("water to the mark", ml - liquid, false));
        let has_powder = self.parts.iter().any(|part| part.is_powder);
        Ok(Recipe { pours, splits_powder: has_powder && (scale - scale.round()).abs() > 1e-9 })
    }
}

/// The finest step of the cylinder that one would take for so much, in millilitres. Common practice,
/// no source: 10 mL by 0.2, 50 by 1, 100 by 1, 500 by 5, 1000 by 10.
pub fn graduation(ml: f64) -> f64 {
    match ml {
        _ if ml <= 10.0 => 0.2,
        _ if ml <= 100.0 => 1.0,
        _ if ml <= 500.0 => 5.0,
        _ => 10.0,
    }
}

/// What to write on the bottle: what is in it, how much, since when, and that nobody drinks it. The
/// volume comes as text, with its unit: whoever shows it knows how.
pub fn label(what: &str, volume: &str, day: &str, rolls: &str) -> String {
    format!(
        "{what}\n{volume}, mixed {day}\nRolls so far: {rolls}\nPHOTOGRAPHIC CHEMISTRY\nPOISON - NOT A DRINK\nHazards (from its safety data sheet): ________\nKeep locked away from children and animals."
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn kit(is_powder: bool) -> Kit {
        let part = |name: &str, amount| Part { name: name.to_owned(), amount, is_powder };
        Kit { makes_ml: 1_000.0, water_first: 0.7, parts: vec![part("A", 142.5), part("B", 47.0)] }
    }

    #[test]
    fn a_part_of_a_kit_is_scaled_and_rounded_to_a_cylinder() {
        let recipe = kit(false).recipe(600.0).unwrap();
        let amounts: Vec<_> = recipe.pours.iter().map(|pour| pour.amount).collect();
        assert_eq!(recipe.pours[1].what, "A");
        assert!(
            (amounts[1] - 86.0).abs() < 1e-9 && (amounts[2] - 28.0).abs() < 1e-9,
            "{amounts:?}"
        );
        assert!(!recipe.splits_powder);
    }

    #[test]
    fn a_powder_is_not_split_without_a_warning() {
        assert!(kit(true).recipe(500.0).unwrap().splits_powder);
        // Part of a second packet is part of a packet, too.
        assert!(kit(true).recipe(1_500.0).unwrap().splits_powder);
        for whole in [1_000.0, 2_000.0] {
            assert!(!kit(true).recipe(whole).unwrap().splits_powder, "{whole}");
        }
        assert!(!kit(false).recipe(500.0).unwrap().splits_powder);
    }

    #[test]
    fn an_empty_kit_and_one_that_overflows_are_refused() {
        let empty = Kit { parts: vec![], ..kit(false) };
        assert_eq!(empty.recipe(500.0), Err(Refused::None { what: "part of the kit" }));
        let full = Kit { water_first: 0.95, ..kit(false) };
        assert!(full.recipe(1_000.0).is_err());
    }

    #[test]
    fn one_to_four_read_as_one_in_four_is_a_quarter_stronger() {
        let plus = one_plus(500.0, 4.0).unwrap();
        let within = one_in(500.0, 4.0).unwrap();
        assert!((within.concentrate / plus.concentrate - 1.25).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn no_numbers_make_it_panic(a: f64, b: f64, c: f64) {
            let _ = (one_plus(a, b).is_ok(), one_in(a, b).is_ok(), graduation(a));
            let kit = Kit { makes_ml: a, water_first: b, ..kit(true) };
            let _ = kit.recipe(c).is_ok();
        }
    }
}
