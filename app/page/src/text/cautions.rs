//! The usual cautions, shown once for a kit and found again from Lay out.
//!
//! Each defers to the safety data sheet of the product in hand, local codes and licensed practice.

/// A caution: what, and why or how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What to do.
    pub what: &'static str,
    /// Why, or how.
    pub why: &'static str,
}

/// The cautions that matter before the first bottle is opened.
///
/// Sources: gloves and eyes J-300; sensitising Contact Dermatitis 1988;19:290; ventilation EPA
/// household hazardous waste library (2008 archive); phone an energy-education council;
/// vessels and children from memory and health departments' sheets; hot water the shortest time in
/// `process_model::printed`; waste J-300 and health departments' sheets.
pub const CAUTIONS: [Caution; 7] = [
    Caution { what: "Nitrile gloves", why: "Developer can sensitise skin for life." },
    Caution { what: "Eye protection", why: "For every pour. A splash: rinse 15 minutes." },
    Caution { what: "Window or fan", why: "Air moves away from your face." },
    Caution {
        what: "Thermometer, not hand",
        why: "60 °C (140 °F) burns in 3 seconds. Cold first.",
    },
    Caution { what: "No mains near water", why: "Phone and lamps on battery." },
    Caution { what: "Nothing for food", why: "No children, no animals: it looks like juice." },
    Caution { what: "Not down the drain", why: "Used bleach-fix holds silver. Into a jug." },
];

/// Who has the last word.
pub const DEFERS: &str =
    "The safety data sheet of your kit, local codes and licensed practice go before this page.";
