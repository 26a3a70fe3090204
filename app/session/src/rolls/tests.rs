//! Rolls found, put aside and compared.

use proptest::prelude::*;

use super::*;
use crate::entry::{Entry, Event, Fault};
use crate::habits::Habits;
use crate::plan::Plan;

fn at(ms: i64) -> Timestamp {
    Timestamp::from_milliseconds(1_795_000_000_000 + ms)
}

fn roll(number: u64) -> Record {
    Record::new(Kind::Roll, &format!("r{number}"), "phone", at(0)).with("number", number)
}

fn run_with(fault: Fault) -> Run {
    let entry = |seq, event| Entry { seq, at: at(0), event };
    let log = [entry(0, Event::Started { anyway: false }), entry(1, Event::FaultNoted(fault))];
    Run::replay(Plan::shipped(&Habits::default(), 0), log)
}

/// The numbers of the rolls that are found.
fn found(records: &[Record], runs: Vec<OfRun>, typed: &str, only: Only) -> Vec<u64> {
    let rolls = listed(records, &runs);
    let numbers = find(&rolls, typed, only).into_iter().map(|at| {
        records[rolls[at].place].value("number").and_then(Value::as_u64).unwrap_or_default()
    });
    numbers.collect()
}

#[test]
fn a_roll_is_found_by_any_of_its_fields_its_run_and_its_trial() {
    let run = run_with(Fault::Light);
    let rolls = [
        roll(1).with("stock", "Colour Negative 400").with("exposed_on", "2026-03-14"),
        roll(2).with("lens", "50 mm").with("rated_iso", 200).with("push_stops", 1.0),
        roll(3).with("run", "run").with("faults", Value::from(vec!["D01"])).with("frames", 24),
        roll(4).with("note", "the beach").with("deleted", true),
        Record::new(Kind::Trial, "t", "phone", at(0))
            .with("question", "with stabiliser?")
            .with("rolls", Value::from(vec!["r2"])),
        Record::new(Kind::Solution, "s", "phone", at(0))
            .with("name", "the brown jar")
            .with("bath", "developer"),
    ];
    let runs = || vec![of_run("run", &run, &[], &rolls)];
    for (typed, numbers) in [
        ("NEGATIVE 400", vec![1]),
        ("march 2026", vec![1]),
        ("rated 200 push", vec![2]),
        ("50 mm", vec![2]),
        ("stabiliser", vec![2]),
        ("light got in", vec![3]),
        ("clear strip", vec![3]),
        ("brown jar", vec![3]),
        ("beach", vec![]),
        ("roll", vec![1, 2, 3]),
    ] {
        assert_eq!(found(&rolls, runs(), typed, Only::All), numbers, "{typed}");
    }
    assert_eq!(found(&rolls, runs(), "", Only::Faulty), [3]);
    assert_eq!(found(&rolls, runs(), "", Only::Tried), [2]);
    assert_eq!(found(&rolls, runs(), "", Only::At(Stage::InHand)), [3]);
}

#[test]
fn a_run_that_names_what_it_poured_is_found_by_nothing_else_on_the_shelf() {
    let run = run_with(Fault::Light);
    let bottle = |id: &str, name: &str| {
        Record::new(Kind::Solution, id, "phone", at(0)).with("name", name).with("bath", "developer")
    };
    let records =
        [roll(1).with("run", "run"), bottle("a", "the brown jar"), bottle("b", "the grey can")];
    let runs = || vec![of_run("run", &run, &["b".into()], &records)];
    assert_eq!(found(&records, runs(), "grey can", Only::All), [1]);
    assert!(found(&records, runs(), "brown jar", Only::All).is_empty());
}

#[test]
fn rolls_that_wait_come_first_and_the_oldest_of_them_first() {
    let rolls = [
        roll(1).with("filed_at", at(0).to_iso()),
        roll(2).with("filed_at", at(0).to_iso()),
        roll(3).with("run", "x"),
        roll(4).with("exposed_on", "2026-03-14"),
        roll(5).with("exposed_on", "2026-02-14"),
    ];
    assert_eq!(found(&rolls, Vec::new(), "", Only::All), [5, 4, 3, 2, 1]);
}

#[test]
fn what_was_put_aside_can_be_brought_back_for_thirty_days() {
    let aside = roll(1).edited("phone", at(0), [("deleted", true.into())]);
    assert_eq!(days_left(&aside, at(0)), Some(30));
    assert_eq!(days_left(&aside, at(29 * DAY_MS + DAY_MS - 1)), Some(1));
    assert_eq!(days_left(&aside, at(30 * DAY_MS)), None);
    // A clock that was set back takes nothing away.
    assert_eq!(days_left(&aside, at(-DAY_MS)), Some(30));
    assert_eq!(days_left(&roll(1), at(0)), None);
}

#[test]
fn of_two_rolls_only_what_differs_is_told() {
    let facts = |of: &[(&str, &str)]| {
        of.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect::<Vec<_>>()
    };
    let one = facts(&[("Film", "a"), ("Camera", "b"), ("Wash", "3:00"), ("Wash", "4:00")]);
    let other = facts(&[("Film", "a"), ("Wash", "3:00"), ("Wash", "5:00"), ("Lens", "c")]);
    let (rows, same) = differences(one, other);
    assert_eq!(rows, [["Camera", "b", "–"], ["Wash", "4:00", "5:00"], ["Lens", "–", "c"]]);
    assert_eq!(same, 2);
}

fn words() -> impl Strategy<Value = String> {
    "[a-cA-C ]{0,8}"
}

proptest! {
    #[test]
    fn one_more_word_never_finds_more_and_capitals_never_matter(
        notes in prop::collection::vec(words(), 0..12),
        typed in words(),
        more in words(),
    ) {
        let numbered = (1..).zip(&notes);
        let rolls: Vec<_> =
            numbered.map(|(number, note)| roll(number).with("note", note.as_str())).collect();
        let rolls = listed(&rolls, &[]);
        let some = find(&rolls, &typed, Only::All);
        let fewer = find(&rolls, &format!("{typed} {more}"), Only::All);
        prop_assert!(fewer.iter().all(|at| some.contains(at)));
        prop_assert!(some.is_sorted());
        prop_assert_eq!(some, find(&rolls, &typed.to_ascii_uppercase(), Only::All));
    }

    #[test]
    fn every_roll_is_found_by_each_of_its_own_words(notes in prop::collection::vec(words(), 1..8)) {
        let numbered = (1..).zip(&notes);
        let rolls: Vec<_> =
            numbered.map(|(number, note)| roll(number).with("note", note.as_str())).collect();
        for roll in &rolls {
            let number = roll.value("number").and_then(Value::as_u64).unwrap_or_default();
            for word in roll.text("note").split_whitespace() {
                prop_assert!(found(&rolls, Vec::new(), word, Only::All).contains(&number));
            }
        }
    }

    #[test]
    fn differences_are_the_same_seen_from_either_side(
        one in prop::collection::vec(("[a-c]", "[xy]"), 0..6),
        other in prop::collection::vec(("[a-c]", "[xy]"), 0..6),
    ) {
        let (rows, same) = differences(one.clone(), other.clone());
        let (back, same_back) = differences(other, one.clone());
        prop_assert_eq!(rows.len(), back.len());
        prop_assert_eq!(same, same_back);
        prop_assert_eq!(differences(one.clone(), one.clone()), (Vec::new(), one.len()));
    }
}

#[test]
fn a_place_is_found_whatever_its_capitals_and_a_bottle_by_the_day_it_was_mixed() {
    let records = [roll(1).with("note", "Ölandsbron, ÉTÉ"), roll(2).with("note", "the beach")];
    for typed in ["ölandsbron", "ÖLANDSBRON", "été", "Été ö"] {
        assert_eq!(found(&records, Vec::new(), typed, Only::All), [1], "{typed}");
    }
    let mixed = Record::new(Kind::Solution, "s1", "phone", at(0))
        .with("name", "Developer")
        .with("bath", "developer")
        .with(
            "events",
            crate::notebook::solutions::events_with(
                None,
                &crate::notebook::solutions::Deed::new(at(0), Done::Mixed),
            ),
        );
    let by = found_by(&mixed);
    assert_eq!(by, "mixed-2026-11-18");
    let run = of_run("run", &run_with(Fault::Light), &["s1".into()], std::slice::from_ref(&mixed));
    let records = [roll(3).with("run", "run"), roll(4), mixed];
    assert_eq!(found(&records, vec![run], &by, Only::All), [3]);
}
