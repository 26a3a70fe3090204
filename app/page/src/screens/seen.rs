//! What is seen on a roll: faults by what can be seen, what they may come from, what can be done.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::printed::{Fault, faults, search_faults};
use session::notebook::primer::{HEADING, PARAGRAPHS, Section};
use session::notebook::{Record, Value};

use super::desk::{Line, Press, Typing, act, desk, field, following, to, write};
use super::primer;
use super::rolls::title;
use crate::route::Route;
use crate::store::Store;

/// So few are told in full without a tap.
const FEW: usize = 3;

/// The search of a roll.
pub fn seen(id: String) -> AnyView {
    super::store().fetch_primer();
    let back = Some(("The roll", Route::Roll(id.clone())));
    let lines = Arc::new(move |store| lines(store, &id));
    desk("Faults", &Route::Rolls, back, lines)
}

fn lines(store: Store, id: &str) -> Vec<Line> {
    let Some(roll) = store.record(id) else {
        return vec![Line::Lead("There is no such roll here.".to_owned())];
    };
    let keyed = write(|store, typed| store.finding.faults.set(typed.to_owned()));
    let about = "such as clear, streaks, cast; then touch what it is";
    let typed = store.finding.faults.get_untracked();
    vec![
        Line::Lead(title(&roll)),
        field("What is seen", about, Typing::Find, &typed, keyed),
        following(move || found(store, &roll)),
    ]
}

fn found(store: Store, roll: &Record) -> Vec<Line> {
    let table = store.primer("faults");
    let causes = |fault: &Fault| details(&table, fault).first().cloned().unwrap_or_default();
    let found = search_faults(&store.finding.faults.get(), &causes);
    let mut lines = vec![Line::Count(format!("{} found", found.len()))];
    lines.extend(primer::lost(store));
    let few = found.len() <= FEW;
    for fault in found {
        let so = has(roll, &fault);
        let id = roll.id().to_owned();
        let mut ids = roll.list("faults").to_vec();
        ids.retain(|known| known != fault.id);
        if !so {
            ids.push(fault.id.into());
        }
        let ids = if ids.is_empty() { Value::Null } else { Value::Array(ids) };
        let tick = act(move |store| store.change_record(&id, vec![("faults", ids.clone())]));
        let (label, value) = (fault.seen.to_owned(), fault.whereabouts.to_owned());
        lines.push(Line::Tick { label, value, so, act: tick });
        if few || so {
            told(&table, &fault, &mut lines);
        }
    }
    lines
}

/// Whether a fault was seen on a roll.
pub fn has(roll: &Record, fault: &Fault) -> bool {
    roll.list("faults").iter().any(|id| id == fault.id)
}

/// What the table says of a fault, in the order of its columns.
fn details<'a>(table: &'a [Section], fault: &Fault) -> &'a [String] {
    let row = table.iter().find(|row| row[HEADING] == fault.id);
    row.map_or(&[], |row| &row[PARAGRAPHS..])
}

/// The columns of the table.
const TOLD: [&str; 6] =
    ["May come from", "To tell", "For this film", "Next time", "Processes", "Source"];

/// What is known of a fault, and where from.
fn told(table: &[Section], fault: &Fault, lines: &mut Vec<Line>) {
    for (name, says) in TOLD.iter().zip(details(table, fault)) {
        if !says.is_empty() {
            lines.push(Line::Quiet(format!("{name}: {says}")));
        }
    }
}

/// The faults that are seen on a roll, and the way to more.
pub fn on(store: Store, roll: &Record) -> Vec<Line> {
    let mut lines = vec![Line::Heading("Faults seen on it".to_owned())];
    if !roll.list("faults").is_empty() {
        store.fetch_primer();
    }
    let table = store.primer("faults");
    for fault in faults().filter(|fault| has(roll, fault)) {
        lines.push(Line::Lead(fault.seen.to_owned()));
        told(&table, &fault, &mut lines);
    }
    let find = to(Route::RollFaults(roll.id().to_owned()));
    lines.push(Line::Keys(vec![Press::new("FIND A FAULT", find).more("causes and remedies")]));
    lines
}
