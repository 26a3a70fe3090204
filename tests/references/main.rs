//! Our numbers against published ones, and our timelines against those that were agreed.

#![expect(clippy::expect_used, reason = "a failed expectation is a failed test")]

mod cues;
mod film;
mod models;
mod sheets;
mod worked;

/// The rows of a table in `references/data`, its leading comment lines left out.
fn table(name: &str) -> csv::Reader<std::fs::File> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/references/data/").to_owned() + name;
    csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).expect("the table is there")
}
