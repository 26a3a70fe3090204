//! How a run is written down: JSON with units in its key names.
//!
//! The only module that knows of a file format. What it does not know survives a round trip, and
//! what it cannot read it refuses whole, with the place.

mod names;
mod shapes;

use serde_json::Value;
use thiserror::Error;

use crate::entry::Entry;
use crate::habits::Habits;
use crate::plan::Plan;
use crate::run::Run;
use crate::timestamp::Timestamp;
use shapes::{EntryShape, HabitsShape, PlanShape};

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
    /// Fields that this version does not know.
    pub unknown: serde_json::Map<String, Value>,
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
        let record = Record {
            id,
            rev: 1,
            edited_at: now,
            device,
            deleted: false,
            unknown: serde_json::Map::new(),
        };
        Self { record, plan }
    }

    /// The record as JSON, without its log.
    pub fn to_json(&self) -> String {
        self.to_value().to_string()
    }

    fn to_value(&self) -> Value {
        let Record { id, rev, edited_at, device, deleted, unknown } = &self.record;
        let mut object = unknown.clone();
        object.insert("schema".into(), SCHEMA.into());
        object.insert("id".into(), id.as_str().into());
        object.insert("rev".into(), (*rev).into());
        object.insert("edited_at_ms".into(), edited_at.milliseconds().into());
        object.insert("device".into(), device.as_str().into());
        object.insert("deleted".into(), (*deleted).into());
        object.insert("plan".into(), to_value(&PlanShape::of(&self.plan)));
        Value::Object(object)
    }

    /// Reads what [`to_json`](Self::to_json) wrote.
    ///
    /// # Errors
    ///
    /// [`ReadError`] if the text is anything else.
    pub fn from_json(text: &str) -> Result<Self, ReadError> {
        let mut object: serde_json::Map<String, Value> = serde_json::from_str(text)?;
        let mut take = |field: &'static str| object.remove(field).ok_or(ReadError::Field { field });
        check_schema(&take("schema")?)?;
        let text_of = |value: Value, field| match value {
            Value::String(text) => Ok(text),
            Value::Null
            | Value::Bool(_)
            | Value::Number(_)
            | Value::Array(_)
            | Value::Object(_) => Err(ReadError::Field { field }),
        };
        let id = text_of(take("id")?, "id")?;
        let device = text_of(take("device")?, "device")?;
        let rev = take("rev")?.as_u64().ok_or(ReadError::Field { field: "rev" })?;
        let edited = take("edited_at_ms")?;
        let edited = edited.as_i64().ok_or(ReadError::Field { field: "edited_at_ms" })?;
        let deleted = take("deleted")?.as_bool().ok_or(ReadError::Field { field: "deleted" })?;
        let shape: PlanShape = serde_json::from_value(take("plan")?)?;
        let plan = shape.plan()?;
        let edited_at = Timestamp::from_milliseconds(edited);
        let record = Record { id, rev, edited_at, device, deleted, unknown: object };
        Ok(Self { record, plan })
    }

    /// The record and its whole log as one JSON object, indented for reading.
    pub fn with_log_to_json(&self, run: &Run) -> String {
        let mut value = self.to_value();
        let log = run.log.iter().map(|entry| to_value(&EntryShape::of(entry))).collect();
        if let Value::Object(object) = &mut value {
            object.insert("log".into(), Value::Array(log));
        }
        format!("{value:#}")
    }
}

/// One log entry as JSON.
pub fn entry_to_json(entry: &Entry) -> String {
    to_value(&EntryShape::of(entry)).to_string()
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
    to_value(&HabitsShape::of(habits)).to_string()
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

fn to_value(shape: &impl serde::Serialize) -> Value {
    serde_json::to_value(shape).unwrap_or(Value::Null)
}

fn check_schema(value: &Value) -> Result<(), ReadError> {
    let found = value.as_u64().ok_or(ReadError::Field { field: "schema" })?;
    if found > u64::from(SCHEMA) { Err(ReadError::Later { found }) } else { Ok(()) }
}

#[cfg(test)]
pub(crate) mod tests;
