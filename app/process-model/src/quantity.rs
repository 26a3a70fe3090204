//! The quantities of the job, one type for each unit.
//!
//! A number outside its type carries its unit in its name.

use std::ops::{Add, Sub};

use thiserror::Error;

/// A number that is not finite was offered as a quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("a quantity must be finite")]
pub struct NotFinite;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// A quantity known when the code is written, such as one printed in a manual.
            ///
            /// # Panics
            ///
            /// If `value` is not finite. In a `const` that is a compile error.
            pub const fn new(value: f64) -> Self {
                assert!(value.is_finite(), "a quantity must be finite");
                Self(value)
            }

            /// A quantity that a person typed or a file held.
            ///
            /// # Errors
            ///
            /// [`NotFinite`] if `value` is NaN or infinite.
            pub const fn try_new(value: f64) -> Result<Self, NotFinite> {
                if value.is_finite() { Ok(Self(value)) } else { Err(NotFinite) }
            }

            /// The bare number.
            pub const fn get(self) -> f64 {
                self.0
            }
        }
    };
}

quantity! {
    /// A temperature in degrees Celsius: a point on the scale, not a difference.
    ///
    /// ```compile_fail
    /// use process_model::quantity::Celsius;
    /// let sum = Celsius::new(20.0) + Celsius::new(18.9);
    /// ```
    Celsius
}
quantity! {
    /// A difference between two temperatures, in kelvins.
    Kelvins
}
quantity! {
    /// A length of time in seconds. Negative where something has run over.
    Seconds
}
quantity! {
    /// An area of film, one side, in square centimetres.
    SquareCentimetres
}

impl Celsius {
    /// The temperature that reads `degrees` on the Fahrenheit scale.
    ///
    /// # Errors
    ///
    /// [`NotFinite`] if `degrees` is NaN or infinite.
    pub fn from_fahrenheit(degrees: f64) -> Result<Self, NotFinite> {
        Self::try_new((degrees - 32.0) / 1.8)
    }

    /// What it reads on the Fahrenheit scale.
    pub fn fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
}

impl Sub for Celsius {
    type Output = Kelvins;

    fn sub(self, other: Self) -> Kelvins {
        Kelvins::new(self.0 - other.0)
    }
}

impl Add<Kelvins> for Celsius {
    type Output = Self;

    fn add(self, difference: Kelvins) -> Self {
        Self::new(self.0 + difference.0)
    }
}

impl Sub<Kelvins> for Celsius {
    type Output = Self;

    fn sub(self, difference: Kelvins) -> Self {
        Self::new(self.0 - difference.0)
    }
}

impl Seconds {
    /// The same length in whole milliseconds, to the nearest.
    ///
    /// Lengths beyond 292 million years are held at that.
    #[expect(clippy::cast_possible_truncation, reason = "`as` holds at the ends, as documented")]
    pub fn to_milliseconds(self) -> i64 {
        (self.0 * 1000.0).round() as i64
    }

    /// A length known in whole seconds.
    pub const fn whole(seconds: u32) -> Self {
        Self(seconds as f64)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_difference_of_temperatures_is_in_kelvins() {
        assert_eq!(Celsius::new(40.5) - Celsius::new(38.5), Kelvins::new(2.0));
        assert_eq!(Celsius::new(38.5) + Kelvins::new(2.0), Celsius::new(40.5));
        assert_eq!(Celsius::new(38.5) - Kelvins::new(2.0), Celsius::new(36.5));
    }

    #[test]
    fn not_a_number_is_not_a_temperature() {
        assert_eq!(Celsius::try_new(f64::NAN), Err(NotFinite));
        assert_eq!(Celsius::try_new(f64::INFINITY), Err(NotFinite));
        assert_eq!(Celsius::try_new(38.9), Ok(Celsius::new(38.9)));
    }

    #[test]
    fn seconds_become_whole_milliseconds() {
        assert_eq!(Seconds::new(1.2345).to_milliseconds(), 1235);
        assert_eq!(Seconds::whole(210).to_milliseconds(), 210_000);
    }
}
