//! What is next, one row each: only what there is something to say about.

use leptos::prelude::*;
use session::habits::Habits;
use session::notebook::{Kind, Record};
use session::order;
use session::rolls::Stage;
use session::trial;

use crate::browser::events;
use crate::parts::pic::{Pic, picture};
use crate::parts::{all, anew, el, made, press, words};
use crate::route::Route;
use crate::screens::primer::read;
use crate::screens::rolls::{days, title, waiting};
use crate::screens::trials::question;
use crate::screens::{on_press, store};
use crate::store::{KeptRun, Store};
use crate::text::{self, counted, in_days};

/// A film hangs for so long at most; after that nobody waits for it to dry.
const HANGS_MS: i64 = 48 * 3_600_000;

/// What a row is about, what it says, and where it leads.
type Row = (&'static str, String, Route);

/// The rows.
pub(super) fn ledger() -> AnyView {
    let store = store();
    let drawn = move || {
        let row = |(label, value, route): Row| {
            let to = on_press(move |store| store.go(route.clone()));
            let class = Signal::stored("ledger__row".to_owned());
            let value = el("span", "ledger__value", vec![made(value)]);
            let go = picture(Pic::Go, "pic--go");
            press(class, vec![words("span", "label", label), value, go], to)
        };
        all(rows(store).into_iter().map(row).collect())
    };
    el("div", "ledger", vec![anew(drawn)])
}

fn rows(store: Store) -> Vec<Row> {
    let mut rows = Vec::new();
    rows.extend(last_time(store));
    let waiting = waiting(store);
    if !waiting.is_empty() {
        // One of which nobody knows the day has no age.
        let age = waiting.iter().find_map(|roll| events::days_since(roll.text("exposed_on")));
        let age = age.map(|age| format!(", oldest {}", days(age))).unwrap_or_default();
        rows.push(("Waiting", counted(waiting.len(), "roll") + &age, Route::Rolls));
    }
    rows.extend(hanging(store));
    let shelf = crate::screens::shelf::on_the_bench(store);
    rows.extend(shelf.into_iter().map(|said| ("Shelf", said, Route::Shelf)));
    rows.extend(trials(store));
    rows.extend(kept(store));
    let first = store.is_new();
    if first && !store.is_live() {
        rows.extend(for_the_first_time());
    }
    let habits = store.habits.read();
    if first && *habits == Habits::default() {
        return rows;
    }
    let yours = format!(
        "in {}\u{a0}s, out {}\u{a0}s, lead-in\u{a0}{}\u{a0}s",
        habits.fill_s, habits.drain_s, habits.lead_in_s
    );
    rows.push(("Habits", yours, Route::Settings));
    rows
}

/// What helps a newcomer, and nobody else.
fn for_the_first_time() -> Vec<Row> {
    let to = |part| read(part, &Route::Bench);
    let mut rows = vec![("First time", "the whole job in two pages".to_owned(), to("job"))];
    match events::is_from_home() {
        // What is kept in a tab would not be found from the home screen.
        Some(false) => {
            let why = "add it to the home screen first: it keeps a notebook of its own";
            rows.push(("The phone", why.to_owned(), to("phone")));
        }
        Some(true) => {
            let why = "had one in a tab? Save its file there, read it here";
            rows.push(("Notebook", why.to_owned(), Route::Settings));
        }
        None => {}
    }
    rows
}

/// What the person wanted to change next time, in their own words; else what they found odd.
fn last_time(store: Store) -> Option<Row> {
    let sessions = store.records_of(Kind::Session);
    let last = order::by(sessions, |session| session.text("began_at").to_owned()).pop()?;
    let words = ["next_time", "odd"].into_iter().map(|field| last.text(field));
    let run = store.last_run()?;
    let rolls = store.rolls_in(run.record.id());
    // What was written over the negatives, days later, is worth as much.
    let mut words = words.chain(rolls.iter().map(|roll| roll.text("next_time")));
    let wanted = words.find(|words| !words.is_empty())?;
    let of = rolls.first().map_or(run.record.id(), Record::id).to_owned();
    Some(("Last time", format!("You wrote: {wanted}"), Route::Roll(of)))
}

/// Rolls that dry, and rolls that wait to be scanned.
fn hanging(store: Store) -> Vec<Row> {
    let now = store.wall_now();
    let mut scans: Vec<Record> = Vec::new();
    let mut rows = Vec::new();
    for roll in store.rolls_at(Stage::InHand) {
        let is = |field| !roll.text(field).is_empty();
        let handled = is("dry_at") || is("cut_at");
        let hangs = match store.hung_or_stopped(roll.text("run")).filter(|_| !handled) {
            Some((true, at)) => Some(now.since_ms(at)).filter(|hangs| *hangs < HANGS_MS),
            // In the tank, or in a run that was stopped: there is nothing to scan yet.
            Some((false, _)) => continue,
            None if !handled && store.is_in_the_tank(&roll) => continue,
            None => None,
        };
        let Some(hangs) = hangs else {
            scans.push(roll);
            continue;
        };
        let since = format!("{}, hung {}", title(&roll), text::hours(hangs));
        rows.push(("Drying", since, Route::Roll(roll.id().to_owned())));
    }
    match scans.as_slice() {
        [] => {}
        [roll] => rows.push(("To scan", title(roll), Route::Roll(roll.id().to_owned()))),
        many => rows.push(("To scan", counted(many.len(), "roll"), Route::Rolls)),
    }
    rows
}

fn trials(store: Store) -> Option<Row> {
    let today = events::iso_day(store.wall_now());
    let mut due = store.records_of(Kind::Trial);
    let offset_ms = events::offset_ms();
    due.retain(|one| trial::is_due(one, &today, offset_ms));
    match due.as_slice() {
        [] => None,
        [one] => Some(("Look again", question(one), Route::Trial(one.id().to_owned()))),
        many => Some(("Look again", counted(many.len(), "trial"), Route::Trials)),
    }
}

/// What is in the notebook, and whether it is anywhere else.
fn kept(store: Store) -> Vec<Row> {
    let kept = store.kept.read();
    let is_readable = |run: &&KeptRun| matches!(run, KeptRun::Readable(_));
    let readable = kept.iter().filter(is_readable).count();
    let mut rows = Vec::new();
    if let Some(last) = store.last_run() {
        let last = last.run.started_at().map(|at| events::date(at.milliseconds()));
        let words = format!("{}, last {}", counted(readable, "run"), last.unwrap_or_default());
        rows.push(("Rolls", words, Route::Rolls));
    }
    if kept.len() != readable {
        let words = format!("{} to save as text", kept.len() - readable);
        rows.push(("Unreadable", words, Route::Rolls));
    }
    let saved = store.file_saved.get().map(|at| events::days_between(at, store.wall_now()));
    let saved = saved.map(|days| match days {
        0 => "last file today".to_owned(),
        days => format!("last file {} ago", in_days(days)),
    });
    let unsaved = store.unsaved_sessions();
    if unsaved > 1 {
        let saved = saved.unwrap_or_else(|| "no file yet".to_owned());
        let words = format!("{} not in a file: {saved}", counted(unsaved, "session"));
        rows.push(("Backup", words, Route::Settings));
    } else if let Some(saved) = saved {
        rows.push(("Backup", saved, Route::Settings));
    }
    rows
}
