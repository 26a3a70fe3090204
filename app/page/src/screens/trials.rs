//! Trials: questions across rolls, when to look again, and what was seen.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::{Kind, Record, Value, pairs};
use session::timestamp::Timestamp;
use session::{order, trial};

use super::desk::beside::is_here;
use super::desk::{Act, Desk, Line, Press, Typing, act, field, handed, to, write};
use super::rolls::{finder, in_words, title};
use crate::browser::events;
use crate::route::Route;
use crate::store::Store;

/// The list.
#[component]
pub fn Trials() -> impl IntoView {
    let back = Some(("All rolls", Route::Rolls));
    view! { <Desk title="Trials" here=Route::Rolls back lines=Arc::new(all) /> }
}

/// One trial.
#[component]
pub fn Trial(
    /// Its id.
    id: String,
) -> impl IntoView {
    let lines = Arc::new(move |store| one(store, &id));
    view! { <Desk title="Trial" here=Route::Rolls back=Some(("All trials", Route::Trials)) lines /> }
}

/// What stands in the list.
pub fn all(store: Store) -> Vec<Line> {
    let new = act(|store| {
        let id = store.add_record(Kind::Trial, vec![("question", "".into())]);
        store.go(Route::Trial(id));
    });
    let mut lines = vec![Line::Keys(vec![
        Press::new("NEW TRIAL", new).so(true),
        Press::new("LEARNING", to(Route::Learned)).more("what your rolls show"),
    ])];
    let trials = store.records_of(Kind::Trial);
    if trials.is_empty() {
        lines.push(Line::Lead("No trial yet.".to_owned()));
        lines.push(Line::Quiet(
            "A question on rolls that differ in one thing, looked at again after months or years."
                .to_owned(),
        ));
    }
    lines.extend(trials.iter().map(|trial| Line::Row {
        is_here: is_here(store, trial.id()),
        label: "Trial".to_owned(),
        value: question(trial),
        more: next(store, trial),
        act: to(Route::Trial(trial.id().to_owned())),
    }));
    lines
}

/// What a trial asks.
pub fn question(trial: &Record) -> String {
    let question = trial.text("question");
    if question.is_empty() { "not written yet" } else { question }.to_owned()
}

fn next(store: Store, trial: &Record) -> String {
    match trial::next_look(trial, events::offset_ms()) {
        Some(day) if day <= events::iso_day(store.wall_now()).as_str() => "due".to_owned(),
        Some(day) => format!("look again {day}"),
        None => String::new(),
    }
}

fn one(store: Store, id: &str) -> Vec<Line> {
    let Some(trial) = store.record(id).filter(|record| record.kind() == Kind::Trial) else {
        return vec![Line::Lead("There is no such trial here.".to_owned())];
    };
    let words = |name: &str, about: &str, key: &'static str| {
        let id = id.to_owned();
        let keep = write(move |store, typed| {
            store.change_record(&id, vec![(key, typed.trim().into())]);
        });
        field(name, about, Typing::Long, trial.text(key), keep)
    };
    let mut lines = vec![
        words("Question", "such as: does it fade without stabiliser?", "question"),
        words("What differs", "one thing; on which roll or strip", "differs"),
    ];
    if trial.is_deleted() {
        lines.push(Line::Said("Put aside.".to_owned()));
    }
    lines.extend(looks(store, &trial));
    lines.extend(rolls(store, &trial));
    let aside = !trial.is_deleted();
    let says = if aside { "PUT ASIDE" } else { "BRING BACK" };
    let put = change(&trial, "deleted", aside.into());
    lines.push(Line::Keys(vec![Press::new(says, put).more("nothing is lost")]));
    lines
}

/// A trial as it is printed: what it asks, and what was seen.
pub fn on_paper(trial: &Record) -> Vec<Line> {
    let mut lines = vec![Line::Lead(["Trial: ", &question(trial)].concat())];
    lines.push(Line::Quiet(trial.text("differs").to_owned()));
    lines.extend(seen(trial));
    lines
}

/// What was seen, and on which day.
fn seen(trial: &Record) -> Option<Line> {
    let said = |answer: &Value, key: &str| answer[key].as_str().unwrap_or_default().to_owned();
    let day = |at: String| Timestamp::from_iso(&at).map(events::iso_day).unwrap_or_default();
    let row = |answer: &Value| vec![day(said(answer, "at")), said(answer, "text")];
    let rows: Vec<_> = trial.list("answers").iter().map(row).collect();
    let head = ["Day", "Seen"].map(str::to_owned).to_vec();
    (!rows.is_empty()).then(|| Line::Table(head, rows))
}

/// Changes one field.
fn change(trial: &Record, key: &'static str, value: Value) -> Act {
    let id = trial.id().to_owned();
    act(move |store| store.change_record(&id, vec![(key, value.clone())]))
}

/// When to look again, and what was seen.
fn looks(store: Store, trial: &Record) -> Vec<Line> {
    let days = trial.list("look_again_on");
    let now = store.wall_now();
    let mut lines = vec![Line::Heading("Look again".to_owned())];
    let later =
        [("IN A MONTH", 30), ("IN A YEAR", 365), ("IN 5 YEARS", 1826)].map(|(says, days_on)| {
            let day = Value::from(events::iso_day(now.plus_ms(days_on * 86_400_000)));
            let mut all = days.to_vec();
            if !all.contains(&day) {
                all.push(day);
            }
            Press::new(says, change(trial, "look_again_on", Value::Array(all)))
        });
    lines.push(Line::Keys(Vec::from(later)));
    let listed = days.iter().filter_map(Value::as_str).map(str::to_owned).collect();
    for day in order::by(listed, |day: &String| day.clone()) {
        let left = days.iter().filter(|other| other.as_str() != Some(&day)).cloned().collect();
        lines.push(Line::Tick {
            label: day,
            value: "touch to remove".to_owned(),
            so: true,
            act: change(trial, "look_again_on", Value::Array(left)),
        });
    }
    if !days.is_empty() {
        let id = trial.id().to_owned();
        let save = act(move |store| store.save_calendar(&id));
        lines.push(Line::Keys(vec![
            Press::new("CALENDAR FILE", save).more("it reminds you without this page"),
        ]));
        lines.extend(handed(store));
    }
    let (id, answers) = (trial.id().to_owned(), trial.list("answers").to_vec());
    let keep = write(move |store, typed| {
        if typed.trim().is_empty() {
            return;
        }
        let mut answers = answers.clone();
        answers.push(pairs(&[("at", &store.wall_now().to_iso()), ("text", typed.trim())]));
        store.change_record(&id, vec![("answers", Value::Array(answers))]);
    });
    lines.push(field("What do you see today?", "kept with the day", Typing::Long, "", keep));
    lines.extend(seen(trial));
    lines
}

/// The rolls that belong to it, and all others to find more among.
fn rolls(store: Store, trial: &Record) -> Vec<Line> {
    let chosen = trial.list("rolls");
    let ids = chosen.iter().filter_map(Value::as_str);
    let shown: Vec<Record> =
        ids.filter_map(|id| store.record(id)).filter(|roll| !roll.is_deleted()).collect();
    let mut lines = vec![Line::Heading("Rolls".to_owned())];
    lines.extend(shown.iter().map(|roll| {
        let all = chosen.iter().filter(|id| id.as_str() != Some(roll.id())).cloned().collect();
        let act = change(trial, "rolls", Value::Array(all));
        Line::Tick { label: title(roll), value: in_words(roll), so: true, act }
    }));
    let aside = chosen.len() - shown.len();
    if aside > 0 {
        let aside = crate::text::counted(aside, "roll");
        lines.push(Line::Quiet(format!("{aside} of it put aside: see the foot of Rolls.")));
    }
    if let [one, other, ..] = shown.as_slice() {
        let both = to(Route::Compare(one.id().to_owned(), other.id().to_owned()));
        lines.push(Line::Keys(vec![Press::new("COMPARE", both).more("the first two")]));
    }
    let trial = trial.clone();
    let found = finder(
        store,
        Arc::new(move |id| {
            let mut all = trial.list("rolls").to_vec();
            if !all.iter().any(|known| known == id) {
                all.push(id.into());
            }
            change(&trial, "rolls", Value::Array(all))
        }),
    );
    lines.push(Line::Quiet(
        if found.is_empty() { "No roll is written down yet." } else { "Touch a roll to add it." }
            .to_owned(),
    ));
    lines.extend(found);
    lines
}
