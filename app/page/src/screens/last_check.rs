//! Last check: values, not ticks, before the first pour.

use leptos::prelude::*;
use process_model::quantity::Celsius;
use process_model::sheet::Bath;
use session::Command;
use session::entry::Place;
use session::habits::Convention;
use session::reading;

use super::temp::Temp;
use super::{on_press, store};
use crate::parts::Key;
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
        places.sort_by_key(|place| !matches!(verdict(store, *place), Verdict::Out(..)));
        places
    });
    let many = move || if places.read().len() > 4 { "check check--many" } else { "check" };
    let row = move |place: Place| view! { <Row place /> };
    view! {
        <main class="session last-check">
            <header class="head">
                <h1>"Last check"</h1>
                <span class="soft">"touch a value"</span>
            </header>
            <div class=many>{move || places.get().into_iter().map(row).collect_view()}</div>
            <Facts />
            <Start places />
        </main>
    }
}

/// When the clock starts; or, graver, which steps are too short for this person's hands.
fn clock_line(store: Store) -> String {
    let open = store.run.read();
    let Some(plan) = open.as_ref().map(|open| &open.run.plan) else {
        return String::new();
    };
    let short: Vec<_> = plan.short_steps().map(|step| text::bath(step.bath)).collect();
    if !short.is_empty() {
        return format!("{} is short: no get-ready", short.join(", "));
    }
    let when = match plan.convention {
        Convention::WhenComplete => "when complete",
        Convention::AsYouBegin => "as you begin",
    };
    format!("clock starts {when}")
}

/// What a value is worth.
#[derive(Clone, Debug, PartialEq)]
enum Verdict {
    /// Not read.
    Unread,
    /// In its band.
    Fine,
    /// Out: by how much, which way, and what to do.
    Out(String, &'static str, &'static str),
}

fn verdict(store: Store, place: Place) -> Verdict {
    let open = store.run.read();
    let Some(run) = open.as_ref().map(|open| &open.run) else { return Verdict::Unread };
    let Some(last) = run.last_reading(place) else { return Verdict::Unread };
    let Some((least, most)) = reading::target(run, place) else { return Verdict::Fine };
    let by = |kelvins: f64| text::degrees(Celsius::new(kelvins));
    let tub = place == Place::Tub;
    let celsius = last.celsius.get();
    if celsius < least.get() {
        Verdict::Out(by(least.get() - celsius), "low", if tub { "add hot" } else { "warm it" })
    } else if celsius > most.get() {
        Verdict::Out(by(celsius - most.get()), "high", if tub { "add cold" } else { "cool it" })
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
    let value = move || {
        let open = store.run.read();
        let last = open.as_ref().and_then(|open| open.run.last_reading(place));
        last.map_or_else(|| "–".to_owned(), |last| text::degrees(last.celsius))
    };
    let line = move || {
        let open = store.run.read();
        let target = open.as_ref().and_then(|open| reading::target(&open.run, place));
        let band = target.map_or_else(String::new, |(least, most)| text::range(least, most));
        match verdict(store, place) {
            Verdict::Unread => (String::new(), "read it", band),
            Verdict::Fine => (String::new(), "ok", band),
            Verdict::Out(by, way, what) => (by + " ", way, what.to_owned()),
        }
    };
    let open = on_press(move |store| store.open_keypad(place));
    // The two waters that are poured first stand in the first row of a long list.
    let wide = matches!(place, Place::Bottle(Bath::Developer | Bath::PreSoak));
    let class = move || {
        let out =
            if matches!(verdict(store, place), Verdict::Out(..)) { " check__row--out" } else { "" };
        let wide = if wide { " check__row--wide" } else { "" };
        format!("check__row{out}{wide}")
    };
    view! {
        <button type="button" class=class on:click=move |_| open.run(())>
            <b>{text::place(place)}</b>
            <span class="check__value">{value}</span>
            <span class="check__line">
                <span class="check__verdict">
                    <span class="check__by">{move || line().0}</span>
                    {move || line().1}
                </span>
                " "
                <span class="check__more">{move || line().2}</span>
            </span>
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
    let first = move || {
        let open = store.run.read();
        let step = open.as_ref().and_then(|open| open.run.plan.steps.first().map(|step| step.bath));
        step.map(|bath| text::bath(bath).to_ascii_uppercase()).unwrap_or_default()
    };
    let label = Signal::derive(move || {
        if anyway.get() { "START ANYWAY".to_owned() } else { format!("START {}", first()) }
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
                more=Signal::derive(move || clock_line(store))
                on_press=start
            />
        </div>
    }
}
