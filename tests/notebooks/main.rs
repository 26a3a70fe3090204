//! Files of the notebook: what is published about them, and files that must always be read.

#![expect(clippy::expect_used, reason = "a failed expectation is a failed test")]

mod demo;
mod others;
mod primer;
mod released;

use expect_test::expect_file;
use serde_json::{Value, json};
use session::entry::{Entry, Event};
use session::habits::Habits;
use session::notebook::{Kind, Record, RunRecord, file, habits, schema, sheets};
use session::plan::Plan;
use session::sheets::{Known, copy_of};
use session::timestamp::Timestamp;

fn now() -> Timestamp {
    Timestamp::from_milliseconds(1_795_000_000_000)
}

/// A record of each kind, with every field that its makers fill in.
fn notebook() -> Vec<Record> {
    let new = |kind: Kind| Record::new(kind, kind.name(), "phone", now());
    let with = |record: Record, fields: Vec<(&'static str, Value)>| {
        fields.into_iter().fold(record, |record, (field, value)| record.with(field, value))
    };
    let sheet = copy_of(&Known::shipped(process_model::sheet::SheetId::TwoBath389), "sheet");
    let plan = Plan::shipped(&Habits::default(), 60);
    let log = [Entry { seq: 0, at: now(), event: Event::Started { anyway: true } }];
    let roll =
        with(new(Kind::Roll), vec![("stock", "colour negative 400".into()), ("number", 1.into())]);
    vec![
        with(new(Kind::Habits), habits::fields(&Habits::default())),
        roll.edited("desk", now().plus_ms(1), [("dry_at", now().to_iso().into())]),
        RunRecord::new("run", "phone", plan, now()).with_log(&log),
        with(new(Kind::Session), vec![("began_at", now().to_iso().into())]),
        with(new(Kind::Sheet), sheets::fields(&sheet, None, now())),
        with(
            new(Kind::Solution),
            vec![
                ("name", "developer".into()),
                ("bath", "developer".into()),
                ("events", json!([{ "at": now().to_iso(), "event": "mixed", "ml": 1000 }])),
            ],
        ),
        with(
            new(Kind::Thermometer),
            vec![("name", "the glass one".into()), ("offset_kelvins", 0.3.into())],
        ),
        with(
            new(Kind::Trial),
            vec![
                ("question", "with or without stabiliser".into()),
                ("look_again_on", json!(["2027-05-01"])),
            ],
        ),
        with(new(Kind::Vessel), vec![("name", "tub".into()), ("vessel", "tub".into())]),
    ]
}

#[test]
fn the_published_schema_is_made_from_the_tables_that_reading_is_checked_against() {
    // After a change of the tables: UPDATE_EXPECT=1 cargo test -p tests --test notebooks
    expect_file!["../../public/notebook.schema.json"].assert_eq(&(schema::text() + "\n"));
}

#[test]
fn every_kind_of_record_is_valid_by_the_published_schema_and_reads_back() {
    let text = file::write(notebook(), now());
    let read = file::read(&text).expect("it reads back");
    assert!(read.untouched);
    assert_eq!(read.records.len(), Kind::ALL.len());
    let faults = faults(&serde_json::from_str(&text).expect("it is JSON"));
    assert_eq!(faults, None);
}

#[test]
fn what_is_no_notebook_is_not_valid_by_the_published_schema() {
    let text = file::write(notebook(), now());
    for (from, to) in [
        ("\"version\":1,", "\"version\":2,"),
        ("\"rev\":1", "\"rev\":\"one\""),
        ("\"event\":\"mixed\"", "\"event\":\"lost\""),
        ("\"kind\":\"trial\"", "\"kind\":\"rumour\""),
    ] {
        assert!(text.contains(from), "{from}");
        let changed = serde_json::from_str(&text.replace(from, to)).expect("it is JSON");
        assert!(faults(&changed).is_some(), "{to}");
    }
}

/// What is wrong with a file by the published schema.
fn faults(file: &Value) -> Option<String> {
    let schema = serde_json::from_str(&schema::text()).expect("the schema is JSON");
    let mut schemas = boon::Schemas::new();
    let mut compiler = boon::Compiler::new();
    compiler.add_resource("notebook.json", schema).expect("the schema is one");
    let index = compiler.compile("notebook.json", &mut schemas).expect("the schema can be used");
    schemas.validate(file, index).err().map(|error| error.to_string())
}
