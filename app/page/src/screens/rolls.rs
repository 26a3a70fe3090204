//! Rolls: waiting, in hand and done; runs that no roll was written down for; what cannot be read.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::{Kind, Record, Value};
use session::order;
use session::run::Tank;

use super::desk::{Desk, Line, Press, act, to};
use crate::browser::events;
use crate::route::Route;
use crate::store::{KeptRun, OpenRun, Store};
use crate::text;

/// The list.
#[component]
pub fn Rolls() -> impl IntoView {
    view! { <Desk title="Rolls" here=Route::Rolls back=None lines=Arc::new(lines) /> }
}

/// Where a roll is on its way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Waiting,
    InHand,
    Done,
}

fn stage(roll: &Record) -> Stage {
    match (roll.text("run"), roll.instant("scanned_at"), roll.instant("filed_at")) {
        ("", None, None) => Stage::Waiting,
        (_, None, None) => Stage::InHand,
        (_, Some(_), _) | (_, _, Some(_)) => Stage::Done,
    }
}

/// The rolls that wait to be developed, the oldest first.
pub fn waiting(store: Store) -> Vec<Record> {
    let mut rolls = store.records_of(Kind::Roll);
    rolls.retain(|roll| stage(roll) == Stage::Waiting);
    order::by(rolls, |roll| roll.text("exposed_on").to_owned())
}

/// What a roll is called.
pub fn title(roll: &Record) -> String {
    match roll.value("number").and_then(Value::as_u64) {
        Some(number) => format!("Roll {number}"),
        None => "Roll".to_owned(),
    }
}

/// What is on a roll, in a few words.
pub fn in_words(roll: &Record) -> String {
    let iso = |field| roll.number(field).map(|iso| text::decimal(iso, 0));
    let rated = iso("rated_iso").map(|iso| format!("rated {iso}"));
    let texts = ["stock", "format", "camera", "note"].map(|field| roll.text(field).to_owned());
    let [stock, format, camera, note] = texts;
    let words = [stock, format, rated.unwrap_or_default(), camera, note];
    let words: Vec<_> = words.into_iter().filter(|words| !words.trim().is_empty()).collect();
    // A long note is cut: the whole of it stands on the roll's own page.
    let words = words.join(", ");
    if words.chars().count() > 120 {
        words.chars().take(120).chain(['…']).collect()
    } else {
        words
    }
}

fn lines(store: Store) -> Vec<Line> {
    let new = act(|store| store.go(Route::RollEdit(store.new_id())));
    let mut lines = vec![Line::Keys(vec![
        Press::new("NEW ROLL", new).so(true),
        Press::new("TRIALS", to(Route::Trials)),
    ])];
    let kept = store.kept.get();
    let number = |roll: &Record| roll.value("number").and_then(Value::as_u64).unwrap_or_default();
    let mut rolls = order::by(store.records_of(Kind::Roll), |roll| order::number(number(roll)));
    rolls.reverse();
    let mut group = |name: &str, rows: Vec<Line>| {
        if !rows.is_empty() {
            lines.push(Line::Heading(name.to_owned()));
            lines.extend(rows);
        }
    };
    group("Waiting", waiting(store).iter().map(|roll| row(store, roll)).collect());
    for (name, of) in [("In hand", Stage::InHand), ("Done", Stage::Done)] {
        let rolls = rolls.iter().filter(|roll| stage(roll) == of);
        group(name, rolls.map(|roll| row(store, roll)).collect());
    }
    let has_roll = |id: &str| rolls.iter().any(|roll| roll.text("run") == id);
    let runs = kept.iter().filter_map(|kept| match kept {
        KeptRun::Readable(open) if !has_roll(open.record.id()) => Some(run_row(open)),
        KeptRun::Readable(_) | KeptRun::Unreadable { .. } => None,
    });
    group("Runs", runs.collect());
    let is_empty = lines.len() == 1;
    if is_empty {
        lines.push(Line::Lead("No run has been kept yet.".to_owned()));
        lines.push(Line::Quiet("A run is kept here as it happens, tap by tap.".to_owned()));
    }
    lines.extend(kept.into_iter().flat_map(unreadable));
    lines
}

fn row(store: Store, roll: &Record) -> Line {
    let day = roll.text("exposed_on");
    let more = match stage(roll) {
        Stage::Waiting if !day.is_empty() => events::days_since(day).map_or_else(String::new, days),
        Stage::Waiting => String::new(),
        Stage::InHand | Stage::Done => last_mark(store, roll),
    };
    Line::Row {
        label: title(roll),
        value: in_words(roll),
        more,
        act: to(Route::Roll(roll.id().to_owned())),
    }
}

fn days(days: i64) -> String {
    match days {
        0 => "today".to_owned(),
        1 => "1 day".to_owned(),
        days => format!("{days} days"),
    }
}

/// The latest thing that was done with a roll.
fn last_mark(store: Store, roll: &Record) -> String {
    let marks =
        [("scanned", "scanned_at"), ("filed", "filed_at"), ("cut", "cut_at"), ("dry", "dry_at")];
    let mark = marks.into_iter().find_map(|(word, field)| Some((word, roll.instant(field)?)));
    let hung = || {
        let open = store.kept_run(roll.text("run"))?;
        let (Tank::Done { at } | Tank::Left { at }) = open.run.state.tank else { return None };
        Some(("hung", at))
    };
    mark.or_else(hung).map_or_else(String::new, |(word, at)| {
        format!("{word} {}", events::date(at.milliseconds()))
    })
}

fn run_row(open: &OpenRun) -> Line {
    let date = open.run.started_at().map(|at| events::date(at.milliseconds()));
    Line::Row {
        label: date.unwrap_or_default(),
        value: sheet_name(open),
        more: in_short(open),
        act: to(Route::Roll(open.record.id().to_owned())),
    }
}

/// What the sheet of a run was called when it began.
pub fn sheet_name(open: &OpenRun) -> String {
    let plan = &open.run.plan;
    if plan.sheet_name.is_empty() { plan.sheet.clone() } else { plan.sheet_name.clone() }
}

/// A run in a line: how it ended, and the developer planned and actual.
fn in_short(open: &OpenRun) -> String {
    let how = match open.run.state.tank {
        Tank::Done { .. } => "finished",
        Tank::Left { .. } => "stopped",
        Tank::Ready | Tank::Bath { .. } | Tank::Asking { .. } => "not finished",
    };
    let steps = open.run.plan.steps.iter().enumerate();
    let developer = steps.filter(|(_, step)| step.is_developer()).find_map(|(index, step)| {
        let clock = open.run.step_clock(index)?;
        let actual = open.run.state.actual.get(index)?;
        let zero = clock.zero(actual.poured_at?);
        let took = actual.out_at?.since_ms(zero);
        Some(format!(", developer {} of {}", text::nearest(took), text::passed(step.time_ms)))
    });
    how.to_owned() + &developer.unwrap_or_default()
}

fn unreadable(kept: KeptRun) -> Vec<Line> {
    let KeptRun::Unreadable { key, text } = kept else { return Vec::new() };
    let name = format!("sinkside-unreadable-{}.txt", key.replace('/', "-"));
    let shown: String = text.chars().take(400).collect();
    let save = act(move |store| store.save(&name, &text));
    vec![
        Line::Heading("Unreadable".to_owned()),
        Line::Quiet("This record cannot be read. Save its text; everything else works.".to_owned()),
        Line::Raw(shown),
        Line::Keys(vec![Press::new("SAVE THE TEXT", save)]),
    ]
}
