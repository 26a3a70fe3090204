//! Two rolls side by side: only what differs.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::printed;
use session::notebook::{Kind, Record};
use session::rolls::{Fact, differences, pushed};

use super::desk::{Line, Press, desk, to};
use super::roll::{amounts, step_row};
use super::rolls::{finder, sheet_name, title};
use crate::browser::events;
use crate::route::Route;
use crate::store::{OpenRun, Store};
use crate::text;

/// A roll beside another; where the other is empty, it is chosen.
pub fn compare(id: String, other: String) -> AnyView {
    let back = Some(("The roll", Route::Roll(id.clone())));
    let lines = Arc::new(move |store| lines(store, &id, &other));
    desk("Compare", &Route::Rolls, back, lines)
}

fn lines(store: Store, id: &str, other: &str) -> Vec<Line> {
    let roll = |id: &str| store.record(id).filter(|record| record.kind() == Kind::Roll);
    let Some(one) = roll(id) else {
        return vec![Line::Lead("There is no such roll here.".to_owned())];
    };
    let Some(other) = roll(other) else {
        let mut lines = vec![Line::Lead(format!("{} with which other roll?", title(&one)))];
        let id = id.to_owned();
        lines.extend(finder(
            store,
            Arc::new(move |other| to(Route::Compare(id.clone(), other.to_owned()))),
        ));
        return lines;
    };
    let head = vec!["Differs".to_owned(), title(&one), title(&other)];
    let (rows, same) = differences(facts(store, &one), facts(store, &other));
    let mut lines = Vec::new();
    if rows.is_empty() {
        lines.push(Line::Lead("Nothing that is written down differs.".to_owned()));
    } else {
        lines.push(Line::Table(head, rows));
    }
    lines.push(Line::Quiet(format!("The same in both, and not shown: {same}.")));
    let another = to(Route::Compare(id.to_owned(), String::new()));
    lines.push(Line::Keys(vec![Press::new("ANOTHER ROLL", another)]));
    lines
}

/// Everything that two rolls are compared by.
fn facts(store: Store, roll: &Record) -> Vec<Fact> {
    let mut facts = Vec::new();
    let mut add = |name: &str, value: String| facts.push((name.to_owned(), value));
    for (name, field) in TEXTS {
        add(name, roll.text(field).to_owned());
    }
    for (name, field) in [("ISO on the box", "box_iso"), ("Exposed at ISO", "rated_iso")] {
        add(name, roll.number(field).map(|iso| text::decimal(iso, 0)).unwrap_or_default());
    }
    add("Push or pull", pushed(roll).to_owned());
    let seen =
        printed::faults().filter(|fault| roll.list("faults").iter().any(|id| id == fault.id));
    add("Faults seen", seen.map(|fault| fault.seen).collect::<Vec<_>>().join("; "));
    if let Some(open) = store.kept_run(roll.text("run")) {
        facts.extend(facts_of_run(store, &open));
    }
    facts
}

/// The texts of a roll that are compared.
const TEXTS: [(&str, &str); 8] = [
    ("Film", "stock"),
    ("Format", "format"),
    ("Camera", "camera"),
    ("Lens", "lens"),
    ("Out of the camera", "exposed_on"),
    ("On it", "note"),
    ("Came out", "judgement"),
    ("Next time", "next_time"),
];

fn facts_of_run(store: Store, open: &OpenRun) -> Vec<Fact> {
    let run = &open.run;
    let mut facts = vec![("Sheet".to_owned(), sheet_name(open))];
    let mut add = |name: String, value: String| facts.push((name, value));
    let began = run.started_at().map(|at| events::date(at.milliseconds()));
    add("Developed".to_owned(), began.unwrap_or_default());
    for (index, step) in run.plan.steps.iter().enumerate() {
        // Name, planned and actual.
        if let [name, planned, actual] = step_row(run, index, step).as_slice() {
            add(format!("{name}, planned"), planned.clone());
            add(name.clone(), actual.clone());
        }
    }
    for reading in &run.state.readings {
        let place = text::place(reading.place);
        add(place.to_owned(), format!("{} {}", text::degrees(reading.celsius), text::unit()));
    }
    let faults = run.state.faults.iter().map(|(_, fault)| text::fault(*fault));
    add("Noted in the run".to_owned(), faults.collect::<Vec<_>>().join("; "));
    add("What it amounts to".to_owned(), amounts(store, run).unwrap_or_default());
    let session = store.record(open.record.record.text("session"));
    for (name, field) in [("Odd", "odd"), ("Pre-soak water", "pre_soak_colour")] {
        let said = session.as_ref().map(|session| session.text(field).to_owned());
        add(name.to_owned(), said.unwrap_or_default());
    }
    facts
}
