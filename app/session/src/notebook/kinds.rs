//! The kinds of records and their fields: what a file may hold.
//!
//! One table for three uses: reading refuses what is not in it, the published schema is made from
//! it, and a reader of a file finds here what a key means. Units stand in the names of the keys.

mod tables;

use serde_json::{Map, Value};

use super::ReadError;
use crate::timestamp::Timestamp;
use tables::{BODIES, HEAD};

/// What a record is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// What a person always does.
    Habits,
    /// One film, from camera to file.
    Roll,
    /// One tank through one sheet.
    Run,
    /// An evening.
    Session,
    /// A process sheet of the person's own, or what they said about one that is shipped.
    Sheet,
    /// A working solution in a bottle.
    Solution,
    /// A thermometer.
    Thermometer,
    /// A question across rolls.
    Trial,
    /// A bottle, a tub or a tank.
    Vessel,
}

impl Kind {
    /// Every kind, in the order in which a file lists them.
    pub const ALL: [Self; 9] = [
        Self::Habits,
        Self::Roll,
        Self::Run,
        Self::Session,
        Self::Sheet,
        Self::Solution,
        Self::Thermometer,
        Self::Trial,
        Self::Vessel,
    ];

    /// The kind's name in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Habits => "habits",
            Self::Roll => "roll",
            Self::Run => "run",
            Self::Session => "session",
            Self::Sheet => "sheet",
            Self::Solution => "solution",
            Self::Thermometer => "thermometer",
            Self::Trial => "trial",
            Self::Vessel => "vessel",
        }
    }

    /// The kind of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }
}

/// What a field holds.
#[derive(Clone, Copy, Debug)]
pub enum Holds {
    /// Any text.
    Text,
    /// A text of 1 to 64 signs that names a record or a device.
    Id,
    /// An instant in ISO 8601, UTC, to the millisecond.
    Instant,
    /// A day in ISO 8601.
    Day,
    /// Yes or no.
    Flag,
    /// A number.
    Number,
    /// A whole number from nought on.
    Whole,
    /// A whole number of either sign.
    Signed,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// A list.
    List(&'static Holds),
    /// An object.
    Object(&'static [Field]),
    /// Other versions of the record.
    Versions,
}

/// One field of a record.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its key.
    pub key: &'static str,
    /// What it holds.
    pub holds: Holds,
    /// Whether it is always there.
    pub needed: bool,
}

/// The fields of a kind: those that every record has, then its own.
pub fn fields(kind: Kind) -> impl Iterator<Item = &'static Field> {
    let body = BODIES.iter().find(|(of, _)| *of == kind).map_or(&[] as &[Field], |(_, body)| body);
    HEAD.iter().chain(body)
}

/// Whether `record` holds what its kind may hold. Fields that are not in the table may hold
/// anything.
///
/// # Errors
///
/// [`ReadError::Field`] with the path of the first field that does not.
pub(super) fn check(kind: Kind, record: &Map<String, Value>) -> Result<(), ReadError> {
    check_object(fields(kind), record)
}

fn check_object<'a>(
    fields: impl IntoIterator<Item = &'a Field>,
    object: &Map<String, Value>,
) -> Result<(), ReadError> {
    for field in fields {
        match object.get(field.key) {
            Some(value) => {
                check_value(field.holds, value).map_err(|error| error.inside(field.key))?;
            }
            None if field.needed => return Err(ReadError::field(field.key)),
            None => {}
        }
    }
    Ok(())
}

fn check_value(holds: Holds, value: &Value) -> Result<(), ReadError> {
    let wrong = || ReadError::field("");
    let so = match holds {
        Holds::Text => value.is_string(),
        Holds::Id => value.as_str().is_some_and(|id| (1..=64).contains(&id.len())),
        Holds::Instant => value.as_str().is_some_and(|at| Timestamp::from_iso(at).is_some()),
        Holds::Day => value.as_str().is_some_and(is_day),
        Holds::Flag => value.is_boolean(),
        Holds::Number => value.is_number(),
        Holds::Whole => value.is_u64(),
        Holds::Signed => value.is_i64() || value.is_u64(),
        Holds::OneOf(words) => value.as_str().is_some_and(|word| words.contains(&word)),
        Holds::Versions => value.is_array(),
        Holds::List(of) => {
            let list = value.as_array().ok_or_else(wrong)?;
            for (index, item) in list.iter().enumerate() {
                check_value(*of, item).map_err(|error| error.inside(&format!("[{index}]")))?;
            }
            true
        }
        Holds::Object(fields) => {
            check_object(fields, value.as_object().ok_or_else(wrong)?)?;
            true
        }
    };
    if so { Ok(()) } else { Err(wrong()) }
}

/// Whether a text is a day as `2026-11-25`.
fn is_day(text: &str) -> bool {
    Timestamp::from_iso(&format!("{text}T00:00:00.000Z")).is_some()
}
