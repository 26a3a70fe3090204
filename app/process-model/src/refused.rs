//! Why the model does not answer.

use thiserror::Error;

/// What was wrong with what the model was given.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum Refused {
    /// A number that cannot be: not finite, or outside what the quantity can be.
    #[error("{what} cannot be {value}")]
    Number {
        /// Which number.
        what: &'static str,
        /// Its value.
        value: f64,
    },
    /// Nothing was given where at least one was needed.
    #[error("at least one {what} is needed")]
    None {
        /// Of what.
        what: &'static str,
    },
    /// More were given than the model is made for.
    #[error("{count} {what} are more than {most}")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// How many.
        count: usize,
        /// How many at most.
        most: usize,
    },
    /// A number of a bottle that is not there.
    #[error("there is no bottle number {number}")]
    NoBottle {
        /// The number, from 0.
        number: usize,
    },
    /// One pair of time and temperature says nothing about the slope.
    #[error("one time needs a second time at another temperature, or a typical slope")]
    OnePair,
    /// The estimate did not come to an end.
    #[error("the readings cannot be brought together")]
    NoEstimate,
    /// A target that lies outside what there is to mix.
    #[error("{target_c} °C lies outside {least_c} to {most_c} °C")]
    OutsideSources {
        /// The target.
        target_c: f64,
        /// The colder source.
        least_c: f64,
        /// The hotter source.
        most_c: f64,
    },
    /// Nothing can be planned: hands or bottles always collide.
    #[error("no start within {seconds} s keeps hands and bottles apart")]
    NoStart {
        /// How far was looked.
        seconds: u32,
    },
}

/// `value` if it is finite and between `least` and `most`.
pub(crate) fn within(
    what: &'static str,
    value: f64,
    least: f64,
    most: f64,
) -> Result<f64, Refused> {
    if value.is_finite() && (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(Refused::Number { what, value })
    }
}

/// A temperature of water: liquid, and not boiling.
pub(crate) fn water_c(what: &'static str, value: f64) -> Result<f64, Refused> {
    within(what, value, -1.0, 100.0)
}

/// A number above nought.
pub(crate) fn above_nought(what: &'static str, value: f64) -> Result<f64, Refused> {
    within(what, value, f64::MIN_POSITIVE, 1e12)
}
