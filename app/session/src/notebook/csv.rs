//! Rolls and a run's log as tables for other programs (RFC 4180).

use super::kinds::{self, Field, Holds, Kind};
use super::{Record, Value, canonical};

/// Rolls as a table: a line for each, a column for each field that is no list, the ids of the faults
/// that were seen, and the day on which it was developed, by the id of its run.
pub fn rolls(rolls: &[Record], developed: impl Fn(&str) -> String) -> String {
    let columns = columns(kinds::fields(Kind::Roll));
    let mut text = line(
        columns.iter().cloned().chain(["faults", "developed_on"].map(str::to_owned)).collect(),
    );
    for roll in rolls {
        let mut cells: Vec<_> = columns.iter().map(|key| cell(roll.value(key))).collect();
        let faults: Vec<_> = roll.list("faults").iter().filter_map(Value::as_str).collect();
        cells.push(harmless(&faults.join(" ")));
        cells.push(developed(roll.text("run")));
        text.push_str(&line(cells));
    }
    text
}

/// The log of a run, as its record in a file holds it: a line for each entry.
pub fn log(run: &Record) -> String {
    let entry = kinds::fields(Kind::Run).find_map(|field| {
        let Holds::List(Holds::Object(fields)) = field.holds else { return None };
        (field.key == "log").then_some(*fields)
    });
    let columns = columns(entry.unwrap_or_default().iter());
    let mut text = line(columns.clone());
    for entry in run.list("log") {
        text.push_str(&line(columns.iter().map(|key| cell(entry.get(key.as_str()))).collect()));
    }
    text
}

fn columns<'a>(fields: impl Iterator<Item = &'a Field>) -> Vec<String> {
    let is_plain = |field: &&Field| !matches!(field.holds, Holds::List(_) | Holds::Versions);
    fields.filter(is_plain).map(|field| field.key.to_owned()).collect()
}

/// A value as a cell has it: texts bare, everything else as JSON.
fn cell(value: Option<&Value>) -> String {
    match value {
        None => String::new(),
        Some(Value::String(text)) => harmless(text),
        Some(other) => canonical::text(other),
    }
}

/// A text that a spreadsheet would take for a formula gets an apostrophe in front: notes come from
/// anybody's file.
fn harmless(text: &str) -> String {
    let apostrophe = if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { "'" } else { "" };
    [apostrophe, text].concat()
}

/// Cells as a line.
fn line(cells: Vec<String>) -> String {
    let quoted = |cell: String| format!("\"{}\"", cell.replace('"', "\"\""));
    cells.into_iter().map(quoted).collect::<Vec<_>>().join(",") + "\r\n"
}
