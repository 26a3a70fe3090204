//! Last check: values, not ticks, before the first pour.

use leptos::prelude::*;
use process_model::quantity::Kelvins;
use process_model::sheet::Bath;
use session::Command;
use session::entry::Place;
use session::habits::Convention;
use session::reading::{self, Judgement};

use super::temp::temp;
use super::{on_press, store};
use crate::parts::{
    all, anew, changing, either, el, el_as, key, key_more, live, made, mark, press, said, shown,
    toggle, whether, words,
};
use crate::store::{Overlay, Store};
use crate::text;

/// The values, three facts, and the start.
#[component]
pub fn LastCheck() -> impl IntoView {
    let store = store();
    store.open_run(false);
    store.take_hold();
    either(move || store.overlay.get() == Overlay::Temp, temp, values)
}

fn values() -> AnyView {
    let store = store();
    let places = move || {
        // What is out comes first; otherwise the order of the sheet.
        let (mut places, fine): (Vec<_>, Vec<_>) =
            store.places_to_check().into_iter().partition(|place| is_out(store.judge(*place)));
        places.extend(fine);
        places
    };
    let many = move || if places().len() > 4 { "check check--many" } else { "check" }.to_owned();
    // Only another order is drawn anew.
    let order = Memo::new(move |_| places().into_iter().map(text::place).collect::<String>());
    let rows = move || {
        order.track();
        untrack(|| all(places().into_iter().map(row).collect()))
    };
    let head = vec![words("h1", "", "Last check"), live("span", "soft", move || dark_for(store))];
    let all = vec![
        el("header", "head", head),
        el_as("div", said(many), vec![anew(rows)]),
        facts(),
        start(),
    ];
    el("main", "session last-check", all)
}

/// How long the light was out; before that, what to do here.
fn dark_for(store: Store) -> String {
    let open = store.run.read();
    let dark = open.as_ref().and_then(|open| open.run.state.dark);
    dark.map_or_else(
        || {
            let places = store.places_to_check();
            let is_mended = |place: &Place| {
                is_out(store.judge(*place)) && store.minutes_to_mend(*place).is_some()
            };
            // How long to warm or cool what is out is worked out, not measured.
            let mends = places.iter().any(is_mended);
            if mends { "estimated min" } else { "touch a value" }.to_owned()
        },
        |(since, at)| format!("dark for {}", text::passed(at.since_ms(since))),
    )
}

/// When the clock starts; or, graver, which steps are too short for this person's hands.
fn clock_line(store: Store) -> String {
    let open = store.run.read();
    let Some(plan) = open.as_ref().map(|open| &open.run.plan) else {
        return String::new();
    };
    let short: Vec<_> = plan.short_steps().map(|step| text::bath(step.bath)).collect();
    if !short.is_empty() {
        return format!("{}: no time for get ready", short.join(", "));
    }
    let when = match plan.convention {
        Convention::WhenComplete => "when the tank is full",
        Convention::AsYouBegin => "as you begin to pour",
    };
    match text::off(store.vessels().offset_k) {
        // Every verdict allows for it.
        Some(off) => format!("clock: {when}; thermometer {off}"),
        None => format!("clock: {when}"),
    }
}

fn is_out(judgement: Judgement) -> bool {
    matches!(judgement, Judgement::Low(_) | Judgement::High(_))
}

/// One value: touch it to read it.
fn row(place: Place) -> AnyView {
    let store = store();
    let value = move || {
        let open = store.run.read();
        let last = open.as_ref().and_then(|open| reading::since_the_dark(&open.run, place));
        last.map_or_else(|| "–".to_owned(), |last| text::degrees(last.celsius))
    };
    let line = move || judged(store, place);
    let open = on_press(move |store| store.open_keypad(place));
    // The two waters that are poured first stand in the first row of a long list.
    let wide = matches!(place, Place::Bottle(Bath::Developer | Bath::PreSoak));
    let class = move || {
        let state = match store.judge(place) {
            Judgement::Unread => " check__row--unread",
            Judgement::Fine => "",
            Judgement::Low(_) | Judgement::High(_) => " check__row--out",
        };
        let wide = if wide { " check__row--wide" } else { "" };
        format!("check__row{state}{wide}")
    };
    let verdict = vec![
        live("span", "check__by", move || line().0),
        changing(said(move || line().1.to_owned())),
    ];
    let line = vec![
        el("span", "check__verdict", verdict),
        made(" ".to_owned()),
        live("span", "check__more", move || line().2),
    ];
    let all = vec![
        words("b", "", text::place(place)),
        live("span", "check__value", value),
        el("span", "check__line", line),
    ];
    press(said(class), all, open)
}

/// By how much a value is off, what it is worth, and what to do about it or what to expect.
fn judged(store: Store, place: Place) -> (String, &'static str, String) {
    let open = store.run.read();
    let target = open.as_ref().and_then(|open| reading::target(&open.run, place));
    let band = target.map_or_else(String::new, |(least, most)| text::range(least, most));
    let by = |kelvins: Kelvins| text::difference(kelvins) + " ";
    let what = |tub: &str, bottle: &str| match store.minutes_to_mend(place) {
        _ if place == Place::Tub => tub.to_owned(),
        Some(minutes) => format!("{bottle} {minutes} min"),
        None => format!("{bottle} tub"),
    };
    match store.judge(place) {
        Judgement::Unread => match store.expected_before_start(place) {
            Some((least, most)) => {
                (String::new(), "read it", format!("expect {}", text::range(least, most)))
            }
            None => (String::new(), "read it", band),
        },
        Judgement::Fine => (String::new(), "ok", band),
        Judgement::Low(kelvins) => (by(kelvins), "low", what("add hot", "hot")),
        Judgement::High(kelvins) => (by(kelvins), "high", what("add cold", "cold")),
    }
}

/// Three things that are so or are not yet.
fn facts() -> AnyView {
    let fact = |name: &'static str| {
        let so = RwSignal::new(false);
        let is_so = whether(move || so.get());
        let press = on_press(move |_| so.update(|so| *so = !*so));
        toggle("key key--wet fact", is_so, vec![mark(is_so), words("span", "", name)], press)
    };
    el("div", "keys facts", ["Gloves on", "Caps loose", "Funnel rinsed"].map(fact).into())
}

/// The start is always there; with something out it says so, and that is written down.
fn start() -> AnyView {
    let store = store();
    let first = move || {
        let open = store.run.read();
        let step = open.as_ref().and_then(|open| open.run.plan.steps.first().map(|step| step.bath));
        step.map(|bath| text::bath(bath).to_ascii_uppercase()).unwrap_or_default()
    };
    let label = said(move || {
        if store.is_anything_out() {
            "START ANYWAY".to_owned()
        } else {
            format!("START {}", first())
        }
    });
    let start = on_press(move |store| {
        let anyway = untrack(|| store.is_anything_out());
        let _ = store.start(anyway);
    });
    // What UNDO took back can be brought again from here.
    let redo = move || store.view.read().as_ref().is_some_and(|view| view.redo.is_some());
    let bring_back = on_press(|store| {
        let _ = store.dispatch(Command::Redo);
    });
    let keys = vec![
        shown(redo, move || key("key--wet", "REDO", bring_back)),
        key_more("key--wet key--next", label, said(move || clock_line(store)), start),
    ];
    el("div", "start", keys)
}
