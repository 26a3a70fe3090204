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
/// vessels and children from memory and health departments' sheets.
pub const CAUTIONS: [Caution; 6] = [
    Caution { what: "Nitrile gloves", why: "Developer can sensitise skin for life." },
    Caution { what: "Eye protection", why: "For every pour. A splash: rinse 15 minutes." },
    Caution { what: "Window or fan", why: "Air moves away from your face." },
    Caution { what: "Chemistry-only vessels", why: "Never used for food again." },
    Caution { what: "Phone on battery", why: "Off the charger, away from the splash." },
    Caution { what: "Children out", why: "And animals. Bottles look like juice." },
];

/// Who has the last word.
pub const DEFERS: &str =
    "The safety data sheet of your kit, local codes and licensed practice go before this page.";
