//! Rolls: waiting, in hand and done; runs that no roll was written down for; what cannot be read.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::{Kind, Record, Value};
use session::order;
use session::rolls::{Listed, Only, Stage, find, listed, of_run, pushed, stage};
use session::run::Tank;

use super::desk::beside::is_here;
use super::desk::{Act, Desk, Line, Press, Typing, act, field, following, to, write};
use super::put_aside;
use crate::browser::events;
use crate::route::Route;
use crate::store::{KeptRun, OpenRun, Store};
use crate::text;

/// The list.
#[component]
pub fn Rolls() -> impl IntoView {
    view! { <Desk title="Rolls" here=Route::Rolls back=None lines=Arc::new(lines) /> }
}

/// So many rows are drawn at first, and with each tap for more.
const SCREENFUL: usize = 60;

/// The rolls that wait to be developed, the oldest first.
pub fn waiting(store: Store) -> Vec<Record> {
    order::by(store.rolls_at(Stage::Waiting), |roll| session::rolls::waits_since(roll).to_owned())
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
    let number = |field| roll.number(field).map(|number| text::decimal(number, 0));
    let frames = number("frames").map(|frames| frames + " frames").unwrap_or_default();
    let rated = number("rated_iso").map(|iso| format!("rated {iso}")).unwrap_or_default();
    let (rated, pushed) = (rated.as_str(), pushed(roll));
    let [stock, format, camera, lens, note] =
        ["stock", "format", "camera", "lens", "note"].map(|field| roll.text(field));
    let words = [stock, format, &frames, rated, pushed, camera, lens, note];
    let words: Vec<_> = words.into_iter().filter(|words| !words.trim().is_empty()).collect();
    // A long note is cut: the whole of it stands on the roll's own page.
    let words = words.join(", ");
    if words.chars().count() > 120 {
        words.chars().take(120).chain(['…']).collect()
    } else {
        words
    }
}

/// What stands in the list.
pub fn lines(store: Store) -> Vec<Line> {
    let new = act(|store| store.go(Route::RollEdit(store.new_id())));
    let mut lines = vec![Line::Keys(vec![
        Press::new("NEW ROLL", new).so(true),
        Press::new("TRIALS", to(Route::Trials)),
    ])];
    lines.extend(finder(store, Arc::new(|id| to(Route::Roll(id.to_owned())))));
    let in_rolls: Vec<String> = store.records.with(|records| {
        let rolls = records.iter().filter(|record| record.kind() == Kind::Roll);
        // One that was put aside has not left its run behind.
        let rolls = rolls.filter(|roll| !roll.text("run").is_empty());
        rolls.map(|roll| roll.text("run").to_owned()).collect()
    });
    store.kept.with(|kept| {
        let runs = kept.iter().filter_map(|kept| match kept {
            KeptRun::Readable(open) if !in_rolls.iter().any(|id| id == open.record.id()) => {
                Some(run_row(store, open))
            }
            KeptRun::Readable(_) | KeptRun::Unreadable { .. } => None,
        });
        let runs: Vec<_> = runs.collect();
        if !runs.is_empty() {
            lines.push(Line::Heading("Runs".to_owned()));
            lines.extend(runs);
        }
        if lines.len() == 1 {
            lines.push(Line::Lead("No roll yet.".to_owned()));
            lines.push(Line::Quiet("A run is kept here as it happens.".to_owned()));
        }
        lines.extend(kept.iter().flat_map(unreadable));
    });
    let aside = put_aside::those(store).len();
    if aside > 0 {
        lines.push(Line::Row {
            is_here: false,
            label: "Put aside".to_owned(),
            value: text::counted(aside, "thing"),
            more: String::new(),
            act: to(Route::PutAside),
        });
    }
    lines
}

/// What a row of a roll does, by the roll's id.
pub type Leads = Arc<dyn Fn(&str) -> Act + Send + Sync>;

/// A field to find rolls by, and the rolls that are found.
pub fn finder(store: Store, leads: Leads) -> Vec<Line> {
    let rolls = store.records.with(|records| {
        let runs: Vec<_> = store.kept.with(|kept| {
            let run = |kept: &KeptRun| match kept {
                KeptRun::Readable(open) => Some(of_run(
                    open.record.id(),
                    &open.run,
                    open.record.record.list("solutions"),
                    records,
                )),
                KeptRun::Unreadable { .. } => None,
            };
            kept.iter().filter_map(run).collect()
        });
        listed(records, &runs)
    });
    if rolls.is_empty() {
        return Vec::new();
    }
    let keyed = write(|store, typed| {
        store.finding.rolls.set(typed.to_owned());
        if store.finding.pages.get_untracked() != 1 {
            store.finding.pages.set(1);
        }
    });
    let about = "film, month, camera, fault, solution, trial";
    let typed = store.finding.rolls.get_untracked();
    let mut lines = vec![field("Find", about, Typing::Find, &typed, keyed)];
    let chosen = store.finding.only.get();
    let is_any = |choice| rolls.iter().any(|roll| roll.has(choice));
    // Where none of that kind is left, all are shown.
    let only =
        Only::ALL.get(chosen as usize).copied().filter(|only| is_any(*only)).unwrap_or(Only::All);
    let mut halves = Vec::new();
    for (number, choice) in (0..).zip(Only::ALL) {
        if is_any(choice) {
            let choose = act(move |store| {
                store.finding.only.set(number);
                store.finding.pages.set(1);
            });
            halves.push(Press::new(only_words(choice), choose).so(choice == only));
        }
    }
    // One kind of rolls is all of them.
    if halves.len() > 2 {
        lines.push(Line::Choice { name: "Show".to_owned(), about: String::new(), of: halves });
    }
    let pages = store.finding.pages.get();
    lines.push(following(move || found(store, &rolls, (only, pages), &leads)));
    lines
}

fn only_words(only: Only) -> &'static str {
    match only {
        Only::All => "All",
        Only::At(stage) => stage_words(stage),
        Only::Faulty => "Faults",
        Only::Tried => "Trials",
    }
}

fn stage_words(stage: Stage) -> &'static str {
    match stage {
        Stage::Waiting => "Waiting",
        Stage::InHand => "In hand",
        Stage::Done => "Done",
    }
}

fn found(store: Store, rolls: &[Listed], (only, pages): (Only, u32), leads: &Leads) -> Vec<Line> {
    let places = find(rolls, &store.finding.rolls.get(), only);
    let drawn = SCREENFUL * pages as usize;
    let count = places.len();
    let says = if count == rolls.len() { String::new() } else { format!("{count} found") };
    let mut lines = vec![Line::Count(says)];
    let mut last = None;
    store.records.with_untracked(|records| {
        for listed in places.iter().take(drawn).filter_map(|place| rolls.get(*place)) {
            let Some(roll) = records.get(listed.place) else { continue };
            if last != Some(listed.stage) {
                last = Some(listed.stage);
                lines.push(Line::Heading(stage_words(listed.stage).to_owned()));
            }
            lines.push(row(store, roll, leads(roll.id())));
        }
    });
    if count > drawn {
        let more = act(move |store| store.finding.pages.set(pages + 1));
        let more = Press::new("MORE", more).more(format!("{drawn} of {count} are shown"));
        lines.push(Line::Keys(vec![more]));
    }
    lines
}

fn row(store: Store, roll: &Record, act: Act) -> Line {
    let day = roll.text("exposed_on");
    let more = match stage(roll) {
        Stage::Waiting if !day.is_empty() => events::days_since(day).map_or_else(String::new, days),
        Stage::Waiting => String::new(),
        Stage::InHand | Stage::Done => last_mark(store, roll),
    };
    Line::Row {
        is_here: is_here(store, roll.id()),
        label: title(roll),
        value: judged(roll) + &in_words(roll),
        more,
        act,
    }
}

/// How a roll came out, before what is on it.
fn judged(roll: &Record) -> String {
    let words = [roll.text("density"), roll.text("judgement")].into_iter();
    words.filter(|words| !words.is_empty()).flat_map(|words| [words, "; "]).collect()
}

/// How many days ago, in words.
pub fn days(days: i64) -> String {
    if days == 0 { "today".to_owned() } else { text::in_days(days) }
}

/// The latest thing that was done with a roll.
fn last_mark(store: Store, roll: &Record) -> String {
    let marks =
        [("scanned", "scanned_at"), ("filed", "filed_at"), ("cut", "cut_at"), ("dry", "dry_at")];
    let mark = marks.into_iter().find_map(|(word, field)| Some((word, roll.instant(field)?)));
    let ended = || {
        let (is_hung, at) = store.hung_or_stopped(roll.text("run"))?;
        Some((if is_hung { "hung" } else { "stopped" }, at))
    };
    mark.or_else(ended).map_or_else(String::new, |(word, at)| {
        format!("{word} {}", events::date(at.milliseconds()))
    })
}

fn run_row(store: Store, open: &OpenRun) -> Line {
    let date = open.run.started_at().map(|at| events::date(at.milliseconds()));
    Line::Row {
        is_here: is_here(store, open.record.id()),
        label: date.unwrap_or_default(),
        value: sheet_name(open),
        more: in_short(open),
        act: to(Route::Roll(open.record.id().to_owned())),
    }
}

/// What the sheet of a run was called when it began.
pub fn sheet_name(open: &OpenRun) -> String {
    let plan = &open.run.plan;
    let name = if plan.sheet_name.is_empty() { &plan.sheet } else { &plan.sheet_name };
    text::sheet_name(name)
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

fn unreadable(kept: &KeptRun) -> Vec<Line> {
    let KeptRun::Unreadable { key, text } = kept else { return Vec::new() };
    let text = text.clone();
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
