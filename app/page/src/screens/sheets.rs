//! Sheets: what can be chosen, one of them, and where its values are from.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::agitation::Agitation;
use process_model::sheet::{Choice, Step};
use process_model::source::{Confidence, Source};
use session::habits::Convention;
use session::notebook::Named;
use session::sheets::{self, Drain, Known};

use super::desk::beside::is_here;
use super::desk::{BELOW, Desk, Line, Press, act, print, to};
use super::roll::conflicts;
use crate::browser::events;
use crate::route::Route;
use crate::store::{Backup, Store};
use crate::text;

/// The list.
#[component]
pub fn Sheets() -> impl IntoView {
    view! { <Desk title="Sheets" here=Route::Sheets back=None lines=Arc::new(list) /> }
}

/// What stands in the list.
pub fn list(store: Store) -> Vec<Line> {
    let chosen = store.habits.read().sheet.clone();
    let known = store.records.with(|records| sheets::all(records));
    let is_there = |key: &str| known.iter().any(|known| known.sheet.key == key);
    let last = store.last_run().map_or_else(|| chosen.clone(), |last| last.run.plan.sheet);
    let aside = !is_there(&chosen) || !is_there(&last);
    let row = |known: Known| {
        let more = match (known.sheet.key == chosen, known.can_start(), known.is_own()) {
            (true, _, _) => "in use".to_owned(),
            (false, false, _) => "compare it with your leaflet first".to_owned(),
            (false, true, true) => format!("yours, version {}", known.rev),
            (false, true, false) => String::new(),
        };
        let open = to(Route::Sheet(known.sheet.key.to_string()));
        Line::Row {
            is_here: is_here(store, known.sheet.key.as_ref()),
            label: temperature(&known),
            value: text::sheet_name(&known.sheet.name),
            more,
            act: open,
        }
    };
    let mut lines = vec![Line::Quiet(
        "A sheet is a process: its steps, times and temperatures. Your kit's leaflet comes first."
            .to_owned(),
    )];
    if aside {
        lines.push(Line::Said(
            "The sheet of last time was put aside. Choose another, or bring it back at the foot of Rolls."
                .to_owned(),
        ));
    }
    lines.extend(known.into_iter().map(row));
    lines
}

/// What the developer of a sheet aims at.
fn temperature(known: &Known) -> String {
    let developer = known.sheet.steps.iter().find(|step| step.is_developer());
    let aim = developer.and_then(|step| step.band.aim);
    aim.map(|aim| format!("{} {}", text::degrees(aim), text::unit())).unwrap_or_default()
}

/// One sheet.
#[component]
pub fn Sheet(
    /// Its key or id.
    key: String,
) -> impl IntoView {
    let lines = Arc::new(move |store| page(store, &key));
    view! { <Desk title="Sheet" here=Route::Sheets back=Some(("All sheets", Route::Sheets)) lines /> }
}

fn page(store: Store, key: &str) -> Vec<Line> {
    let known = store.sheet(key);
    if known.sheet.key != key || !store.records.with(|records| sheets::is_there(records, key)) {
        return vec![Line::Lead("There is no such sheet here.".to_owned())];
    }
    let mut lines =
        vec![Line::Lead(text::sheet_name(&known.sheet.name)), Line::Quiet(whence(&known))];
    lines.extend(store.record(key).iter().flat_map(conflicts));
    let head = ["Step", "time", text::unit()].map(str::to_owned).to_vec();
    lines.push(Line::Table(head, known.sheet.steps.iter().map(row).collect()));
    lines.push(Line::Heading("Agitation, and the sources".to_owned()));
    lines.extend(known.sheet.steps.iter().map(rhythm).map(Line::Quiet));
    lines.extend(rules(&known).into_iter().map(Line::Quiet));
    lines.extend(confirm(&known));
    lines.extend(keys(store, &known));
    if let Backup::Said(words) = store.backup.get() {
        lines.push(Line::Said(words));
    }
    lines.extend(versions(&known));
    lines
}

fn whence(known: &Known) -> String {
    match known.edited_at {
        Some(at) => {
            let note = Some(known.source_note.trim()).filter(|note| !note.is_empty());
            let date = events::date(at.milliseconds());
            format!("Version {} of {date}. {}", known.rev, note.unwrap_or("Your sheet."))
        }
        None => "Shipped with the page. Each value's source stands beside it.".to_owned(),
    }
}

fn row(step: &Step) -> Vec<String> {
    let time = text::passed(step.time.nominal.to_milliseconds());
    let least = text::passed(step.time.least.to_milliseconds());
    let time = if step.time.least < step.time.nominal {
        format!("{time}{BELOW}least {least}")
    } else {
        time
    };
    let band = text::range(step.band.least, step.band.most);
    let aim = step
        .band
        .aim
        .map_or(band.clone(), |aim| format!("{}{BELOW}{band}", text::short_degrees(aim)));
    let bath = text::bath(step.bath);
    let bath = match step.choice {
        Choice::Always => bath.to_owned(),
        Choice::OptionalOn | Choice::OptionalOff | Choice::Asked => {
            format!("{bath}{BELOW}optional")
        }
    };
    vec![bath, time, aim]
}

/// Where the values of a step are from, and how far they may be trusted.
fn sources(step: &Step) -> String {
    let names: Vec<_> = step.sources.iter().copied().map(Source::citation).collect();
    let trust = match step.confidence {
        Confidence::Low => "; doubtful",
        Confidence::Medium => "; usual",
        Confidence::High => "",
    };
    names.join("; ") + trust
}

/// Of the step that warms a rotary tank. Common practice, no source.
const DRY: &str = " Many leaflets turn the loaded tank dry in the tub instead: then take this step out of your copy, and warm it before the start.";

/// How the tank is moved in a step, and where all its values are from.
fn rhythm(step: &Step) -> String {
    let seconds = |seconds: process_model::quantity::Seconds| text::decimal(seconds.get(), 0);
    let how = match step.agitation {
        Agitation::Still => "still".to_owned(),
        Agitation::Once { first } => format!("first {} s, then still", seconds(first)),
        Agitation::Continuous => "without stopping".to_owned(),
        Agitation::Repeated { first, repeat, interval } => {
            let [first, repeat, interval] = [first, repeat, interval].map(seconds);
            format!("first {first} s, then {repeat} s every {interval} s")
        }
    };
    let or_dry = if step.id == "prewarm" { DRY } else { "" };
    format!("{}: {how}. Source: {}.{or_dry}", text::bath(step.bath), sources(step))
}

fn rules(known: &Known) -> Vec<String> {
    let clock = match known.convention {
        None => "The clock starts as Settings say.",
        Some(Convention::AsYouBegin) => "The clock starts as you begin pouring.",
        Some(Convention::WhenComplete) => "The clock starts when pouring is complete.",
    };
    let drain = match known.drain {
        Drain::Inside => "Times include pouring out.",
        Drain::Outside => "Times do not include pouring out.",
    };
    let mut rules = vec![format!("{clock} {drain} Agitation: {}.", known.method.file_name())];
    rules.extend(known.addition.map(|addition| {
        let [seconds, ml] =
            [addition.seconds, addition.per_ml].map(|value| text::decimal(value, 0));
        format!("Add {seconds} s to the developer for each roll before, in {ml} mL.")
    }));
    let pairs = known.sheet.pairs.iter().map(|(celsius, time)| {
        let time = text::passed(time.to_milliseconds());
        format!("{time} at {} {}", text::degrees(*celsius), text::unit())
    });
    let pairs: Vec<_> = pairs.collect();
    if !pairs.is_empty() {
        rules.push(format!("Developer: {}.", pairs.join(", ")));
    }
    rules
}

/// What must be compared with the leaflet, a tap each.
fn confirm(known: &Known) -> Vec<Line> {
    if known.is_own() || known.sheet.is_shipped_startable {
        return Vec::new();
    }
    let asked = Known { confirmed: Vec::new(), ..known.clone() }.unconfirmed();
    let line = |what: String| {
        let so = known.confirmed.contains(&what);
        let step = known.sheet.steps.iter().find(|step| step.id == what);
        let label = step.map_or("My leaflet says the same".to_owned(), |step| {
            let time = text::passed(step.time.nominal.to_milliseconds());
            format!("{}: my leaflet says {time} too", text::bath(step.bath))
        });
        let key = known.sheet.key.to_string();
        let confirm = act(move |store| store.confirm_sheet(&key, &what, !so));
        Line::Tick { label, value: String::new(), so, act: confirm }
    };
    let mut lines = vec![Line::Quiet(
        "These values are from memory in part. Compare them with your kit's leaflet before a roll."
            .to_owned(),
    )];
    lines.extend(asked.into_iter().map(line));
    lines
}

fn keys(store: Store, known: &Known) -> Vec<Line> {
    let key = known.sheet.key.to_string();
    let chosen = store.habits.read().sheet == key;
    let mut lines = Vec::new();
    if chosen {
        lines.push(Line::Quiet("In use: the next roll goes by it.".to_owned()));
    } else if known.can_start() {
        let sheet = key.clone();
        let take = act(move |store| store.change_habits(|habits| habits.sheet.clone_from(&sheet)));
        lines.push(Line::Keys(vec![Press::new("USE THIS SHEET", take).so(true)]));
    }
    let of = key.clone();
    let copy = act(move |store| store.copy_sheet(&of));
    let edit = if known.is_own() {
        Press::new("EDIT", to(Route::SheetEdit(key.clone())))
    } else {
        Press::new("EDIT A COPY", copy)
    };
    lines.push(Line::Keys(vec![
        edit,
        Press::new("PRACTISE", to(Route::Practise)).more("with water"),
        print(),
    ]));
    if let Some(record) = store.record(&key) {
        let save =
            act(move |store| store.save_record(record.clone(), "sinkside-sheet.json".to_owned()));
        let aside = act(move |store| store.put_sheet_aside(&key));
        lines.push(Line::Keys(vec![
            Press::new("SAVE A FILE", save).more("of this sheet"),
            Press::new("PUT ASIDE", aside).more("rolls keep theirs"),
        ]));
    }
    lines
}

fn versions(known: &Known) -> Vec<Line> {
    if known.versions.is_empty() {
        return Vec::new();
    }
    let row = |(rev, until, steps): &(u64, _, Vec<Step>)| {
        let until: &session::timestamp::Timestamp = until;
        let developer = steps.iter().find(|step| step.is_developer());
        let time = developer.map(|step| text::passed(step.time.nominal.to_milliseconds()));
        vec![format!("version {rev}"), events::date(until.milliseconds()), time.unwrap_or_default()]
    };
    vec![
        Line::Heading("Earlier versions".to_owned()),
        Line::Table(
            ["Version", "in use until", "developer"].map(str::to_owned).to_vec(),
            known.versions.iter().map(row).collect(),
        ),
    ]
}
