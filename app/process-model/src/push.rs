//! Push, pull and rotary agitation: named rules that change the developer's time alone.
//!
//! Bleach, fixer and wash stay as they are, and a rule is for the whole roll.

use crate::refused::{Refused, above_nought, within};
use crate::source::Source;

/// A rule for push and pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// What it is called.
    pub name: &'static str,
    /// Where it is from.
    pub source: Source,
    /// What it does.
    does: Does,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Does {
    /// So many seconds for each stop.
    Adds(f64),
    /// Factors for −1, +1, +2 and +3 stops.
    Multiplies([f64; 4]),
}

impl Push {
    /// Every rule.
    pub const ALL: [Self; 5] = [
        Self {
            name: "C-41: thirty seconds a stop",
            source: Source::WikiOnProcessing,
            does: Does::Adds(30.0),
        },
        Self {
            name: "Two-bath kits: factors",
            source: Source::FromMemory,
            does: Does::Multiplies([0.77, 1.3, 1.75, 2.5]),
        },
        Self {
            name: "E-6 first developer: factors",
            source: Source::FromMemory,
            does: Does::Multiplies([0.75, 1.333_333_333, 1.833_333_333, 2.666_666_667]),
        },
        // The middle of the range that is quoted for each stop.
        Self {
            name: "Black-and-white: factors",
            source: Source::FromMemory,
            does: Does::Multiplies([0.75, 1.35, 1.85, 2.5]),
        },
        Self {
            name: "Tabular grain, first stop free",
            source: Source::FromMemory,
            does: Does::Multiplies([0.75, 1.0, 1.35, 1.85]),
        },
    ];

    /// The developer's time for so many stops: −1 to +3, halves between them.
    ///
    /// # Errors
    ///
    /// [`Refused`] for times and stops that cannot be.
    pub fn seconds(self, nominal_s: f64, stops: f64) -> Result<f64, Refused> {
        above_nought("a time", nominal_s)?;
        within("stops of push", stops, -1.0, 3.0)?;
        let factor = match self.does {
            Does::Adds(seconds) => return Ok(f64::max(nominal_s + seconds * stops, 1.0)),
            Does::Multiplies([pull, one, two, three]) => {
                let known = [(-1.0, pull), (0.0, 1.0), (1.0, one), (2.0, two), (3.0, three)];
                crate::development::straight(&known, stops)
            }
        };
        Ok(nominal_s * factor)
    }
}

/// What continuous agitation does to a developer's time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rotary {
    /// For what.
    pub name: &'static str,
    /// The factor.
    pub factor: f64,
    /// Where it is from.
    pub source: Source,
}

impl Rotary {
    /// Every rule. From memory: makers' sheets, which differ.
    pub const ALL: [Self; 3] = [
        Self { name: "Colour negative: no change", factor: 1.0, source: Source::FromMemory },
        Self { name: "E-6 first developer: no change", factor: 1.0, source: Source::FromMemory },
        Self { name: "Black-and-white: 15 % less", factor: 0.85, source: Source::FromMemory },
    ];
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stop_of_push_is_longer_and_of_pull_shorter() {
        for rule in Push::ALL {
            let at = |stops| rule.seconds(210.0, stops).unwrap();
            assert!(at(-1.0) < 210.0 && at(1.0) >= 210.0 && at(2.0) > at(1.0), "{}", rule.name);
            assert!((at(0.0) - 210.0).abs() < 1e-9);
        }
        assert!(Push::ALL[0].seconds(195.0, 4.0).is_err());
        assert!(Push::ALL[0].seconds(f64::NAN, 1.0).is_err());
    }
}
