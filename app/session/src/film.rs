//! What a roll counts as: by the format of its box, or by what the person says of a format that no
//! box names.

use process_model::film::{Format, TRADE_ROLL};
use process_model::quantity::SquareCentimetres;

use crate::notebook::{Named, Record};

/// How many rolls of 36 exposures a film of the person's own may count as; our choice.
pub const ROLLS: (f64, f64) = (0.01, 20.0);
/// How large it may be, in square centimetres; our choice.
pub const AREA_CM2: (f64, f64) = (1.0, 10_000.0);

/// How much film something is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// How many rolls a leaflet would count.
    pub rolls: f64,
    /// Its area in square centimetres.
    pub area_cm2: f64,
}

impl Amount {
    /// A film of a format.
    pub fn of(format: Format) -> Self {
        Self { rolls: format.counted_rolls(), area_cm2: format.area().get() }
    }

    /// So many rolls of 36 exposures.
    fn of_rolls(rolls: f64) -> Self {
        let one = Self::of(Format::Film135x36);
        Self { rolls, area_cm2: rolls * one.area_cm2 }
    }

    /// A film of this area: a leaflet that counts rolls counts it by area.
    fn of_area(area: SquareCentimetres) -> Self {
        Self { rolls: area.get() / TRADE_ROLL.get(), area_cm2: area.get() }
    }
}

/// The format of a roll, if a box names it.
pub fn format_of(roll: &Record) -> Option<Format> {
    Format::from_file_name(roll.text("format"))
}

/// How much film a roll is. A format that no box names is what the person said that it counts as;
/// where they have not said it, one roll of 36 exposures.
pub fn amount_of(roll: &Record) -> Amount {
    if let Some(format) = format_of(roll) {
        return Amount::of(format);
    }
    let said =
        |field, (least, most)| roll.number(field).filter(|number| (least..=most).contains(number));
    let area = said("area_cm2", AREA_CM2).and_then(|area| SquareCentimetres::try_new(area).ok());
    let by_area = area.map(Amount::of_area);
    by_area.unwrap_or_else(|| Amount::of_rolls(said("counts_as_rolls", ROLLS).unwrap_or(1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notebook::Kind;
    use crate::timestamp::Timestamp;

    fn roll(format: &str) -> Record {
        let now = Timestamp::from_milliseconds(1_795_000_000_000);
        Record::new(Kind::Roll, "r", "phone", now).with("format", format)
    }

    #[track_caller]
    fn counts(roll: &Record, rolls: f64, area_cm2: f64) {
        let amount = amount_of(roll);
        assert!((amount.rolls - rolls).abs() < 1e-9, "{amount:?}");
        assert!((amount.area_cm2 - area_cm2).abs() < 1e-9, "{amount:?}");
    }

    #[test]
    fn a_film_of_ones_own_counts_as_the_person_says() {
        let own = roll("a length of 70 mm");
        counts(&own, 1.0, Format::Film135x36.area().get());
        counts(&own.clone().with("counts_as_rolls", 0.5), 0.5, 281.4);
        counts(&own.with("area_cm2", 258.064), 0.5, 258.064);
    }

    #[test]
    fn a_format_that_a_box_names_counts_as_itself_whatever_was_said_before() {
        let known = roll("120").with("counts_as_rolls", 7).with("area_cm2", 9);
        assert_eq!(amount_of(&known), Amount::of(Format::Film120));
    }

    #[test]
    fn what_cannot_be_is_not_counted() {
        for (field, number) in
            [("counts_as_rolls", -1.0), ("counts_as_rolls", 1e9), ("area_cm2", 0.0)]
        {
            let amount = amount_of(&roll("my own").with(field, number));
            assert_eq!(amount, Amount::of(Format::Film135x36), "{field} {number}");
        }
    }
}
