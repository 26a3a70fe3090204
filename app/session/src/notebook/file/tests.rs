use proptest::prelude::*;
use serde_json::json;

use super::*;
use crate::entry::{Entry, Event};
use crate::habits::Habits;
use crate::notebook::RunRecord;
use crate::plan::Plan;

fn at(ms: i64) -> Timestamp {
    Timestamp::from_milliseconds(1_795_000_000_000 + ms)
}

/// A small notebook: two rolls, one edited, and a run with a log.
fn notebook() -> Vec<Record> {
    let first = Record::new(Kind::Roll, "b2", "phone", at(0)).with("note", "beach \u{1F3D6} <b>");
    let run = RunRecord::new("c3", "phone", Plan::shipped(&Habits::default(), 60), at(4));
    let log = [Entry { seq: 0, at: at(5), event: Event::Started { anyway: true } }];
    vec![
        run.with_log(&log),
        first.edited("phone", at(1), [("rated_iso", 200.into())]),
        Record::new(Kind::Roll, "a1", "phone", at(2)),
    ]
}

fn sorted(mut records: Vec<Record>) -> Vec<Record> {
    records.sort_by(|one, other| {
        (one.kind().name(), one.id()).cmp(&(other.kind().name(), other.id()))
    });
    records
}

#[test]
fn what_is_written_reads_back_and_is_written_the_same_again() {
    let text = write(notebook(), at(9));
    let file = read(&text).unwrap();
    assert!(file.untouched);
    assert_eq!(file.exported_at, Some(at(9)));
    assert_eq!(file.records, sorted(notebook()));
    assert_eq!(write(file.records, at(9)), text);
}

#[test]
fn the_file_counts_what_it_holds() {
    let file: Value = serde_json::from_str(&write(notebook(), at(9))).unwrap();
    assert_eq!(file["footer"]["counts"], json!({ "roll": 2, "run": 1 }));
    assert_eq!(file["exported_at"], "2026-11-18T11:06:40.009Z");
}

#[test]
fn a_file_that_was_changed_after_it_was_saved_says_so() {
    let text = write(notebook(), at(9)).replace("beach", "peach");
    let file = read(&text).unwrap();
    assert!(!file.untouched);
    // White space is no change.
    let text = write(notebook(), at(9)).replace(",\"", " ,\n \"");
    assert!(read(&text).unwrap().untouched);
}

#[test]
fn what_cannot_be_read_is_refused_with_a_sentence() {
    let says = |text: &str| read(text).unwrap_err().to_string();
    assert!(says("{\"format\":").contains("line 1, column 10"));
    assert_eq!(says("[1, 2]"), "This is not a notebook file. Nothing was changed.");
    let later = "{\"format\": \"notebook\", \"version\": 2, \"records\": []}";
    assert!(says(later).starts_with("This file is notebook version 2; this page reads version 1."));
    let text = write(notebook(), at(9)).replace("\"rated_iso\":200", "\"rated_iso\":\"fast\"");
    assert!(says(&text).starts_with("Record 2 cannot be read: rated_iso makes no sense."));
    let text = write(notebook(), at(9)).replace("\"bath\":\"developer\"", "\"bath\":\"soup\"");
    assert!(says(&text).contains("plan.steps[1].bath makes no sense"), "{}", says(&text));
}

#[test]
fn reading_a_file_twice_changes_nothing_the_second_time() {
    let first = preview(&[], &notebook());
    assert_eq!((first.new, first.changed, first.same, first.conflicts), (3, 0, 0, 0));
    let again = preview(&first.writes, &notebook());
    assert_eq!((again.new, again.changed, again.same), (0, 0, 3));
    assert!(again.writes.is_empty());
}

#[test]
fn a_preview_tells_changes_from_conflicts() {
    let here = notebook();
    let mut there = notebook();
    there[1] = here[1].edited("desk", at(5), [("note", "thin".into())]);
    there[2] = here[2].edited("desk", at(5), [("note", "one".into())]);
    let mine = here[2].edited("phone", at(6), [("note", "other".into())]);
    let here = [here[0].clone(), here[1].clone(), mine];
    let seen = preview(&here, &there);
    assert_eq!((seen.new, seen.changed, seen.same, seen.conflicts), (0, 2, 1, 1));
}

#[test]
fn a_record_that_is_twice_in_a_file_is_merged_with_itself() {
    let mut twice = notebook();
    twice.extend(notebook());
    assert_eq!(preview(&[], &twice).writes, preview(&[], &notebook()).writes);
}

/// What the notebook holds after reading `text` as a careful person does: not if it was changed.
fn after(text: &[u8]) -> Vec<Record> {
    let here = sorted(notebook());
    let Ok(text) = std::str::from_utf8(text) else { return here };
    match read(text) {
        Ok(file) if file.untouched => {
            let seen = preview(&here, &file.records);
            assert!(seen.writes.is_empty(), "{:?}", seen.writes);
            here
        }
        Ok(_) | Err(_) => here,
    }
}

#[test]
fn a_file_cut_off_anywhere_changes_nothing() {
    let text = write(notebook(), at(9));
    for end in 0..text.trim_end().len() {
        let cut = &text.as_bytes()[..end];
        assert_eq!(after(cut), sorted(notebook()), "cut at {end}");
        let read = std::str::from_utf8(cut).map(read);
        assert!(read.is_ok_and(|file| file.is_err()) || std::str::from_utf8(cut).is_err());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn a_file_with_one_damaged_byte_changes_nothing(place in any::<prop::sample::Index>(), byte: u8) {
        let mut text = write(notebook(), at(9)).into_bytes();
        let place = place.index(text.len());
        text[place] = byte;
        prop_assert_eq!(after(&text), sorted(notebook()));
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,200}") {
        let _ = read(&text).is_ok();
        let _ = Record::from_text(&text).is_ok();
    }
}
