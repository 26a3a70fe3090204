//! How everything is written down: JSON with units in its key names.
//!
//! The only module that knows of a file format. What it does not know survives a round trip, and
//! what it cannot read it refuses whole, with the place.

mod canonical;
pub mod csv;
pub mod file;
pub mod habits;
pub mod kinds;
mod merge;
mod names;
pub mod photos;
pub mod primer;
mod record;
pub mod schema;
mod shapes;
pub mod sheets;
pub mod shelves;
pub mod solutions;

/// A value of JSON, as records hold it.
pub use serde_json::Value;
use thiserror::Error;

use crate::entry::Entry;
use crate::plan::Plan;
use crate::timestamp::Timestamp;
pub use canonical::{kept, text};
pub use kinds::Kind;
pub use merge::merge;
pub use names::Named;
pub use record::{Record, pairs};
use shapes::{entry_of, plan_of, value_of_entry, value_of_plan};

/// The schema of the records that this version writes.
pub const SCHEMA: u32 = 1;

/// A run and what its record carries.
#[derive(Clone, Debug, PartialEq)]
pub struct RunRecord {
    /// The record, without the log.
    pub record: Record,
    /// The plan that the run froze.
    pub plan: Plan,
}

/// Why a text is not what it should be.
#[derive(Debug, Error)]
pub enum ReadError {
    /// It is not JSON, or not of the shape. Says where.
    #[error("broken at line {}, column {}", .0.line(), .0.column())]
    Shape(#[from] serde_json::Error),
    /// It was written by a later version.
    #[error("schema {found} is later than {SCHEMA}")]
    Later {
        /// The schema it names.
        found: u64,
    },
    /// A field has a value that makes no sense.
    #[error("{path} makes no sense")]
    Field {
        /// Its name, and the names of what it is in.
        path: String,
    },
}

impl ReadError {
    /// A field that makes no sense.
    fn field(name: &str) -> Self {
        Self::Field { path: name.to_owned() }
    }

    /// The same error, seen from outside.
    fn inside(self, outer: &str) -> Self {
        match self {
            Self::Field { path } if path.is_empty() => Self::field(outer),
            Self::Field { path } if path.starts_with('[') => Self::field(&format!("{outer}{path}")),
            Self::Field { path } => Self::field(&format!("{outer}.{path}")),
            other @ (Self::Shape(_) | Self::Later { .. }) => other,
        }
    }
}

impl RunRecord {
    /// The record of a new run.
    pub fn new(id: &str, device: &str, plan: Plan, now: Timestamp) -> Self {
        let shape = value_of_plan(&plan);
        Self { record: Record::new(Kind::Run, id, device, now).with("plan", shape), plan }
    }

    /// The same run with another plan.
    #[must_use]
    pub fn planned_anew(&self, plan: Plan, device: &str, now: Timestamp) -> Self {
        let record = self.record.edited(device, now, [("plan", value_of_plan(&plan))]);
        Self { record, plan }
    }

    /// The run that a record tells of, its log left out.
    ///
    /// # Errors
    ///
    /// [`ReadError`] if it is another kind of record or its plan makes no sense.
    pub fn of(record: Record) -> Result<Self, ReadError> {
        if record.kind() != Kind::Run {
            return Err(ReadError::field("kind"));
        }
        let plan = plan_of(record.value("plan").unwrap_or(&Value::Null))?;
        Ok(Self { record: record.with("log", Value::Null), plan })
    }

    /// The run's id.
    pub fn id(&self) -> &str {
        self.record.id()
    }

    /// The record as JSON, without its log.
    pub fn to_json(&self) -> String {
        self.record.to_text()
    }

    /// Reads what [`to_json`](Self::to_json) wrote.
    ///
    /// # Errors
    ///
    /// [`ReadError`] if the text is anything else.
    pub fn from_json(text: &str) -> Result<Self, ReadError> {
        Self::of(Record::from_text(text)?)
    }

    /// The record with the whole log, as a file holds it.
    pub fn with_log(&self, log: &[Entry]) -> Record {
        self.record.clone().with("log", log.iter().map(value_of_entry).collect::<Value>())
    }
}

/// The entries of the log in a run's record. What cannot be read is given as text.
pub fn log_of(record: &Record) -> Vec<Result<Entry, String>> {
    let entries = record.list("log").iter();
    entries.map(|value| entry_of(value).map_err(|_| text(value))).collect()
}

/// One log entry as JSON.
pub fn entry_to_json(entry: &Entry) -> String {
    text(&value_of_entry(entry))
}

/// Reads what [`entry_to_json`] wrote.
///
/// # Errors
///
/// [`ReadError`] if the text is anything else.
pub fn entry_from_json(text: &str) -> Result<Entry, ReadError> {
    entry_of(&serde_json::from_str(text)?)
}

/// What a log entry as JSON means; the same value if it means nothing here.
///
/// # Errors
///
/// The value, if it is no entry.
pub fn entry_of_value(value: Value) -> Result<Entry, Value> {
    entry_of(&value).map_err(|_| value)
}

#[cfg(test)]
pub(crate) mod tests;
