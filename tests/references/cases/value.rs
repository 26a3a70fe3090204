//! Reading what goes in and writing what comes out.

use serde_json::{Map, Value};

/// What goes into a case.
#[derive(Clone, Copy, Debug)]
pub(super) struct Case<'a>(pub &'a Value);

impl<'a> Case<'a> {
    /// A number.
    pub fn number(self, key: &str) -> Result<f64, String> {
        self.0[key].as_f64().ok_or_else(|| format!("no number {key}"))
    }

    /// A whole number.
    pub fn whole(self, key: &str) -> Result<usize, String> {
        let whole = self.0[key].as_u64().and_then(|whole| usize::try_from(whole).ok());
        whole.ok_or_else(|| format!("no whole number {key}"))
    }

    /// A list of numbers.
    pub fn numbers(self, key: &str) -> Result<Vec<f64>, String> {
        self.list(key)?
            .iter()
            .map(|value| value.as_f64().ok_or_else(|| format!("{key} holds no number")))
            .collect()
    }

    /// A list.
    pub fn list(self, key: &str) -> Result<&'a Vec<Value>, String> {
        self.0[key].as_array().ok_or_else(|| format!("no list {key}"))
    }

    /// A list of lists of numbers.
    pub fn rows(self, key: &str) -> Result<Vec<Vec<f64>>, String> {
        let row = |row: &Value| -> Result<Vec<f64>, String> {
            let row = row.as_array().ok_or_else(|| format!("{key} holds no list"))?;
            row.iter()
                .map(|value| value.as_f64().ok_or_else(|| format!("{key}: no number")))
                .collect()
        };
        self.list(key)?.iter().map(row).collect()
    }
}

/// Named results.
pub(super) fn results<const N: usize>(of: [(&str, Value); N]) -> Map<String, Value> {
    of.into_iter().map(|(key, value)| (key.to_owned(), value)).collect()
}

/// A number, or `inf`.
pub(super) fn number(value: f64) -> Value {
    if value.is_infinite() { "inf".into() } else { value.into() }
}

/// Any error as text.
pub(super) fn why(error: impl std::fmt::Display) -> String {
    error.to_string()
}
