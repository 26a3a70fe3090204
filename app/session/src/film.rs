//! What a roll counts as: by the format of its box, or by what the person says of a format that no
//! box names.

use process_model::film::Format;

use crate::notebook::{Named, Record};

/// How many rolls of 36 exposures a film of the person's own may count as; our choice.
pub const ROLLS: (f64, f64) = (0.01, 20.0);

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
}

/// The format of a roll, if a box names it.
pub fn format_of(roll: &Record) -> Option<Format> {
    Format::from_file_name(roll.text("format"))
}

/// How much film a roll is. A format that no box names is what the person said that it counts as;
/// where they have not said it, one roll of 36 exposures.
pub fn amount_of(roll: &Record) -> Amount {
    let format = format_of(roll);
    let mut amount = Amount::of(format.unwrap_or(Format::Film135x36));
    let said = roll.number("counts_as_rolls").filter(|_| format.is_none());
    if let Some(rolls) = said.filter(|rolls| (ROLLS.0..=ROLLS.1).contains(rolls)) {
        amount = Amount { rolls, area_cm2: rolls * amount.area_cm2 };
    }
    amount
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
        counts(&own.with("counts_as_rolls", 0.5), 0.5, 281.4);
    }

    #[test]
    fn a_format_that_a_box_names_counts_as_itself_whatever_was_said_before() {
        let known = roll("120").with("counts_as_rolls", 7);
        assert_eq!(amount_of(&known), Amount::of(Format::Film120));
    }

    #[test]
    fn what_cannot_be_is_not_counted() {
        for number in [-1.0, 0.0, 1e9] {
            let amount = amount_of(&roll("my own").with("counts_as_rolls", number));
            assert_eq!(amount, Amount::of(Format::Film135x36), "{number}");
        }
    }
}
