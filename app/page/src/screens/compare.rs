//! Two rolls side by side: only what differs.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::printed;
use session::film::amount_of;
use session::notebook::{Kind, Record};
use session::rolls::{Fact, differences, pushed};

use super::desk::{Line, Press, desk, to};
use super::roll::{amounts, solutions, step_row};
use super::rolls::{finder, sheet_name, title};
use super::seen;
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
    let Some(other) = roll(other).filter(|_| other != id) else {
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

/// One more fact: called, not copied into each place.
#[inline(never)]
fn put(facts: &mut Vec<Fact>, name: &str, value: String) {
    facts.push((name.to_owned(), value));
}

/// Everything that two rolls are compared by.
fn facts(store: Store, roll: &Record) -> Vec<Fact> {
    let mut facts = Vec::new();
    for (name, field) in TEXTS {
        put(&mut facts, name, roll.text(field).to_owned());
    }
    for (name, field) in [("Box speed, ISO", "box_iso"), ("Rated, ISO", "rated_iso")] {
        let iso = roll.number(field).map(|iso| text::decimal(iso, 0));
        put(&mut facts, name, iso.unwrap_or_default());
    }
    let amount = text::decimal(amount_of(roll).rolls, 2);
    put(&mut facts, "Counts as rolls", amount);
    put(&mut facts, "Push or pull", pushed(roll).to_owned());
    let mut seen = String::new();
    for fault in printed::faults().filter(|fault| seen::has(roll, fault)) {
        seen.push_str(fault.seen);
        seen.push_str(". ");
    }
    put(&mut facts, "Faults seen", seen);
    if let Some(open) = store.kept_run(roll.text("run")) {
        facts_of_run(store, &open, &mut facts);
    }
    facts
}

/// The texts of a roll that are compared.
const TEXTS: [(&str, &str); 10] = [
    ("Film", "stock"),
    ("Format", "format"),
    ("Camera", "camera"),
    ("Lens", "lens"),
    ("Out of the camera", "exposed_on"),
    ("On it", "note"),
    ("Came out", "judgement"),
    ("Density", "density"),
    ("Filed as", "filed_as"),
    ("Next time", "next_time"),
];

fn facts_of_run(store: Store, open: &OpenRun, facts: &mut Vec<Fact>) {
    let run = &open.run;
    put(facts, "Sheet", sheet_name(open));
    let began = run.started_at().map(|at| events::date(at.milliseconds()));
    put(facts, "Developed", began.unwrap_or_default());
    for (index, step) in run.plan.steps.iter().enumerate() {
        // Name, planned and actual.
        if let [name, planned, actual] = step_row(run, index, step).as_slice() {
            put(facts, &format!("{name}, planned"), planned.clone());
            put(facts, name, actual.clone());
        }
    }
    // All readings of a place are one fact: one more of them moves no other.
    for reading in run.state.readings.iter().filter(|reading| !reading.doubted) {
        let name = [text::place(reading.place), ", read"].concat();
        let read = [&text::degrees(reading.celsius), " ", text::unit()].concat();
        match facts.iter_mut().find(|(known, _)| *known == name) {
            Some((_, all)) => all.extend([", ", &read]),
            None => put(facts, &name, read),
        }
    }
    for (_, fault) in &run.state.faults {
        put(facts, "Noted in the run", text::fault(*fault).to_owned());
    }
    for (name, said) in solutions(store, open) {
        put(facts, &["Bottle: ", &name].concat(), said);
    }
    put(facts, "What it amounts to", amounts(store, run).unwrap_or_default());
    let session = store.record(open.record.record.text("session"));
    for (name, field) in [("Odd", "odd"), ("Pre-soak water", "pre_soak_colour")] {
        let said = session.as_ref().map(|session| session.text(field).to_owned());
        put(facts, name, said.unwrap_or_default());
    }
}
