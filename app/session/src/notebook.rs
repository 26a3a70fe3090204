//! How a run is written down: JSON with units in its key names.
//!
//! The only module that knows of a file format. What it does not know survives a round trip, and
//! what it cannot read it refuses whole, with the place.

mod names;
mod shapes;

use std::collections::BTreeMap;

use serde_json::value::RawValue;
use thiserror::Error;

use crate::entry::Entry;
use crate::habits::Habits;
use crate::plan::Plan;
use crate::run::Run;
use crate::timestamp::Timestamp;
use shapes::{EntryShape, HabitsShape, RunShape};

/// The schema of the records that this version writes.
pub const SCHEMA: u32 = 1;

/// What every record carries, so that two notebooks can be merged.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// 128 random bits, in hexadecimal.
    pub id: String,
    /// Counts the changes of the record.
    pub rev: u64,
    /// When it was last changed.
    pub edited_at: Timestamp,
    /// Which installation changed it.
    pub device: String,
    /// Whether it has been put aside.
    pub deleted: bool,
    /// Fields that this version does not know, each with its JSON text.
    pub unknown: BTreeMap<String, String>,
}

/// A run and what its record carries.
#[derive(Clone, Debug, PartialEq)]
pub struct RunRecord {
    /// The record.
    pub record: Record,
    /// The plan that the run froze.
    pub plan: Plan,
}

/// Why a text is not what it should be.
#[derive(Debug, Error)]
pub enum ReadError {
    /// It is not JSON, or not of the shape. Says where.
    #[error("{0}")]
    Shape(#[from] serde_json::Error),
    /// It was written by a later version.
    #[error("schema {found} is later than {SCHEMA}")]
    Later {
        /// The schema it names.
        found: u64,
    },
    /// A field has a value that makes no sense.
    #[error("{field} makes no sense")]
    Field {
        /// Its name.
        field: &'static str,
    },
}

impl RunRecord {
    /// The record of a new run.
    pub fn new(id: String, device: String, plan: Plan, now: Timestamp) -> Self {
        let unknown = BTreeMap::new();
        let record = Record { id, rev: 1, edited_at: now, device, deleted: false, unknown };
        Self { record, plan }
    }

    /// The record as JSON, without its log.
    pub fn to_json(&self) -> String {
        let mut text = to_json(&RunShape::of(self));
        // What this version does not know goes on at the end of the object, as it was.
        text.pop();
        for (field, value) in &self.record.unknown {
            text.push(',');
            text.push_str(&to_json(field));
            text.push(':');
            text.push_str(value);
        }
        text.push('}');
        text
    }

    /// Reads what [`to_json`](Self::to_json) wrote.
    ///
    /// # Errors
    ///
    /// [`ReadError`] if the text is anything else.
    pub fn from_json(text: &str) -> Result<Self, ReadError> {
        let fields: BTreeMap<String, Box<RawValue>> = serde_json::from_str(text)?;
        let schema = fields.get("schema").and_then(|schema| schema.get().parse::<u64>().ok());
        match schema {
            None => return Err(ReadError::Field { field: "schema" }),
            Some(found) if found > u64::from(SCHEMA) => return Err(ReadError::Later { found }),
            Some(_) => {}
        }
        let shape: RunShape = serde_json::from_str(text)?;
        let unknown = fields
            .into_iter()
            .filter(|(field, _)| !RunShape::FIELDS.contains(&field.as_str()))
            .map(|(field, value)| (field, value.get().to_owned()));
        shape.record(unknown.collect())
    }

    /// The record and its whole log as one JSON object, an entry a line.
    pub fn with_log_to_json(&self, run: &Run) -> String {
        let mut text = self.to_json();
        text.pop();
        text.push_str(",\n\"log\": [");
        for (index, entry) in run.log.iter().enumerate() {
            text.push_str(if index == 0 { "\n" } else { ",\n" });
            text.push_str(&entry_to_json(entry));
        }
        text.push_str("\n]}\n");
        text
    }
}

/// One log entry as JSON.
pub fn entry_to_json(entry: &Entry) -> String {
    to_json(&EntryShape::of(entry))
}

/// Reads what [`entry_to_json`] wrote.
///
/// # Errors
///
/// [`ReadError`] if the text is anything else.
pub fn entry_from_json(text: &str) -> Result<Entry, ReadError> {
    let shape: EntryShape = serde_json::from_str(text)?;
    shape.entry()
}

/// Habits as JSON.
pub fn habits_to_json(habits: &Habits) -> String {
    to_json(&HabitsShape::of(habits))
}

/// Reads what [`habits_to_json`] wrote. Values out of range are brought into it.
///
/// # Errors
///
/// [`ReadError`] if the text is anything else.
pub fn habits_from_json(text: &str) -> Result<Habits, ReadError> {
    let shape: HabitsShape = serde_json::from_str(text)?;
    Ok(shape.habits())
}

fn to_json(shape: &(impl serde::Serialize + ?Sized)) -> String {
    // Our shapes have string keys and finite numbers only, so that this cannot fail.
    serde_json::to_string(shape).unwrap_or_default()
}

#[cfg(test)]
pub(crate) mod tests;
