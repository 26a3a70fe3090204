//! What is measured in a browser and printed, never judged: `tests/run bench` runs these alone, one
//! after another. Whatever a number is compared with is measured in the same run, because machines
//! are noisy.

#[path = "measured/memory.rs"]
mod memory;
#[path = "measured/notebook.rs"]
mod notebook;
#[path = "measured/plain.rs"]
mod plain;
#[path = "measured/rest.rs"]
mod rest;
#[path = "measured/starts.rs"]
mod starts;

use std::sync::{Mutex, MutexGuard, PoisonError};

use serde_json::Value;

/// Held while something is measured, so that nothing else is.
fn alone() -> MutexGuard<'static, ()> {
    static ALONE: Mutex<()> = Mutex::new(());
    ALONE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The middle one.
fn median(mut numbers: Vec<f64>) -> f64 {
    numbers.sort_by(f64::total_cmp);
    numbers.get(numbers.len() / 2).copied().unwrap_or(f64::NAN)
}

/// A number of a value, or none at all.
fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

/// Prints a table: its heading, and rows of a name and what stands beside it.
fn print_table(heading: &[&str], rows: &[(String, Vec<String>)]) {
    let (first, others) = heading.split_first().expect("a heading");
    let wide = rows.iter().map(|(name, _)| name.len()).max().unwrap_or(0).max(first.len());
    let line = |name: &str, cells: &[String]| {
        let cells: String = cells.iter().map(|cell| format!(" {cell:>12}")).collect();
        eprintln!("{name:wide$}{cells}");
    };
    eprintln!();
    line(first, &others.iter().map(|&other| other.to_owned()).collect::<Vec<_>>());
    for (name, cells) in rows {
        line(name, cells);
    }
}

/// Thousands of bytes.
fn kilobytes(bytes: f64) -> String {
    format!("{:.0} kB", bytes / 1_000.0)
}
