//! A file of the notebook: one JSON object that can be checked, previewed and merged.
//!
//! ```json
//! {"format": "notebook", "version": 1, "exported_at": "…", "photos_left_out": 1, "records": […],
//!  "photos": [{"id": "…", "jpeg_base64": "…", "name": "…", "roll": "…"}],
//!  "footer": {"counts": {"roll": 2}, "records_sha256": "…"}}
//! ```
//!
//! Photos are in it only where they were asked for. What the records list and the file has not is
//! counted in its head; nothing there means none.
//!
//! The hash is that of the canonical text of `records`: it tells a file that was changed after it
//! was saved from one that was not. It does not tell who wrote it.

use std::borrow::Cow;

use serde_json::{Map, Value};
use thiserror::Error;

use super::kinds::Kind;
use super::merge::merge;
use super::photos::{self, Photos};
use super::record::Record;
use super::shelves::Text;
use super::{ReadError, canonical};
use crate::order;
use crate::timestamp::Timestamp;

/// The version of the file format that this program writes.
pub const VERSION: u64 = 1;
/// What the file says it is.
const FORMAT: &str = "notebook";

/// Why a file cannot be read. Nothing has changed then.
#[derive(Debug, Error)]
pub enum FileError {
    /// It is not JSON.
    #[error(
        "The file is broken at line {line}, column {column}. Nothing was changed. Take another copy of it."
    )]
    Broken {
        /// The line, from 1.
        line: usize,
        /// The column, from 1.
        column: usize,
    },
    /// It is JSON, but not a notebook.
    #[error("This is not a notebook file. Nothing was changed.")]
    Foreign,
    /// A later version of the format.
    #[error(
        "This file is notebook version {found}; this page reads version {VERSION}. Nothing was changed. Update the page, then read it again."
    )]
    Later {
        /// The version it names.
        found: u64,
    },
    /// A record in it cannot be read.
    #[error("Record {number} cannot be read: {error}. Nothing was changed.")]
    Record {
        /// Its place in the file, from 1.
        number: usize,
        /// Why.
        error: ReadError,
    },
}

/// A file that can be read.
#[derive(Clone, Debug, PartialEq)]
pub struct File {
    /// When it was saved.
    pub exported_at: Option<Timestamp>,
    /// Its records; runs carry their logs.
    pub records: Vec<Record>,
    /// Whether its records are what they were when it was saved.
    pub untouched: bool,
    /// What it says of photos. Each is checked by itself.
    pub photos: Photos,
}

/// Where a record stands in a file, and what it is found by.
fn key(record: &Record) -> String {
    format!("{}\0{}", record.kind().name(), record.id())
}

/// The text of a file with these records, whatever their order.
pub fn write(records: Vec<Record>, now: Timestamp) -> String {
    write_with(records, &[], now)
}

/// The same with those of these photos, by their keys, that its rolls show.
pub fn write_with(records: Vec<Record>, photos: &[Text], now: Timestamp) -> String {
    let shown = crate::photos::all(&records, now, crate::photos::Place::Shown);
    let photos = photos::lines(&shown, photos);
    let left_out = match shown.len() - photos.len() {
        0 => String::new(),
        count => format!("\"photos_left_out\":{count},"),
    };
    let records = in_order_of_keys(&records);
    let mut counts = Map::new();
    for kind in Kind::ALL {
        let count = records.iter().filter(|record| record.kind() == kind).count();
        if count > 0 {
            counts.insert(kind.name().to_owned(), count.into());
        }
    }
    let lines: Vec<String> = records.iter().map(|record| record.to_text()).collect();
    let mut footer = Map::new();
    footer.insert("counts".to_owned(), Value::Object(counts));
    let hash = canonical::sha_256_of_list(lines.iter());
    footer.insert("records_sha256".to_owned(), hash.into());
    let footer = canonical::text(&Value::Object(footer));
    // A record a line, so that two files can be compared by eye.
    let photos = match photos.len() {
        0 => String::new(),
        _ => format!("\"photos\":[\n{}\n],\n", photos.join(",\n")),
    };
    format!(
        "{{\"format\":\"{FORMAT}\",\"version\":{VERSION},\"exported_at\":\"{}\",{left_out}\"records\":[\n{}\n],\n{photos}\"footer\":{footer}}}\n",
        now.to_iso(),
        lines.join(",\n"),
    )
}

/// Reads a file.
///
/// # Errors
///
/// [`FileError`] if it is broken, something else, later, or holds what cannot be read.
pub fn read(text: &str) -> Result<File, FileError> {
    let value: Value = serde_json::from_str(text)
        .map_err(|error| FileError::Broken { line: error.line(), column: error.column() })?;
    let Value::Object(mut file) = value else { return Err(FileError::Foreign) };
    if file.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(FileError::Foreign);
    }
    match file.get("version").and_then(Value::as_u64) {
        Some(VERSION) => {}
        Some(found) if found > VERSION => return Err(FileError::Later { found }),
        _ => return Err(FileError::Foreign),
    }
    let Some(Value::Array(values)) = file.remove("records") else {
        return Err(FileError::Foreign);
    };
    let hash = canonical::sha_256_of_list(values.iter().map(canonical::text));
    let untouched = saved_hash(&file) == Some(hash.as_str());
    let exported_at = file.get("exported_at").and_then(Value::as_str).and_then(Timestamp::from_iso);
    let mut records = Vec::with_capacity(values.len());
    for (index, value) in values.into_iter().enumerate() {
        let record = Record::from_value(value)
            .map_err(|error| FileError::Record { number: index + 1, error })?;
        records.push(record);
    }
    let photos = photos::read(&mut file, &records, exported_at.unwrap_or_default());
    Ok(File { exported_at, records, untouched, photos })
}

fn saved_hash(file: &Map<String, Value>) -> Option<&str> {
    file.get("footer")?.get("records_sha256")?.as_str()
}

/// What reading a file into a notebook would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Preview {
    /// Records that are not in the notebook yet.
    pub new: usize,
    /// Records that would change.
    pub changed: usize,
    /// Records that would stay as they are.
    pub same: usize,
    /// Of the new and changed: records that would carry contradicting versions.
    pub conflicts: usize,
    /// The records to write, merged.
    pub writes: Vec<Record>,
}

/// Merges the records of a file with those of the notebook, and writes nothing.
pub fn preview(notebook: &[Record], file: &[Record]) -> Preview {
    let mut preview = Preview::default();
    let here = in_order_of_keys(notebook);
    let keys: Vec<String> = here.iter().map(|record| key(record)).collect();
    let mut read: Vec<Cow<'_, Record>> = Vec::new();
    // A record that is twice in a file stands beside itself here.
    for record in in_order_of_keys(file) {
        match read.last_mut().filter(|last| key(last) == key(record)) {
            Some(last) => *last = Cow::Owned(merge(last, record)),
            None => read.push(Cow::Borrowed(record)),
        }
    }
    for record in read {
        let before = keys.binary_search(&key(&record)).ok().and_then(|place| here.get(place));
        // Merged with itself a record stays what it is.
        if before.is_some_and(|before| **before == *record) {
            preview.same += 1;
            continue;
        }
        let merged =
            before.map_or_else(|| record.clone().into_owned(), |before| merge(before, &record));
        match before {
            Some(before) if before.to_text() == merged.to_text() => {
                preview.same += 1;
                continue;
            }
            Some(_) => preview.changed += 1,
            None => preview.new += 1,
        }
        preview.conflicts += usize::from(!merged.conflicts().is_empty());
        preview.writes.push(merged);
    }
    preview
}

fn in_order_of_keys(records: &[Record]) -> Vec<&Record> {
    order::by(records.iter().collect(), |record| key(record))
}

#[cfg(test)]
mod tests;
