//! A file as format 1 was when it was released: it is read for ever, and means for ever the same.
//!
//! It holds every field and every word of the published schema, each event of a log, a record in
//! contradicting versions, one that is put aside, a photo, and a field that nobody knows yet.

use expect_test::expect_file;
use serde_json::Value;
use session::notebook::file::{File, preview, read, write_with};
use session::notebook::photos::id_of;
use session::notebook::{Kind, Record, RunRecord, log_of, schema, sheets};
use session::photos;
use session::run::Run;
use session::shelf::standing;

const RELEASED: &str = include_str!("released/format-1.json");
/// Of every byte of the file.
const HASH: &str = "df7cba323fb4d343394ea6a582543168f2d4565e5ef7a7f84b547fda2f4c32f1";

/// What came to the format later: a bottle that was in use before it was written down, and a doubt
/// that was settled.
const BOTTLES: &str = include_str!("released/format-1-bottles.json");
/// Of every byte of it.
const BOTTLES_HASH: &str = "84cbbf6a6839f090c676e23576394dd9b9a6612f854b556a1d154fe44e92748a";

fn released() -> File {
    read(RELEASED).expect("a released file is read for ever")
}

/// What the file means, in words and numbers that do not depend on how the program is made.
fn told(file: &File) -> Vec<String> {
    let mut told = Vec::new();
    for record in &file.records {
        let head = [record.kind().name(), record.id(), &record.edited_at().to_iso()].join(" ");
        let conflicts = record.conflicts().len();
        let deleted = record.is_deleted();
        told.push(format!("{head}, conflicts {conflicts}, deleted {deleted}"));
        match record.kind() {
            Kind::Run => told.extend(told_of_run(record)),
            Kind::Sheet => {
                if let Some(known) = sheets::own(record) {
                    let count = known.sheet.steps.len();
                    told.push(format!("  {}: {count} steps", known.sheet.name));
                }
            }
            Kind::Roll => {
                for photo in photos::of(record, file.exported_at.expect("when")) {
                    told.push(format!("  photo {} {:?}", photo.name, photo.place));
                }
            }
            Kind::Habits
            | Kind::Session
            | Kind::Solution
            | Kind::Thermometer
            | Kind::Trial
            | Kind::Vessel => {}
        }
    }
    told
}

/// How its log can be read, and what was done of each step.
fn told_of_run(record: &Record) -> Vec<String> {
    let plan = RunRecord::of(record.clone()).expect("a run").plan;
    let log: Vec<_> = log_of(record).into_iter().map(|entry| entry.expect("an entry")).collect();
    let entries = log.len();
    let run = Run::replay(plan, log);
    let mut told = vec![format!("  {entries} entries, {} taken back", run.undone.len())];
    for (step, actual) in run.plan.steps.iter().zip(&run.state.actual) {
        let seconds = actual.poured_at.zip(actual.out_at).map(|(from, to)| to.since_ms(from));
        told.push(format!("  {} planned {} ms, was {seconds:?} ms", step.id, step.time_ms));
    }
    for reading in &run.state.readings {
        told.push(format!("  {} C at {}", reading.celsius.get(), reading.at.to_iso()));
    }
    told
}

#[test]
fn nobody_changes_a_file_that_was_released() {
    assert_eq!(id_of(RELEASED), HASH, "a new field goes into a new file beside it");
    assert_eq!(id_of(BOTTLES), BOTTLES_HASH, "a new field goes into a new file beside it");
}

#[test]
fn a_released_file_is_read_for_ever_and_means_the_same() {
    let file = released();
    assert!(file.untouched);
    assert_eq!((file.photos.taken.len(), file.photos.left_out, file.photos.unusable), (1, 1, 0));
    expect_file!["released/format-1.txt"].assert_eq(&(told(&file).join("\n") + "\n"));
}

#[test]
fn a_released_file_is_written_again_as_it_was() {
    let file = released();
    let again = write_with(file.records, &file.photos.taken, file.exported_at.expect("when"));
    assert!(again == RELEASED, "it is written differently");
}

#[test]
fn a_released_file_goes_into_an_empty_notebook_whole_and_changes_nothing_the_second_time() {
    let file = released();
    let first = preview(&[], &file.records);
    assert_eq!(first.new, file.records.len());
    let second = preview(&first.writes, &file.records);
    assert_eq!((second.new, second.changed, second.same), (0, 0, file.records.len()));
}

#[test]
fn a_bottle_of_a_released_file_stands_as_it_was_left() {
    let file = read(BOTTLES).expect("a released file is read for ever");
    assert!(file.untouched);
    let standing = standing(&file.records[0], &[]);
    assert_eq!((standing.rolls, standing.left_ml, standing.first_ml), (6.0, 640.0, 1000.0));
    assert_eq!((standing.blocked, standing.suspect), (None, None));
}

#[test]
fn every_field_and_every_word_of_the_published_schema_stands_in_the_released_file() {
    let schema: Value = serde_json::from_str(&schema::text()).expect("JSON");
    let files = [RELEASED, BOTTLES].map(|text| serde_json::from_str::<Value>(text).expect("JSON"));
    let mut missing = Vec::new();
    for kind in Kind::ALL {
        let records = files.iter().flat_map(|file| file["records"].as_array().expect("records"));
        let records: Vec<&Value> = records.filter(|one| one["kind"] == kind.name()).collect();
        look_for(&schema["$defs"][kind.name()], &records, kind.name(), &mut missing);
    }
    assert_eq!(missing, Vec::<String>::new());
}

/// Names in `missing` what the schema has and none of the values shows.
fn look_for(schema: &Value, values: &[&Value], path: &str, missing: &mut Vec<String>) {
    if values.is_empty() {
        missing.push(path.to_owned());
    }
    for word in schema["enum"].as_array().into_iter().flatten() {
        if !values.contains(&word) {
            missing.push(format!("{path}: {word}"));
        }
    }
    for (key, inner) in schema["properties"].as_object().into_iter().flatten() {
        let of: Vec<&Value> = values.iter().filter_map(|value| value.get(key)).collect();
        look_for(inner, &of, &format!("{path}.{key}"), missing);
    }
    if let Some(inner) = schema.get("items") {
        let of: Vec<&Value> =
            values.iter().filter_map(|value| value.as_array()).flatten().collect();
        look_for(inner, &of, &format!("{path}[]"), missing);
    }
}
