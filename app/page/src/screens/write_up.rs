//! Write-up: two questions while it is fresh, and nothing that must be answered.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::{Record, Value};

use super::desk::{Desk, Line, Press, Typing, act, field, handed, to, write};
use super::roll::timeline;
use super::rolls::{in_words, title, waiting};
use crate::route::Route;
use crate::store::{OpenRun, Store};
use crate::text::shelf as told;

/// What is written down after a run.
#[component]
pub fn WriteUp(
    /// The run's id.
    id: String,
) -> impl IntoView {
    let lines = Arc::new(move |store| lines(store, &id));
    view! { <Desk title="Write-up" here=Route::Rolls back=None lines /> }
}

/// So many of the rolls that wait are offered, the oldest first.
const OFFERED: usize = 60;

/// What is left to do at the sink (common practice, no source), before what has to be written on the
/// bottles and after it.
const CLEAN_UP: ([&str; 3], [&str; 2]) = (
    [
        "Gloves on again. Caps on, each on its own bottle.",
        "Rinse tank, lid, funnel, cylinder and thermometer. No household bleach.",
        "Reels stand open to dry: film sticks on a wet one.",
    ],
    [
        "What is spent: a labelled jug for each, never two together, never down the drain.",
        "Gloves off last, then wash your hands.",
    ],
);

/// What is left to do, a line each.
fn clean_up(store: Store, open: &OpenRun) -> Vec<Line> {
    let on = |solution: Record| {
        let rolls = told::rolls(&solution, &store.standing(&solution));
        [solution.text("name"), " ", &rolls].concat()
    };
    let counts: Vec<_> = open.poured(store).into_iter().map(on).collect();
    let counts = match counts.as_slice() {
        [] => "Write on each bottle how many rolls it has done.".to_owned(),
        counts => format!("Write on the bottles: {}.", counts.join("; ")),
    };
    let (before, after) = CLEAN_UP;
    let all = before.map(str::to_owned).into_iter().chain([counts]);
    let all = all.chain(after.map(str::to_owned)).map(Line::Quiet);
    std::iter::once(Line::Heading("Clean up".to_owned())).chain(all).collect()
}

fn lines(store: Store, id: &str) -> Vec<Line> {
    let Some(open) = store.kept_run(id) else {
        return vec![Line::Lead("There is no such run here.".to_owned())];
    };
    let session = open.record.record.text("session").to_owned();
    // In the order in which it is done.
    let mut lines = clean_up(store, &open);
    lines.extend([
        ask(store, &session, "Anything to change next time?", "next_time"),
        ask(store, &session, "Anything odd?", "odd"),
        ask(store, &session, "Colour of the pre-soak water", "pre_soak_colour"),
        Line::Heading("Rolls in this tank".to_owned()),
    ]);
    lines.extend(store.rolls_in(id).iter().map(|roll| Line::Row {
        is_here: false,
        label: title(roll),
        value: in_words(roll),
        more: String::new(),
        act: to(Route::RollEdit(roll.id().to_owned())),
    }));
    lines.extend(add_rolls(store, id));
    lines.extend(timeline(store, &open));
    lines.push(Line::Keys(vec![
        Press::new("SAVE A FILE", act(Store::save_notebook)).more("of the whole notebook"),
        Press::new("DONE", to(Route::Bench)).so(true),
    ]));
    lines.extend(handed(store));
    lines
}

/// A new roll that was in this tank, and those that wait: touched, they were in it.
pub fn add_rolls(store: Store, run: &str) -> Vec<Line> {
    let new = run.to_owned();
    let add = act(move |store| {
        let id = store.new_id();
        store.write_roll(&id, vec![("run", new.clone().into())]);
        store.go(Route::RollEdit(id));
    });
    let mut lines = vec![Line::Keys(vec![Press::new("ADD A ROLL", add).more("that was in it")])];
    let tick = |roll: &Record, so: bool| {
        let (id, run) = (roll.id().to_owned(), if so { Value::Null } else { run.into() });
        let act = act(move |store| store.change_record(&id, vec![("run", run.clone())]));
        Line::Tick { label: title(roll) + " was in it", value: in_words(roll), so, act }
    };
    lines.extend(store.rolls_in(run).iter().map(|roll| tick(roll, true)));
    lines.extend(waiting(store).iter().take(OFFERED).map(|roll| tick(roll, false)));
    lines
}

fn ask(store: Store, session: &str, name: &str, key: &'static str) -> Line {
    let value = store.record(session).map(|record| record.text(key).to_owned());
    let session = session.to_owned();
    let typing = if key == "pre_soak_colour" { Typing::Words } else { Typing::Long };
    let keep = write(move |store, typed| {
        let typed = Some(typed.trim()).filter(|typed| !typed.is_empty());
        store.change_record(&session, vec![(key, typed.into())]);
    });
    field(name, "", typing, &value.unwrap_or_default(), keep)
}
