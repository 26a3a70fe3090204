//! Last check: values, not ticks, before the first pour.

use crate::parts::{anew, either, said, shown};
use leptos::prelude::*;
use process_model::quantity::Kelvins;
use process_model::sheet::Bath;
use session::Command;
use session::entry::Place;
use session::habits::Convention;
use session::reading::{self, Judgement};

use super::temp::Temp;
use super::{on_press, store};
use crate::parts::Key;
use crate::store::{Overlay, Store};
use crate::text;

/// The values, three facts, and the start.
#[component]
pub fn LastCheck() -> impl IntoView {
    let store = store();
    store.open_run(false);
    store.take_hold();
    let keypad = Memo::new(move |_| store.overlay.get() == Overlay::Temp);
    view! {
        {either(move || keypad.get(), || Temp().into_any(), || Values().into_any())}
    }
}

#[component]
fn Values() -> impl IntoView {
    let store = store();
    let places = Memo::new(move |_| {
        // What is out comes first; otherwise the order of the sheet.
        let (mut places, fine): (Vec<_>, Vec<_>) =
            store.places_to_check().into_iter().partition(|place| is_out(judge(store, *place)));
        places.extend(fine);
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
            <div class=many>{anew(move || places.get().into_iter().map(row).collect_view().into_any())}</div>
            <Facts />
            <Start />
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
fn judge(store: Store, place: Place) -> Judgement {
    let open = store.run.read();
    open.as_ref().map_or(Judgement::Unread, |open| reading::judge(&open.run, place))
}

fn is_out(judgement: Judgement) -> bool {
    matches!(judgement, Judgement::Low(_) | Judgement::High(_))
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
        let by = |kelvins: Kelvins| text::difference(kelvins) + " ";
        let what =
            |tub: &str, bottle: &str| if place == Place::Tub { tub } else { bottle }.to_owned();
        match judge(store, place) {
            Judgement::Unread => (String::new(), "read it", band),
            Judgement::Fine => (String::new(), "ok", band),
            Judgement::Low(kelvins) => (by(kelvins), "low", what("add hot", "warm it")),
            Judgement::High(kelvins) => (by(kelvins), "high", what("add cold", "cool it")),
        }
    };
    let open = on_press(move |store| store.open_keypad(place));
    // The two waters that are poured first stand in the first row of a long list.
    let wide = matches!(place, Place::Bottle(Bath::Developer | Bath::PreSoak));
    let class = move || {
        let state = match judge(store, place) {
            Judgement::Unread => " check__row--unread",
            Judgement::Fine => "",
            Judgement::Low(_) | Judgement::High(_) => " check__row--out",
        };
        let wide = if wide { " check__row--wide" } else { "" };
        format!("check__row{state}{wide}")
    };
    view! {
        <button type="button" class=class on:click=move |_| open.run(())>
            <b>{text::place(place)}</b>
            <span class="check__value">{value}</span>
            <span class="check__line">
                <span class="check__verdict">
                    <span class="check__by">{said(move || line().0)}</span>
                    {said(move || line().1.to_owned())}
                </span>
                " "
                <span class="check__more">{said(move || line().2)}</span>
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
fn Start() -> impl IntoView {
    let store = store();
    let anyway = Memo::new(move |_| store.is_anything_out());
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
    let redo =
        Memo::new(move |_| store.view.read().as_ref().is_some_and(|view| view.redo.is_some()));
    let bring_back = on_press(|store| {
        let _ = store.dispatch(Command::Redo);
    });
    view! {
        <div class="start">
            {shown(move || redo.get(), move || view! {
                <Key class="key--wet" label="REDO".to_owned() on_press=bring_back />
            }.into_any())}
            <Key
                class="key--wet key--next"
                label=label
                more=Signal::derive(move || clock_line(store))
                on_press=start
            />
        </div>
    }
}
