//! Last check: values, not ticks, before the first pour.

use leptos::prelude::*;
use process_model::quantity::Celsius;
use session::Command;
use session::entry::Place;
use session::habits::Convention;
use session::reading;

use super::temp::Temp;
use super::{on_press, store};
use crate::parts::Key;
use crate::route::Route;
use crate::store::{Overlay, Store};
use crate::text;

/// The values, three facts, and the start.
#[component]
pub fn LastCheck() -> impl IntoView {
    let store = store();
    store.open_run();
    store.take_hold();
    let keypad = Memo::new(move |_| store.overlay.get() == Overlay::Temp);
    view! {
        {move || if keypad.get() { Temp().into_any() } else { Values().into_any() }}
    }
}

#[component]
fn Values() -> impl IntoView {
    let store = store();
    let places = Memo::new(move |_| {
        let mut places = store.places_to_check();
        // What is out comes first; otherwise the order of the sheet.
        places.sort_by_key(|place| !matches!(verdict(store, *place), Verdict::Out(_)));
        places
    });
    let many = move || if places.read().len() > 4 { "check check--many" } else { "check" };
    let row = move |place: Place| view! { <Row place /> };
    let back = on_press(|store| store.go(Route::Bench));
    view! {
        <main class="session last-check">
            <header class="head">
                <h1>"Last check"</h1>
                <Key class="head__act" label="Bench".to_owned() on_press=back />
            </header>
            <div class=many>{move || places.get().into_iter().map(row).collect_view()}</div>
            <Facts />
            <p class="soft clockline">
                "The clock starts "
                {move || clock_line(store)}
                <Show when=move || short_steps(store).is_some()>
                    <b>{move || short_steps(store)}</b>
                </Show>
            </p>
            <Start places />
        </main>
    }
}

fn clock_line(store: Store) -> &'static str {
    let open = store.run.read();
    match open.as_ref().map(|open| open.run.plan.convention) {
        Some(Convention::WhenComplete) => "when pouring is complete.",
        Some(Convention::AsYouBegin) | None => "as you begin to pour.",
    }
}

/// Steps that are too short for this person's hands, said before the start.
fn short_steps(store: Store) -> Option<String> {
    let open = store.run.read();
    let plan = &open.as_ref()?.run.plan;
    let names: Vec<_> = plan.short_steps().map(|step| text::bath(step.bath)).collect();
    (!names.is_empty()).then(|| format!(" {} is short: no get-ready.", names.join(", ")))
}

/// What a value is worth.
#[derive(Clone, Debug, PartialEq)]
enum Verdict {
    /// Not read.
    Unread,
    /// In its band.
    Fine,
    /// Out: what to do.
    Out(String),
}

fn verdict(store: Store, place: Place) -> Verdict {
    let open = store.run.read();
    let Some(run) = open.as_ref().map(|open| &open.run) else { return Verdict::Unread };
    let Some(last) = run.last_reading(place) else { return Verdict::Unread };
    let Some((least, most)) = reading::target(run, place) else { return Verdict::Fine };
    let off = |by: f64, way: &str, water: &str| {
        let by = text::degrees(Celsius::new(by));
        Verdict::Out(format!("{by} {way}: {water}"))
    };
    let celsius = last.celsius.get();
    if celsius < least.get() {
        off(least.get() - celsius, "low", if place == Place::Tub { "add hot" } else { "warm it" })
    } else if celsius > most.get() {
        off(celsius - most.get(), "high", if place == Place::Tub { "add cold" } else { "cool it" })
    } else {
        Verdict::Fine
    }
}

/// One value: touch it to read it.
#[component]
fn Row(
    /// Where.
    place: Place,
) -> impl IntoView {
    let store = store();
    let value = Memo::new(move |_| {
        let open = store.run.read();
        let last = open.as_ref().and_then(|open| open.run.last_reading(place));
        last.map_or_else(|| "–".to_owned(), |last| text::degrees(last.celsius))
    });
    let line = Memo::new(move |_| {
        let open = store.run.read();
        let target = open.as_ref().and_then(|open| reading::target(&open.run, place));
        let band = target.map_or_else(String::new, |(least, most)| text::range(least, most));
        match verdict(store, place) {
            Verdict::Unread => (format!("read it, {band}"), false),
            Verdict::Fine => (format!("ok, {band}"), false),
            Verdict::Out(what) => (what, true),
        }
    });
    let open = on_press(move |store| store.open_keypad(place));
    let class = move || if line.get().1 { "check__row check__row--out" } else { "check__row" };
    view! {
        <button type="button" class=class on:click=move |_| open.run(())>
            <b>{text::place(place)}</b>
            <span class="check__value">{value}</span>
            <span class="check__line">{move || line.get().0}</span>
        </button>
    }
}

/// Three things that are so or are not yet.
#[component]
fn Facts() -> impl IntoView {
    let fact = |name: &'static str| {
        let so = RwSignal::new(false);
        let press = on_press(move |_| so.update(|so| *so = !*so));
        let pressed = move || if so.get() { "true" } else { "false" };
        view! {
            <button type="button" class="key key--wet fact" aria-pressed=pressed on:click=move |_| press.run(())>
                <i class="mark" class:mark--so=move || so.get()></i>
                <span>{name}</span>
            </button>
        }
    };
    view! { <div class="keys facts">{["Gloves on", "Caps off", "Funnel rinsed"].map(fact)}</div> }
}

/// The start is always there; with something out it says so, and that is written down.
#[component]
fn Start(places: Memo<Vec<Place>>) -> impl IntoView {
    let store = store();
    let anyway = Memo::new(move |_| {
        places.get().into_iter().any(|place| verdict(store, place) != Verdict::Fine)
    });
    let first = Memo::new(move |_| {
        let open = store.run.read();
        let step = open.as_ref().and_then(|open| open.run.plan.steps.first().map(|step| step.bath));
        step.map(|bath| text::bath(bath).to_ascii_uppercase()).unwrap_or_default()
    });
    let label = Signal::derive(move || {
        if anyway.get() { "START ANYWAY".to_owned() } else { format!("START {}", first.get()) }
    });
    let start = on_press(move |store| {
        let _ = store.start(anyway.get_untracked());
    });
    // What UNDO took back can be brought again from here.
    let redo = Memo::new(move |_| {
        let now = store.now.get();
        let open = store.run.read();
        open.as_ref().is_some_and(|open| session::command::redoable(&open.run, now).is_some())
    });
    let bring_back = on_press(|store| {
        let _ = store.dispatch(Command::Redo);
    });
    view! {
        <div class="start">
            <Show when=move || redo.get()>
                <Key class="key--wet" label="REDO".to_owned() on_press=bring_back />
            </Show>
            <Key
                class="key--wet key--next"
                label=label
                more="5 s lead, then a tone".to_owned()
                on_press=start
            />
        </div>
    }
}
