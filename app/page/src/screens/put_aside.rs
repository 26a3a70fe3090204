//! What was put aside: each is brought back by a tap, until it is gone.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::{Kind, Record};
use session::rolls::{KEPT_DAYS, days_left};

use super::desk::{Act, Line, Press, act, desk};
use super::rolls::{in_words, title};
use super::trials::question;
use crate::route::Route;
use crate::store::Store;
use crate::text::in_days;

/// The list.
pub fn put_aside() -> AnyView {
    let back = Some(("All rolls", Route::Rolls));
    desk("Put aside", &Route::Rolls, back, Arc::new(lines))
}

/// What can be brought back, and for how many days.
pub fn those(store: Store) -> Vec<(Record, i64)> {
    let now = store.wall_now();
    let left = |roll: &Record| Some((roll.clone(), days_left(roll, now)?));
    store.records.with(|records| {
        records.iter().filter(|record| put(record.kind())).filter_map(left).collect()
    })
}

/// Whether records of a kind are ever put aside.
fn put(kind: Kind) -> bool {
    matches!(kind, Kind::Roll | Kind::Trial | Kind::Solution | Kind::Sheet)
}

/// What a record that was put aside is called, and what there is to say of it.
fn called(record: &Record) -> (String, String) {
    match record.kind() {
        Kind::Roll => (title(record), in_words(record)),
        Kind::Trial => ("Trial".to_owned(), question(record)),
        Kind::Habits
        | Kind::Run
        | Kind::Session
        | Kind::Sheet
        | Kind::Solution
        | Kind::Thermometer
        | Kind::Vessel => (record.text("name").to_owned(), String::new()),
    }
}

/// Brings something back.
pub fn bring_back(id: String) -> Act {
    act(move |store| store.change_record(&id, vec![("deleted", false.into())]))
}

fn lines(store: Store) -> Vec<Line> {
    let those = those(store);
    if those.is_empty() {
        return vec![Line::Lead("Nothing is put aside.".to_owned())];
    }
    let rule = format!("What was put aside stays here for {KEPT_DAYS} days.");
    let mut lines = vec![Line::Quiet(rule)];
    for (record, left) in those {
        let (name, words) = called(&record);
        let says = format!("BRING {} BACK", name.to_ascii_uppercase());
        lines.extend([Line::Heading(name), Line::Quiet(words)]);
        let key = Press::new(says, bring_back(record.id().to_owned()));
        lines.push(Line::Keys(vec![key.more(format!("{} left", in_days(left)))]));
    }
    lines
}
