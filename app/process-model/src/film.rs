//! How much film a roll is: the area that uses up a solution.

use crate::quantity::SquareCentimetres;
use crate::source::Source;

/// A format of film, as its box names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Format {
    /// 35 mm, 12 exposures.
    Film135x12,
    /// 35 mm, 24 exposures.
    Film135x24,
    /// 35 mm, 36 exposures.
    Film135x36,
    /// Roll film with backing paper along its whole length.
    Film120,
    /// Roll film with paper only as leader and trailer.
    Film220,
    /// Roll film 4 cm wide.
    Film127,
}

/// The dimensions of one format.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dimensions {
    /// Across the strip, in millimetres.
    pub width_mm: f64,
    /// Along the strip, leader and tongue included, in millimetres.
    pub length_mm: f64,
    /// The standard that names the format; the lengths themselves are from memory.
    pub standard: Source,
}

/// The area that capacity tables call one roll: 80 square inches.
///
/// # Source
///
/// Trade usage, seen in a secondary source: 80 in² × 6.4516 cm²/in².
pub const TRADE_ROLL: SquareCentimetres = SquareCentimetres::new(516.128);

impl Format {
    /// Every format, as a list to choose from.
    pub const ALL: [Self; 6] = [
        Self::Film135x36,
        Self::Film135x24,
        Self::Film135x12,
        Self::Film120,
        Self::Film220,
        Self::Film127,
    ];

    /// Width and length.
    ///
    /// # Source
    ///
    /// Formats of ISO 1007 and ISO 732. For 35 mm film the pitch of 38.00 mm (8 perforations of
    /// 4.75 mm) and 240 mm for leader, tongue and core end are from memory.
    pub const fn dimensions(self) -> Dimensions {
        let (width_mm, length_mm, standard) = match self {
            Self::Film135x12 => (35.0, 696.0, Source::Iso1007),
            Self::Film135x24 => (35.0, 1152.0, Source::Iso1007),
            Self::Film135x36 => (35.0, 1608.0, Source::Iso1007),
            Self::Film120 => (61.5, 820.0, Source::Iso732),
            Self::Film220 => (61.5, 1640.0, Source::Iso732),
            Self::Film127 => (46.0, 620.0, Source::Iso732),
        };
        Dimensions { width_mm, length_mm, standard }
    }

    /// The geometric area of one side of the strip.
    pub fn area(self) -> SquareCentimetres {
        let Dimensions { width_mm, length_mm, .. } = self.dimensions();
        SquareCentimetres::new(width_mm * length_mm / 100.0)
    }

    /// How many rolls of a capacity table the strip counts as.
    pub fn trade_rolls(self) -> f64 {
        self.area().get() / TRADE_ROLL.get()
    }

    /// How many rolls a leaflet that counts rolls takes the strip for: 36 exposures and 120 are one,
    /// 220 is two, the rest go by area. Trade usage, from memory.
    pub fn counted_rolls(self) -> f64 {
        match self {
            Self::Film135x36 | Self::Film120 => 1.0,
            Self::Film220 => 2.0,
            Self::Film135x24 | Self::Film135x12 | Self::Film127 => self.trade_rolls(),
        }
    }

    /// How much solution covers one reel with this film, in millilitres. From memory; the figure on
    /// the tank goes first.
    pub const fn covered_by_ml(self, tank: Tank) -> f64 {
        let (narrow, middle, wide) = match tank {
            Tank::Plastic => (290.0, 370.0, 500.0),
            // Of 127 in steel nothing is known; between the others.
            Tank::Steel => (240.0, 370.0, 480.0),
            // Half of the reel. Several take somewhat less than this each.
            Tank::Rotary => (150.0, 200.0, 250.0),
        };
        match self {
            Self::Film135x12 | Self::Film135x24 | Self::Film135x36 => narrow,
            Self::Film127 => middle,
            Self::Film120 | Self::Film220 => wide,
        }
    }
}

/// What a reel turns in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tank {
    /// A plastic tank that is turned over.
    Plastic,
    /// A steel tank that is turned over.
    Steel,
    /// A drum that turns on its side.
    Rotary,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_geometric_roll_is_more_than_a_trade_roll() {
        assert!(Format::Film135x36.trade_rolls() > 1.0);
        assert!(Format::Film220.area().get() > Format::Film120.area().get());
    }

    #[test]
    fn a_leaflet_counts_a_220_as_two_of_120_and_no_other_strip_for_more_than_a_roll() {
        let twice = 2.0 * Format::Film120.counted_rolls();
        assert!((Format::Film220.counted_rolls() - twice).abs() < 1e-12);
        for format in Format::ALL {
            let most = if format == Format::Film220 { 2.0 } else { 1.0 };
            assert!((0.0..=most).contains(&format.counted_rolls()), "{format:?}");
            for tank in [Tank::Plastic, Tank::Steel, Tank::Rotary] {
                assert!(format.covered_by_ml(tank) > 100.0);
            }
        }
    }
}
