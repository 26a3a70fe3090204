use proptest::prelude::*;
use serde_json::{Value, json};

use super::*;
use crate::notebook::kinds::Kind;
use crate::timestamp::Timestamp;

fn at(ms: i64) -> Timestamp {
    Timestamp::from_milliseconds(1_795_000_000_000 + ms)
}

fn roll(note: &str) -> Record {
    Record::new(Kind::Roll, "a1", "phone", at(0)).with("note", note)
}

/// Any record of one id, from few values so that ties are common. Marks are those of versions that
/// may be there.
fn any_record() -> impl Strategy<Value = Record> {
    let version = || {
        (1_u64..4, 0_i64..2, 0_usize..2, 0_usize..3).prop_map(|(rev, ms, device, note)| {
            let record = Record::new(Kind::Roll, "a1", ["desk", "phone"][device], at(ms));
            record.with("rev", rev).with("note", ["", "thin", "good"][note])
        })
    };
    let log = prop::collection::vec((0_u64..4, 0_u64..2), 0..4).prop_map(|log| {
        log.iter().map(|(seq, ms)| json!({ "seq": seq, "ms": ms })).collect::<Value>()
    });
    let parents = prop::collection::vec(version(), 0..3);
    let conflicts = prop::collection::vec(version(), 0..3);
    (version(), parents, conflicts, log, any::<bool>()).prop_map(
        |(record, parents, conflicts, log, is_logged)| {
            let marks = parents.iter().map(|parent| mark_of(&parent.version())).collect::<Value>();
            let conflicts = conflicts.iter().map(Record::version).collect::<Value>();
            let log = if is_logged { log } else { Value::Null };
            let record = record.with("parents", marks).with("conflicts", conflicts);
            Record::from_value(record.with("log", log).to_value()).unwrap()
        },
    )
}

proptest! {
    #[test]
    fn it_makes_no_difference_which_comes_first(one in any_record(), other in any_record()) {
        prop_assert_eq!(merge(&one, &other), merge(&other, &one));
    }

    #[test]
    fn it_makes_no_difference_which_two_meet_first(
        one in any_record(),
        other in any_record(),
        third in any_record(),
    ) {
        let left = merge(&merge(&one, &other), &third);
        prop_assert_eq!(left, merge(&one, &merge(&other, &third)));
    }

    #[test]
    fn meeting_again_changes_nothing(one in any_record(), other in any_record()) {
        prop_assert_eq!(&merge(&one, &one), &one);
        let merged = merge(&one, &other);
        prop_assert_eq!(&merge(&merged, &other), &merged);
        prop_assert_eq!(&merge(&one, &merged), &merged);
    }

    #[test]
    fn a_merged_record_reads_back(one in any_record(), other in any_record()) {
        let merged = merge(&one, &other);
        prop_assert_eq!(Record::from_text(&merged.to_text()).unwrap(), merged);
    }
}

#[test]
fn a_version_that_was_edited_further_is_merely_older() {
    let first = roll("beach");
    let second = first.edited("phone", at(1), [("note", "the beach".into())]);
    let third = second.edited("desk", at(2), [("note", "the beach, June".into())]);
    assert_eq!(merge(&third, &first), third);
    assert_eq!(merge(&second, &third), third);
    assert!(third.conflicts().is_empty());
}

#[test]
fn versions_edited_apart_are_both_kept_until_one_is_settled_on() {
    let first = roll("beach");
    let here = first.edited("phone", at(1), [("note", "thin".into())]);
    let there = first.edited("desk", at(2), [("note", "good".into())]);
    let merged = merge(&here, &there);
    assert_eq!(merged.text("note"), "good");
    assert_eq!(merged.conflicts().len(), 1);
    assert_eq!(merged.conflicts()[0]["note"], "thin");
    let settled = merged.settled("phone", at(3));
    assert!(settled.conflicts().is_empty());
    // What has lost stays lost when the other phone's file is read again.
    assert_eq!(merge(&settled, &here), settled);
    assert_eq!(merge(&settled, &merged), settled);
}

#[test]
fn an_edit_that_changes_nothing_makes_no_version() {
    let first = roll("beach");
    assert_eq!(first.edited("phone", at(1), [("note", "beach".into())]), first);
}

#[test]
fn only_the_last_sixteen_versions_are_remembered() {
    let mut record = roll("0");
    for edit in 1..40 {
        record = record.edited("phone", at(edit), [("note", edit.to_string().into())]);
    }
    assert_eq!(record.rev(), 40);
    assert_eq!(record.parents().len(), 16);
    assert!(record.parents().iter().all(|mark| !mark.starts_with("1-")));
}

#[test]
fn logs_of_a_run_are_joined_entry_by_entry() {
    let run = |log: Value| Record::new(Kind::Run, "a1", "phone", at(0)).with("log", log);
    let one = run(json!([{ "seq": 0 }, { "seq": 1, "ms": 5 }]));
    let other = run(json!([{ "seq": 2 }, { "seq": 0 }]));
    let joined = json!([{ "seq": 0 }, { "seq": 1, "ms": 5 }, { "seq": 2 }]);
    assert_eq!(Value::from(merge(&one, &other).list("log").to_vec()), joined);
}

#[test]
fn a_log_that_only_one_of_two_versions_has_is_kept_whichever_wins() {
    let log = json!([{ "seq": 0 }, { "seq": 1 }]);
    let with = Record::new(Kind::Run, "a1", "phone", at(0)).with("log", log.clone());
    for later in [-1, 1] {
        let without = Record::new(Kind::Run, "a1", "desk", at(later));
        for merged in [merge(&with, &without), merge(&without, &with)] {
            assert_eq!(Value::from(merged.list("log").to_vec()), log, "{later}");
        }
    }
}

#[test]
fn a_phone_whose_clock_stood_before_1970_has_the_earlier_edit() {
    let edited =
        |at: Timestamp, note: &str| Record::new(Kind::Roll, "a1", "phone", at).with("note", note);
    let before = edited(Timestamp::from_milliseconds(-1_000), "before");
    let after = edited(Timestamp::from_milliseconds(1_000), "after");
    assert_eq!(merge(&before, &after).text("note"), "after");
    assert_eq!(merge(&after, &before).text("note"), "after");
}

#[test]
fn records_of_another_id_are_never_mixed() {
    let other = Record::new(Kind::Roll, "b2", "phone", at(0));
    assert_eq!(merge(&roll("beach"), &other), roll("beach"));
}

#[test]
fn a_version_that_comes_to_the_front_is_checked_like_any_other() {
    let later = roll("good").with("edited_at", at(9_000).to_iso()).with("rev", 2);
    let with = |dry_at: &str| {
        let version = later.clone().with("dry_at", dry_at).version();
        roll("thin").with("conflicts", vec![version]).to_value()
    };
    let read = Record::from_value(with(&at(0).to_iso())).unwrap();
    assert_eq!(read.text("note"), "good", "the later version is in front");
    assert!(Record::from_value(with("2026-11-18T11:06:40.0p0Z")).is_err());
}
