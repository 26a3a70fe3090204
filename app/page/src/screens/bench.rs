//! Bench: what is next, what is running, what is there.

mod next;

use leptos::prelude::*;
use session::run::Tank;

use super::desk::beside::last_run;
use super::run::{of_step, strip_time};
use super::{on_press, store};
use crate::parts::pic::{Pic, picture};
use crate::parts::{
    alert, button, changing, either, el, el_with, fixed, key, key_more, live, plain, press, said,
    shown, whether, words,
};
use crate::ports::Offline;
use crate::route::Route;
use crate::store::Store;
use crate::text;

/// The front page.
#[component]
pub fn Bench() -> impl IntoView {
    let store = store();
    let live = Memo::new(move |_| {
        let open = store.run.read();
        open.as_ref().is_some_and(|open| open.run.state.tank != Tank::Ready)
    });
    let first = move || store.is_new() && !live.get();
    let mut body = vec![
        el("header", "head", vec![words("h1", "head__title", "Bench")]),
        super::desk::demo(),
        update(),
        shown(first, for_the_first_time),
        either(move || live.get(), running, develop),
        shown(move || !live.get(), move || practise(whether(first))),
    ];
    body.push(next::ledger());
    body.extend(ready());
    let page = el("main", "desk__body desk__body--bench", body);
    el("div", "desk", vec![page, bar(&Route::Bench), last_run(store)])
}

fn for_the_first_time() -> AnyView {
    let pics = [Pic::Tub, Pic::Thermometer, Pic::Hanger].map(|pic| picture(pic, ""));
    let what = "Sinkside keeps the time, aloud, while you develop colour film at a sink.";
    el("div", "first", vec![el("p", "first__pics", pics.into()), words("p", "lead", what)])
}

/// The one large key of the page.
fn large(says: &'static str, more: Signal<String>, on_press: Callback<()>) -> AnyView {
    let more = el("span", "key__more", vec![changing(more)]);
    let says = el("span", "develop__words", vec![plain(says), more]);
    let class = Signal::stored("key key--next develop".to_owned());
    press(class, vec![picture(Pic::Tank, ""), says], on_press)
}

/// The one thing to do when nothing runs.
fn develop() -> AnyView {
    let store = store();
    let begin = on_press(|store: Store| {
        let instead = untrack(|| store.instead_of_a_run(&store.habits.read_untracked().sheet));
        let first = Route::LayOut(usize::from(store.cautions_read.get_untracked()));
        store.go(instead.unwrap_or(first));
    });
    let sheet = move || {
        let name = || {
            text::sheet_name(&store.sheet(&store.habits.read().sheet).sheet.name) + &takes(store)
        };
        let is_blocked = |(bath, _)| format!("{} is blocked: mix it anew", text::bath(bath));
        store.blocked_solution(&store.habits.read().sheet).map_or_else(name, is_blocked)
    };
    large("DEVELOP A ROLL", said(sheet), begin)
}

/// The Bench for one who asks for the same as last time from outside of the page: it goes on from
/// there once the runs have been read.
pub fn same() -> AnyView {
    store().load_kept();
    Bench().into_any()
}

/// What can be done instead. For the first time it is said at full length.
fn practise(first: Signal<bool>) -> AnyView {
    let store = store();
    let practise = on_press(|store| store.go(Route::Practise));
    let write = on_press(|store: Store| store.go(Route::RollEdit(store.new_id())));
    let either = move |then: &'static str, other: &'static str| {
        said(move || if first.get() { then } else { other }.to_owned())
    };
    let new = either("I only want to write down a roll", "New roll");
    let pair = vec![
        key_more("", "Practise", "with water", practise),
        key_more("", new, either("", "write it down"), write),
    ];
    let again = shown(
        move || store.last_run().is_some(),
        move || {
            let where_to = said(move || where_again(store).to_owned());
            key_more("", "Same as last time", where_to, on_press(Store::same_again))
        },
    );
    el("div", "instead", vec![again, el("div", "pair", pair)])
}

/// How long it takes: the last session's readings, dark and run; else the run of the plan alone.
fn takes(store: Store) -> String {
    if let Some(ms) = store.last_run().and_then(|last| last.run.whole_ms()) {
        return format!(", last time {} min", ms / 60_000);
    }
    format!(", the run alone about {} min", store.next_plan().about_ms() / 60_000)
}

/// Where the same as last time begins, in words.
fn where_again(store: Store) -> &'static str {
    let first = store.first_screen_again();
    if first == Route::Tempering {
        "straight to Tempering"
    } else if first == Route::LayOut(0) {
        "its cautions first"
    } else {
        "first: what is poured"
    }
}

/// The run that goes on.
fn running() -> AnyView {
    let store = store();
    let view = store.view;
    let words = move || {
        let view = view.read();
        let Some(view) = view.as_ref() else { return String::new() };
        let bath = of_step(store, Some(view), |_, step, _| text::bath(step.bath));
        bath.map_or_else(
            || "the film hangs".to_owned(),
            |bath| format!("{bath} {}", strip_time(&view.scene)),
        )
    };
    large("RUNNING: RETURN", said(words), on_press(Store::return_to_run))
}

/// Whether the page works without a network, and whether the notebook keeps.
fn ready() -> [AnyView; 2] {
    let store = store();
    let offline = move || match store.offline.get() {
        Offline::Unknown => "",
        Offline::Fetching => "Still downloading for use offline.",
        Offline::Ready => "Ready offline.",
        Offline::Incomplete => "Not ready offline: files are missing. Open it with a network once.",
        Offline::Not => "Not ready offline: this browser keeps no copy.",
    };
    let kept = said(move || store.not_kept().map_or("", text::store_error).to_owned());
    [live("p", "note bench__ready", move || offline().to_owned()), alert("note", changing(kept))]
}

/// A new version is taken by a tap, and never while a run goes on.
fn update() -> AnyView {
    let store = store();
    let waits = move || store.update_waits.get() && store.run.read().is_none();
    let update = on_press(Store::update_page);
    shown(waits, move || {
        let all = vec![words("p", "", "A new version is ready."), key("", "UPDATE", update)];
        el("div", "update", all)
    })
}

/// The places, and where you are.
pub fn bar(here: &Route) -> AnyView {
    let place = |name: &'static str, route: Route| {
        let class = if route == *here { "bar__place bar__place--here" } else { "bar__place" };
        let current = (route == *here).then_some(("aria-current", fixed("page")));
        let go = on_press(move |store| store.go(route.clone()));
        button(fixed(class), current.into_iter().collect(), None, vec![plain(name)], go)
    };
    let places = vec![
        place("Bench", Route::Bench),
        place("Rolls", Route::Rolls),
        place("Shelf", Route::Shelf),
        place("Sheets", Route::Sheets),
        place("Settings", Route::Settings),
    ];
    let bar = el_with("nav", fixed("bar"), vec![("aria-label", fixed("Places"))], places);
    el("footer", "desk__foot", vec![bar])
}

/// The address of a run, but there is none.
pub fn no_run() -> AnyView {
    let bench = on_press(|store| store.go(Route::Bench));
    let head = el("header", "head", vec![words("h1", "", "Run")]);
    let said = words("p", "now faults__answer", "No run is open.");
    let keys = vec![key("key--wet key--next", "TO THE BENCH", bench)];
    super::fault::over("session faults", head, said, keys)
}
