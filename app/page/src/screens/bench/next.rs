//! What is next, one row each: only what there is something to say about.

use leptos::prelude::*;
use session::habits::Habits;
use session::notebook::{Kind, Record};
use session::order;
use session::rolls::Stage;
use session::run::Tank;
use session::timestamp::Timestamp;
use session::trial;

use crate::browser::events;
use crate::parts::pic::{Pic, picture};
use crate::parts::{all, anew, el, made, press, words};
use crate::route::Route;
use crate::screens::primer::read;
use crate::screens::rolls::{title, waiting};
use crate::screens::trials::question;
use crate::screens::{on_press, store};
use crate::store::{KeptRun, Store};
use crate::text;

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
    if let Some(oldest) = waiting.first() {
        let age = events::days_since(oldest.text("exposed_on"));
        let age = age.map(|days| format!(", oldest {days} days")).unwrap_or_default();
        rows.push(("Waiting", counted(waiting.len(), "roll") + &age, Route::Rolls));
    }
    rows.extend(hanging(store));
    let shelf = crate::screens::shelf::on_the_bench(store);
    if !shelf.is_empty() {
        rows.push(("Shelf", shelf, Route::Shelf));
    }
    rows.extend(trials(store));
    rows.extend(kept(store));
    let first = store.loaded.get() && store.kept.read().is_empty();
    if first {
        rows.extend(for_the_first_time());
    }
    let habits = store.habits.read();
    if first && *habits == Habits::default() {
        return rows;
    }
    let yours = format!(
        "fill {} s, drain {} s, lead-in {} s",
        habits.fill_s, habits.drain_s, habits.lead_in_s
    );
    rows.push(("Yours", yours, Route::Settings));
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

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

/// What the person wanted to change next time, in their own words.
fn last_time(store: Store) -> Option<Row> {
    let sessions = store.records_of(Kind::Session);
    let last = order::by(sessions, |session| session.text("began_at").to_owned()).pop()?;
    let wanted = last.text("next_time");
    let run = store.last_run().filter(|_| !wanted.is_empty())?;
    Some(("Last time", format!("You wrote: {wanted}"), Route::Roll(run.record.id().to_owned())))
}

/// Rolls that dry, and rolls that wait to be scanned.
fn hanging(store: Store) -> Vec<Row> {
    let now = store.wall_now();
    let mut scans: Vec<Record> = Vec::new();
    let mut rows = Vec::new();
    for roll in store.rolls_at(Stage::InHand) {
        let is = |field| !roll.text(field).is_empty();
        if is("dry_at") || is("cut_at") {
            scans.push(roll);
            continue;
        }
        let hangs = hung(store, &roll).map(|hung| now.since_ms(hung));
        if let Some(hangs) = hangs.filter(|hangs| *hangs < HANGS_MS) {
            let since = format!("{}, hung {}", title(&roll), text::hours(hangs));
            rows.push(("Drying", since, Route::Roll(roll.id().to_owned())));
        }
    }
    match scans.as_slice() {
        [] => {}
        [roll] => rows.push(("To scan", title(roll), Route::Roll(roll.id().to_owned()))),
        many => rows.push(("To scan", counted(many.len(), "roll"), Route::Rolls)),
    }
    rows
}

/// When a roll was hung.
fn hung(store: Store, roll: &Record) -> Option<Timestamp> {
    match store.kept_run(roll.text("run"))?.run.state.tank {
        Tank::Done { at } => Some(at),
        Tank::Ready | Tank::Bath { .. } | Tank::Asking { .. } | Tank::Left { .. } => None,
    }
}

fn trials(store: Store) -> Option<Row> {
    let today = events::iso_day(store.wall_now());
    let mut due = store.records_of(Kind::Trial);
    due.retain(|one| trial::is_due(one, &today));
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
    let unsaved = store.unsaved_runs();
    if unsaved > 1 {
        let saved = store.file_saved.get().map(events::iso_day);
        let saved = saved.and_then(|day| events::days_since(&day));
        let saved = saved.map(|days| format!(", last {days} days ago")).unwrap_or_default();
        rows.push(("Backup", format!("{unsaved} runs not in a file yet{saved}"), Route::Settings));
    }
    rows
}
