//! The shapes of schema 1, and the way between them and what they mean.

mod entries;
mod plans;

pub(super) use entries::{entry_of, value_of_entry};
pub(super) use plans::{plan_of, value_of_plan};

use process_model::quantity::{Celsius, Seconds};
use serde_json::Value;

use super::ReadError;
use super::names::Named;

/// The value that a file names, or the field that makes no sense.
fn named<T: Named>(value: &Value, key: &'static str) -> Result<T, ReadError> {
    let name = value.get(key).and_then(Value::as_str);
    name.and_then(T::from_file_name).ok_or(ReadError::field(key))
}

/// A text.
fn text(value: &Value, key: &'static str) -> Result<String, ReadError> {
    value.get(key).and_then(Value::as_str).map(str::to_owned).ok_or(ReadError::field(key))
}

/// A whole number of either sign.
fn whole(value: &Value, key: &'static str) -> Result<i64, ReadError> {
    value.get(key).and_then(Value::as_i64).ok_or(ReadError::field(key))
}

/// A length of time between nothing and a day, in milliseconds.
fn length_ms(value: &Value, key: &'static str) -> Result<i64, ReadError> {
    const DAY_MS: i64 = 86_400_000;
    whole(value, key).ok().filter(|ms| (0..=DAY_MS).contains(ms)).ok_or(ReadError::field(key))
}

/// Yes or no.
fn flag(value: &Value, key: &'static str) -> Result<bool, ReadError> {
    value.get(key).and_then(Value::as_bool).ok_or(ReadError::field(key))
}

/// A temperature.
fn celsius(value: &Value, key: &'static str) -> Result<Celsius, ReadError> {
    let number = value.get(key).and_then(Value::as_f64);
    number.and_then(|number| Celsius::try_new(number).ok()).ok_or(ReadError::field(key))
}

/// A length of time, in seconds.
fn seconds(value: &Value, key: &'static str) -> Result<Seconds, ReadError> {
    let number = value.get(key).and_then(Value::as_f64);
    number.and_then(|number| Seconds::try_new(number).ok()).ok_or(ReadError::field(key))
}
