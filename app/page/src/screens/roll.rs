//! A roll: what is on it, how its run went, what became of it. Or a run that has no roll yet.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::printed::faults;
use process_model::quantity::Celsius;
use session::Run;
use session::notebook::{self, Kind, Record};
use session::plan::PlannedStep;
use session::rolls::days_left;
use session::timestamp::Timestamp;

use super::desk::{Desk, Line, Press, act, handed, print, to};
use super::put_aside::bring_back;
use super::rolls::{in_words, sheet_name, title};
use super::trials::question;
use super::write_up::add_rolls;
use super::{photos, run_chart, seen};
use crate::browser::events;
use crate::route::Route;
use crate::store::{OpenRun, Store};
use crate::text::{self, in_days, shelf as told};

/// One roll, or one run.
#[component]
pub fn Roll(
    /// The id of either.
    id: String,
) -> impl IntoView {
    let lines = Arc::new(move |store| lines(store, &id));
    view! { <Desk title="Roll" here=Route::Rolls back=Some(("All rolls", Route::Rolls)) lines /> }
}

fn lines(store: Store, id: &str) -> Vec<Line> {
    let is_there = |roll: &Record| {
        roll.kind() == Kind::Roll
            && (!roll.is_deleted() || days_left(roll, store.wall_now()).is_some())
    };
    let roll = store.record(id).filter(is_there);
    let run = store.kept_run(roll.as_ref().map_or(id, |roll| roll.text("run")));
    if roll.is_none() && run.is_none() {
        return vec![Line::Lead("There is no such roll here.".to_owned())];
    }
    let mut lines = Vec::new();
    if let Some(roll) = &roll {
        lines.extend(head(store, roll));
    }
    if let Some(open) = &run {
        lines.extend(timeline(store, open));
    }
    match (&roll, &run) {
        (Some(roll), _) if roll.is_deleted() => {}
        (Some(roll), _) => {
            lines.extend(photos::on(store, roll));
            lines.extend(marks(roll));
        }
        (None, Some(open)) => {
            lines.push(Line::Heading("Which roll was it?".to_owned()));
            lines.extend(add_rolls(store, open.record.id()));
        }
        (None, None) => {}
    }
    if let Some(open) = &run {
        lines.extend(file(store, open));
    }
    lines
}

/// What a roll is called, what is on it, and how it came out.
fn told(roll: &Record) -> Vec<Line> {
    let mut lines = vec![Line::Lead(title(roll))];
    let words = in_words(roll);
    if !words.is_empty() {
        lines.push(Line::Quiet(words));
    }
    for (name, field) in [
        ("Out of the camera", "exposed_on"),
        ("Came out", "judgement"),
        ("Density", "density"),
        ("Next time", "next_time"),
        ("Filed as", "filed_as"),
    ] {
        if !roll.text(field).is_empty() {
            lines.push(Line::Quiet(format!("{name}: {}", roll.text(field))));
        }
    }
    lines
}

/// A roll and its run, or a run alone, as they are printed among others.
pub fn on_paper(store: Store, id: &str) -> Vec<Line> {
    let roll = store.record(id);
    let mut lines = roll.as_ref().map(told).unwrap_or_default();
    if let Some(roll) = &roll {
        lines.extend(
            faults()
                .filter(|fault| seen::has(roll, fault))
                .map(|fault| Line::Quiet(format!("Seen on it: {}", fault.seen))),
        );
    }
    if let Some(open) = store.kept_run(roll.as_ref().map_or(id, |roll| roll.text("run"))) {
        lines.extend(timeline(store, &open));
    }
    for (label, field) in MARKS {
        if let Some(at) = roll.as_ref().and_then(|roll| roll.instant(field)) {
            lines.push(Line::Quiet([label, ": ", &events::date(at.milliseconds())].concat()));
        }
    }
    lines
}

fn head(store: Store, roll: &Record) -> Vec<Line> {
    let id = roll.id().to_owned();
    let mut lines = told(roll);
    if roll.is_deleted() {
        let left = days_left(roll, store.wall_now()).map(in_days).unwrap_or_default();
        lines.push(Line::Said(format!("Put aside. It can be brought back for {left}.")));
        let undo = Press::new("UNDO", bring_back(id)).more("bring it back");
        lines.push(Line::Keys(vec![undo.so(true)]));
        return lines;
    }
    lines.extend(conflicts(roll));
    lines.push(Line::Keys(vec![
        Press::new("EDIT", to(Route::RollEdit(id.clone()))),
        Press::new("COMPARE", to(Route::Compare(id, String::new()))).more("with another roll"),
        print(),
    ]));
    lines.extend(seen::on(store, roll));
    for trial in store.records_of(Kind::Trial) {
        if trial.list("rolls").iter().any(|id| id.as_str() == Some(roll.id())) {
            lines.push(Line::Row {
                is_here: false,
                label: "Trial".to_owned(),
                value: question(&trial),
                more: String::new(),
                act: to(Route::Trial(trial.id().to_owned())),
            });
        }
    }
    lines
}

/// Other versions of a record that were edited apart from this one.
pub fn conflicts(record: &Record) -> Vec<Line> {
    if record.conflicts().is_empty() {
        return Vec::new();
    }
    let id = record.id().to_owned();
    let others: Vec<_> = record.conflicts().iter().map(notebook::text).collect();
    let keep = act(move |store| store.settle_record(&id));
    vec![
        Line::Said(
            "This was changed on two devices. Both versions are kept; this one is shown."
                .to_owned(),
        ),
        Line::Raw(others.join("\n")),
        Line::Keys(vec![Press::new("KEEP WHAT IS SHOWN", keep)]),
    ]
}

/// The run of a tank: planned and actual, readings and faults.
pub fn timeline(store: Store, open: &OpenRun) -> Vec<Line> {
    let run = &open.run;
    let began = run
        .started_at()
        .map(|at| format!("{}, {}", events::date(at.milliseconds()), text::hour_minute(at)));
    let version = if run.plan.sheet_rev > 0 {
        format!(", version {}", run.plan.sheet_rev)
    } else {
        String::new()
    };
    let head = ["Step", "planned", "actual"].map(str::to_owned).to_vec();
    let rows = run.plan.steps.iter().enumerate();
    let rows = rows.map(|(index, step)| step_row(run, index, step)).collect();
    let readings = run.state.readings.iter().map(|reading| {
        let doubt = if reading.doubted { ", doubted" } else { "" };
        let value = text::degrees(reading.celsius);
        let what = format!("{} {value} {}{doubt}", text::place(reading.place), text::unit());
        line(reading.at, what)
    });
    let faults =
        run.state.faults.iter().map(|(at, fault)| line(*at, text::fault(*fault).to_owned()));
    let mut notes: Vec<_> = readings.chain(faults).collect();
    if notes.is_empty() {
        notes.push("None were noted.".to_owned());
    }
    let mut lines = vec![
        Line::Lead(format!("{}{version}", sheet_name(open))),
        Line::Quiet(began.unwrap_or_default()),
        Line::Table(head, rows),
    ];
    lines.extend(amounts(store, run).map(Line::Quiet));
    lines.extend(solutions(store, open).into_iter().map(|(_, said)| Line::Quiet(said)));
    lines.extend(run_chart::of(run));
    lines.extend([Line::Heading("Readings and faults".to_owned())]);
    lines.extend(notes.into_iter().map(Line::Quiet));
    if let Some(session) = store.record(open.record.record.text("session")) {
        let asked =
            [("Next time", "next_time"), ("Odd", "odd"), ("Pre-soak water", "pre_soak_colour")];
        let told = asked.into_iter().filter(|(_, field)| !session.text(field).is_empty());
        lines.extend(
            told.map(|(name, field)| Line::Quiet(format!("{name}: {}", session.text(field)))),
        );
    }
    lines
}

/// What a developer amounted to, and what that comes from.
pub fn amounts(store: Store, run: &Run) -> Option<String> {
    let index = run.plan.steps.iter().position(PlannedStep::is_developer)?;
    let out_at = run.state.actual.get(index)?.out_at?;
    let aim = run.plan.steps.get(index)?.aim?;
    let known = store.developing_of(run, index, out_at)?;
    let from = match known.readings {
        // Of what nobody has read nothing is said.
        0 if !known.read.0 => return None,
        0 if !known.read.1 => "computed from the bottle; the tub was not read".to_owned(),
        0 => "computed from the bottle and the tub".to_owned(),
        1 => "from one reading in the tank".to_owned(),
        count => format!("from {count} readings in the tank"),
    };
    let equivalent = text::nearest(session::evening::milliseconds(known.equivalent_s));
    let unit = text::unit();
    let mean = text::degrees(Celsius::new(known.course.mean_c));
    Some(format!(
        "Estimate: it developed as much as {equivalent} at {} {unit}; its mean was {mean} {unit}, {from}.",
        text::degrees(aim)
    ))
}

/// The solutions of a run as they stood before it: what each is used as, and a sentence.
pub fn solutions(store: Store, open: &OpenRun) -> Vec<(String, String)> {
    let Some(began) = open.run.started_at() else { return Vec::new() };
    let said = |solution: Record| {
        let standing = store.standing_at(&solution, began);
        let (age, rolls) = (told::age(&standing, began), told::rolls(&solution, &standing));
        let name = solution.text("name").to_owned();
        let said = format!("{name}: {age}, {rolls} before.");
        (name, said)
    };
    open.poured(store).into_iter().map(said).collect()
}

fn line(at: Timestamp, words: String) -> String {
    format!("{} {words}", text::clock_time(at))
}

/// Planned and actual of one step, and by how much it was over or under.
pub fn step_row(run: &Run, index: usize, step: &PlannedStep) -> Vec<String> {
    let actual = run.state.actual.get(index).copied().unwrap_or_default();
    let clock = run.step_clock(index);
    let last_wash = run.plan.is_last_wash(index);
    let took = actual.poured_at.zip(actual.out_at).map(|(poured, out)| {
        let zero =
            clock.map_or(poured, |clock| if last_wash { poured } else { clock.zero(poured) });
        out.since_ms(zero)
    });
    let planned = if last_wash {
        format!("{} or more", text::passed(step.least_ms))
    } else {
        text::passed(step.time_ms)
    };
    let said = match took {
        _ if actual.left_out => "left out".to_owned(),
        Some(took) => text::nearest(took),
        None if actual.poured_at.is_some() => "not ended".to_owned(),
        None => "–".to_owned(),
    };
    let off =
        took.filter(|_| !last_wash).map(|took| format!(" {}", text::off_by(took - step.time_ms)));
    let below = took.is_some_and(|took| last_wash && took < step.least_ms);
    let below =
        below.then(|| format!(" stopped below the sheet's {}", text::passed(step.least_ms)));
    let said = said + &off.unwrap_or_default() + &below.unwrap_or_default();
    vec![text::bath(step.bath).to_owned(), planned, said]
}

/// What becomes of a roll, and the field that says when.
const MARKS: [(&str, &str); 4] =
    [("Dry", "dry_at"), ("Cut", "cut_at"), ("Filed", "filed_at"), ("Scanned", "scanned_at")];

/// What became of a roll, each a tap.
fn marks(roll: &Record) -> Vec<Line> {
    let mut lines = vec![Line::Heading("What became of it".to_owned())];
    for (label, field) in MARKS {
        let (id, at) = (roll.id().to_owned(), roll.instant(field));
        let mark = act(move |store| {
            let now = if at.is_some() { None } else { Some(store.wall_now().to_iso()) };
            store.change_record(&id, vec![(field, now.into())]);
        });
        let value = at.map(|at| events::date(at.milliseconds())).unwrap_or_default();
        lines.push(Line::Tick { label: label.to_owned(), value, so: at.is_some(), act: mark });
    }
    let id = roll.id().to_owned();
    let aside = act(move |store| store.change_record(&id, vec![("deleted", true.into())]));
    lines.push(Line::Keys(vec![Press::new("PUT ASIDE", aside).more("it can be undone")]));
    lines
}

/// The run as a file.
fn file(store: Store, open: &OpenRun) -> Vec<Line> {
    let (name, json) = (open.file_name(), open.file(store.wall_now()));
    let shown = json.clone();
    let copied = json.clone();
    let id = open.record.id().to_owned();
    let table = act(move |store| store.save_log_table(&id));
    let mut lines = vec![
        Line::Heading("The file".to_owned()),
        Line::Keys(vec![
            Press::new("WRITE-UP", to(Route::WriteUp(open.record.id().to_owned()))),
            Press::new("TABLE", table).more("as CSV"),
            Press::new("SAVE", act(move |store| store.save(&name, &json))).more("as JSON"),
            Press::new("COPY", act(move |store| store.copy(copied.clone()))).more("as text"),
        ]),
    ];
    if !store.copied.get().is_empty() {
        lines.push(Line::Said(store.copied.get().to_owned()));
    }
    lines.extend(handed(store));
    lines.push(Line::Folded(shown));
    lines
}
