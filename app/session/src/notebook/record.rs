//! A record: one JSON object with a head that every kind has.
//!
//! A record keeps its whole object, so that fields of a later version survive, and a merge needs to
//! know nothing of kinds.

use serde_json::{Map, Value};

use super::kinds::{self, Kind};
use super::merge::merge;
use super::{ReadError, SCHEMA, canonical};
use crate::order;
use crate::timestamp::Timestamp;

/// How many earlier versions a record remembers by their hashes.
const REMEMBERED: usize = 16;
/// The largest whole number that every reader of JSON understands (RFC 8259, section 6).
const LARGEST_WHOLE: u64 = 9_007_199_254_740_991;

/// One record of the notebook.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    kind: Kind,
    /// Everything, head included.
    fields: Map<String, Value>,
}

impl Record {
    /// A new record without a body.
    pub fn new(kind: Kind, id: &str, device: &str, now: Timestamp) -> Self {
        let head = [
            ("kind", kind.name().into()),
            ("id", id.into()),
            ("schema", SCHEMA.into()),
            ("rev", 1.into()),
            ("edited_at", now.to_iso().into()),
            ("device", device.into()),
            ("deleted", false.into()),
            ("parents", Value::Array(Vec::new())),
        ];
        // One by one: gathering them would bring a sort along.
        let mut fields = Map::new();
        for (field, value) in head {
            fields.insert(field.to_owned(), value);
        }
        Self { kind, fields }
    }

    /// The record in `text`.
    ///
    /// # Errors
    ///
    /// [`ReadError`] if it is no JSON, no record, or one of a later version.
    pub fn from_text(text: &str) -> Result<Self, ReadError> {
        Self::from_value(serde_json::from_str(text)?)
    }

    /// The record that a file holds.
    ///
    /// # Errors
    ///
    /// [`ReadError`] if it is no record, or one of a later version.
    pub fn from_value(value: Value) -> Result<Self, ReadError> {
        let Value::Object(fields) = value else { return Err(ReadError::field("record")) };
        let schema = fields.get("schema").and_then(Value::as_u64);
        let found = schema.ok_or(ReadError::field("schema"))?;
        if found > u64::from(SCHEMA) {
            return Err(ReadError::Later { found });
        }
        let kind = fields.get("kind").and_then(Value::as_str).and_then(Kind::from_name);
        let kind = kind.ok_or(ReadError::field("kind"))?;
        kinds::check(kind, &fields)?;
        let record = Self { kind, fields };
        if !(1..=LARGEST_WHOLE).contains(&record.rev()) {
            return Err(ReadError::field("rev"));
        }
        // What was never edited twice nor merged is in its order already, a log that nobody has
        // touched, too; merging takes its time.
        let is_plain = record.value("parents").is_some() && record.list("parents").len() < 2;
        if is_plain && record.value("conflicts").is_none() && is_in_order(record.list("log")) {
            return Ok(record);
        }
        // Lays nested sets of conflicts flat and puts everything in its order.
        let record = merge(&record, &record);
        // A version that is later than what it stood beside is in front now.
        kinds::check(kind, &record.fields)?;
        for version in record.conflicts() {
            let version = version.as_object().ok_or(ReadError::field("conflicts"))?;
            kinds::check(kind, version).map_err(|error| error.inside("conflicts"))?;
        }
        Ok(record)
    }

    /// The record as canonical JSON.
    pub fn to_text(&self) -> String {
        canonical::text_of_fields(&self.fields)
    }

    /// The record as JSON.
    pub fn to_value(&self) -> Value {
        Value::Object(self.fields.clone())
    }

    /// What kind of record it is.
    pub const fn kind(&self) -> Kind {
        self.kind
    }

    /// 128 random bits, in hexadecimal.
    pub fn id(&self) -> &str {
        self.text("id")
    }

    /// Counts the changes.
    pub fn rev(&self) -> u64 {
        self.fields.get("rev").and_then(Value::as_u64).unwrap_or_default()
    }

    /// When it was last changed.
    pub fn edited_at(&self) -> Timestamp {
        self.instant("edited_at").unwrap_or_default()
    }

    /// Which installation changed it.
    pub fn device(&self) -> &str {
        self.text("device")
    }

    /// Whether it has been put aside.
    pub fn is_deleted(&self) -> bool {
        self.flag("deleted")
    }

    /// A text of the body; empty if there is none.
    pub fn text(&self, field: &str) -> &str {
        self.fields.get(field).and_then(Value::as_str).unwrap_or_default()
    }

    /// A number of the body.
    pub fn number(&self, field: &str) -> Option<f64> {
        self.fields.get(field).and_then(Value::as_f64)
    }

    /// Whether a field of the body says yes.
    pub fn flag(&self, field: &str) -> bool {
        self.fields.get(field).and_then(Value::as_bool).unwrap_or_default()
    }

    /// An instant of the body.
    pub fn instant(&self, field: &str) -> Option<Timestamp> {
        Timestamp::from_iso(self.text(field))
    }

    /// A list of the body; empty if there is none.
    pub fn list(&self, field: &str) -> &[Value] {
        self.fields.get(field).and_then(Value::as_array).map_or(&[], Vec::as_slice)
    }

    /// Any field.
    pub fn value(&self, field: &str) -> Option<&Value> {
        self.fields.get(field)
    }

    /// The record with a field set in its first version. `Null` takes the field away.
    #[must_use]
    pub fn with(mut self, field: &str, value: impl Into<Value>) -> Self {
        put(&mut self.fields, field, value.into());
        self
    }

    /// A later version with these fields set, or the same record if nothing is different.
    ///
    /// `Null` takes a field away.
    #[must_use]
    pub fn edited(
        &self,
        device: &str,
        now: Timestamp,
        changes: impl IntoIterator<Item = (&'static str, Value)>,
    ) -> Self {
        let mut fields = self.fields.clone();
        for (field, value) in changes {
            put(&mut fields, field, value);
        }
        // As written, because a number that was read is one that was rounded.
        if canonical::text_of_fields(&fields) == self.to_text() {
            return self.clone();
        }
        let mut parents = self.parents();
        parents.push(self.mark());
        put(&mut fields, "parents", list(latest(parents)));
        put(&mut fields, "rev", (self.rev() + 1).min(LARGEST_WHOLE).into());
        put(&mut fields, "edited_at", now.to_iso().into());
        put(&mut fields, "device", device.into());
        Self { kind: self.kind, fields }
    }

    /// A later version in which this version has won over all that contradict it.
    #[must_use]
    pub fn settled(&self, device: &str, now: Timestamp) -> Self {
        let others: Vec<_> = self.conflicts().iter().map(mark_of).collect();
        let mut later = self.edited(device, now, [("conflicts", Value::Null)]);
        let mut parents = later.parents();
        parents.extend(others);
        put(&mut later.fields, "parents", list(latest(parents)));
        later
    }

    /// Other versions that were edited apart from this one, in canonical order.
    pub fn conflicts(&self) -> &[Value] {
        self.list("conflicts")
    }

    /// The marks of versions that this one, or one it has met, was edited from.
    pub(super) fn parents(&self) -> Vec<String> {
        let parents = self.list("parents").iter();
        parents.filter_map(Value::as_str).map(str::to_owned).collect()
    }

    /// The version itself: the record without what merging has added to it.
    pub(super) fn version(&self) -> Value {
        let mut fields = self.fields.clone();
        for field in ["parents", "conflicts", "log"] {
            fields.remove(field);
        }
        Value::Object(fields)
    }

    /// The record whose version this is.
    pub(super) fn of_version(kind: Kind, version: Value) -> Self {
        let fields = if let Value::Object(fields) = version { fields } else { Map::new() };
        Self { kind, fields }
    }

    /// Revision and hash of the version.
    fn mark(&self) -> String {
        mark_of(&self.version())
    }
}

/// Whether each entry of a log has a later place than the one before it, as in a log that only one
/// window wrote.
fn is_in_order(log: &[Value]) -> bool {
    let places = log.iter().map(|entry| entry.get("seq").and_then(Value::as_u64));
    places.is_sorted_by(|one, next| one < next)
}

/// Revision and hash of a version: what a later one remembers of it.
pub(super) fn mark_of(version: &Value) -> String {
    let rev = version.get("rev").and_then(Value::as_u64).unwrap_or_default();
    format!("{rev}-{}", canonical::sha_256(&canonical::text(version)))
}

/// The marks of the latest revisions.
fn latest(marks: Vec<String>) -> Vec<String> {
    let mut marks = sorted(marks);
    let extra = marks.len().saturating_sub(REMEMBERED);
    marks.drain(..extra);
    marks
}

/// Marks by their revisions, each once.
pub(super) fn sorted(marks: Vec<String>) -> Vec<String> {
    let rev = |mark: &str| mark.split('-').next().and_then(|rev| rev.parse().ok());
    let key = |mark: &String| order::number(rev(mark).unwrap_or_default()) + mark;
    order::unique(marks.into_iter().map(|mark| (key(&mark), mark)).collect())
}

/// A small object of texts, as a list of a record holds it.
pub fn pairs(pairs: &[(&str, &str)]) -> Value {
    object(pairs.iter().map(|(field, text)| (*field, (*text).into())).collect())
}

/// An object of these fields. The crate's macro would bring along how errors are printed that cannot
/// be.
#[inline(never)]
pub(super) fn object(fields: Vec<(&str, Value)>) -> Value {
    let mut object = Map::new();
    for (field, value) in fields {
        object.insert(field.to_owned(), value);
    }
    Value::Object(object)
}

/// Texts as a record lists them.
pub(super) fn list(texts: Vec<String>) -> Value {
    texts.into_iter().map(Value::from).collect()
}

/// Sets a field; `Null` takes it away.
pub(super) fn put(fields: &mut Map<String, Value>, field: &str, value: Value) {
    if value.is_null() {
        fields.remove(field);
    } else {
        fields.insert(field.to_owned(), value);
    }
}
