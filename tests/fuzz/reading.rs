//! Files nobody wrote, and two notebooks that were changed apart.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use serde_json::{Value, json};
use session::notebook::file::{preview, read, write};
use session::notebook::{Record, log_of};
use session::timestamp::Timestamp;

use crate::{a_notebook, for_a_while};

/// What is done to a text.
#[derive(Clone, Debug)]
enum Damage {
    Put(Index, String),
    Cut(Index, u8),
    Twice(Index, u8),
}

fn damage() -> impl Strategy<Value = Damage> {
    let piece = prop_oneof![
        Just("\"".to_owned()),
        Just("}".to_owned()),
        Just("]".to_owned()),
        Just(",null".to_owned()),
        Just("\u{202e}\u{0}".to_owned()),
        Just("1e999".to_owned()),
        Just("-0".to_owned()),
        Just("[".repeat(200)),
        any::<i64>().prop_map(|number| number.to_string()),
        "\\PC{0,8}",
    ];
    prop_oneof![
        (any::<Index>(), piece).prop_map(|(at, piece)| Damage::Put(at, piece)),
        (any::<Index>(), 1..60_u8).prop_map(|(at, count)| Damage::Cut(at, count)),
        (any::<Index>(), 1..60_u8).prop_map(|(at, count)| Damage::Twice(at, count)),
    ]
}

fn damaged(text: &str, all: &[Damage]) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    for one in all {
        let (Damage::Put(at, _) | Damage::Cut(at, _) | Damage::Twice(at, _)) = one;
        let at = at.index(letters.len().max(1)).min(letters.len());
        match one {
            Damage::Put(_, piece) => {
                letters.splice(at..at, piece.chars());
            }
            Damage::Cut(_, count) => {
                let end = (at + usize::from(*count)).min(letters.len());
                letters.drain(at..end);
            }
            Damage::Twice(_, count) => {
                let end = (at + usize::from(*count)).min(letters.len());
                let again = letters[at..end].to_vec();
                letters.splice(at..at, again);
            }
        }
    }
    letters.into_iter().collect()
}

/// Texts of one record each: short, so that damage hits what matters.
fn records() -> Vec<Record> {
    read(&a_notebook()).expect("it can be read").records
}

#[test]
fn no_file_makes_the_reader_panic_and_what_is_read_is_written_and_read_again() {
    let notebook = records();
    let any_few = (vec(any::<Index>(), 1..4), vec(damage(), 0..4), any::<bool>());
    for_a_while("files", &any_few, |(which, all, bare)| {
        let few: Vec<Record> =
            which.iter().map(|index| notebook[index.index(notebook.len())].clone()).collect();
        let text = write(few, Timestamp::from_milliseconds(0));
        let text = if bare { damaged("", &all) } else { damaged(&text, &all) };
        let Ok(file) = read(&text) else { return Ok(()) };
        for record in &file.records {
            let _ = log_of(record);
        }
        let again = write(file.records.clone(), Timestamp::from_milliseconds(1));
        let again = read(&again).map_err(|error| TestCaseError::fail(format!("{error:?}")))?;
        prop_assert!(again.untouched);
        let kept = |records: &[Record]| -> Vec<String> {
            let mut texts: Vec<String> = records.iter().map(Record::to_text).collect();
            texts.sort();
            texts
        };
        prop_assert_eq!(kept(&again.records), kept(&file.records));
        let looked = preview(&notebook, &file.records);
        prop_assert!(looked.new + looked.changed + looked.same <= file.records.len());
        // What has been read in is not new a second time.
        let twice = preview(&looked.writes, &looked.writes);
        prop_assert_eq!(twice.new + twice.changed, 0);
        Ok(())
    });
}

/// One record of two, as reading a file makes it.
fn merge(here: &Record, of_file: &Record) -> Record {
    let looked = preview(std::slice::from_ref(here), std::slice::from_ref(of_file));
    looked.writes.into_iter().next().unwrap_or_else(|| here.clone())
}

/// A change that somebody makes to a record: a field, what is in it, which device, how much later.
fn change() -> impl Strategy<Value = (&'static str, Value, bool, i32)> {
    let words = || "\\PC{0,6}".prop_map(Value::from);
    let anything = prop_oneof![
        any::<bool>().prop_map(Value::from),
        any::<i32>().prop_map(Value::from),
        words(),
        Just(json!({ "a": [1, { "b": null }] })),
    ];
    // What is known is of its kind, as every screen makes it; what is not may be anything.
    let what = prop_oneof![
        (select(vec!["note", "stock", "camera"]), words()),
        (Just("frames"), (1..40_u32).prop_map(Value::from)),
        (Just("deleted"), any::<bool>().prop_map(Value::from)),
        (select(vec!["note", "frames", "x"]), Just(Value::Null)),
        (Just("x"), anything),
    ];
    (what, any::<bool>(), -5..5_i32)
        .prop_map(|((field, value), here, later)| (field, value, here, later))
}

#[test]
fn notebooks_that_were_changed_apart_are_made_one_whoever_comes_first() {
    let notebook = records();
    let rolls: Vec<Record> =
        notebook.into_iter().filter(|record| record.kind().name() == "roll").collect();
    let any_two = (any::<Index>(), vec(change(), 0..5), vec(change(), 0..5), vec(change(), 0..3));
    for_a_while("merges", &any_two, |(which, one, other, third)| {
        let start = &rolls[which.index(rolls.len())];
        let changed = |changes: &[(&'static str, Value, bool, i32)]| {
            changes.iter().fold(start.clone(), |record, (field, value, here, later)| {
                let device = if *here { "phone" } else { "tablet" };
                let at = Timestamp::from_milliseconds(1_700_000_000_000 + i64::from(*later) * 1000);
                record.edited(device, at, [(*field, value.clone())])
            })
        };
        let (one, other, third) = (changed(&one), changed(&other), changed(&third));
        let both = merge(&one, &other);
        prop_assert_eq!(&both, &merge(&other, &one));
        prop_assert_eq!(&merge(&both, &other), &both);
        let left = merge(&both, &third);
        prop_assert_eq!(&left, &merge(&one, &merge(&other, &third)));
        let back = Record::from_text(&left.to_text());
        prop_assert_eq!(back.map_err(|error| TestCaseError::fail(format!("{error:?}")))?, left);
        Ok(())
    });
}
