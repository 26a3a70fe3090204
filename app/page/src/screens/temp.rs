//! TEMP: the keypad. Three digits are a reading; nothing else is pressed.

use leptos::prelude::*;
use process_model::sheet::Bath;
use session::entry::Place;
use session::reading;
use session::run::Tank;

use super::{on_press, store};
use crate::parts::{
    alert, all, anew, changing, el, el_as, key, key_more, live, made, plain, said, shown,
};
use crate::route::Route;
use crate::store::{AskedBack, Overlay, Store};
use crate::text;

/// The keypad for the place that the store names.
pub fn temp() -> AnyView {
    let store = store();
    let class = said(move || {
        let is_asked = store.asked_back.read().is_some();
        if is_asked { "session session--asked" } else { "session session--pad" }.to_owned()
    });
    let body = anew(move || match store.asked_back.get() {
        Some(asked) => untrack(|| all(asked_back(asked))),
        None => untrack(|| all(vec![entry(), pad()])),
    });
    el_as("main", class, vec![head(), body])
}

/// Which place, and what to expect there.
fn head() -> AnyView {
    let store = store();
    let expect = move || {
        let open = store.run.read();
        let place = store.place.get();
        let range = match store.asked_back.get() {
            Some(asked) => asked.expected,
            None => store
                .expected_before_start(place)
                .or_else(|| open.as_ref().and_then(|open| reading::expected(&open.run, place))),
        };
        range.map_or_else(String::new, |(least, most)| {
            format!("expect {}", text::range(least, most))
        })
    };
    let all = vec![
        live("h1", "", move || text::place(store.place.get()).to_owned()),
        live("span", "soft", expect),
    ];
    el("header", "head", all)
}

/// The digits so far, a mark for each that is missing, and a note where there is one.
fn entry() -> AnyView {
    let store = store();
    let note = move || {
        let hint = store.typing_hint.get();
        match store.place.get() {
            _ if !hint.is_empty() => hint,
            _ if !store.typed.read().is_empty() => String::new(),
            Place::InTheTank => "Through the pouring opening, lid stays on.".to_owned(),
            Place::Bottle(Bath::PreSoak) => store.pre_soak_water().unwrap_or_default(),
            Place::Tub | Place::Bottle(_) => String::new(),
        }
    };
    let class =
        said(move || if note().is_empty() { "entry" } else { "entry entry--noted" }.to_owned());
    let wanted = move || {
        let wanted = store.typed.read().wanted(text::scale());
        all((0..wanted).map(|_| el("i", "", Vec::new())).collect())
    };
    let digits = vec![
        live("span", "entry__digits", move || store.typed.read().shown(text::scale())),
        anew(wanted),
        el("small", "", vec![plain(text::unit())]),
    ];
    let noted = move || alert("entry__note", changing(said(note)));
    all(vec![el_as("div", class, digits), shown(move || !note().is_empty(), noted)])
}

/// What the key for back does before the first digit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Instead {
    /// In a run: the tub, or the tank.
    Place(Place),
    /// In Tempering: how this one is doing.
    Chart(Place),
}

/// Ten digits, back and skip. Before the first digit the key for back changes between the tub and
/// the tank in a run, and leads to the chart in Tempering.
fn pad() -> AnyView {
    let store = store();
    let digit = move |digit: u8| {
        let press = Callback::new(move |()| {
            if store.accepts_digit() {
                store.type_digit(digit);
            }
        });
        key("key--wet", digit.to_string(), press)
    };
    let other = move || {
        let open = store.run.read();
        let in_a_run = open.as_ref().is_some_and(|open| open.run.state.tank != Tank::Ready);
        let empty = store.typed.read().is_empty();
        let other = match store.place.get() {
            Place::Tub => Place::InTheTank,
            Place::InTheTank | Place::Bottle(_) => Place::Tub,
        };
        let charted = store.route.get() == Route::Tempering;
        match (empty, in_a_run) {
            (true, true) => Some(Instead::Place(other)),
            (true, false) if charted => Some(Instead::Chart(store.place.get())),
            _ => None,
        }
    };
    let back = Callback::new(move |()| match untrack(other) {
        Some(Instead::Place(other)) if store.accepts_press() => store.place.set(other),
        Some(Instead::Chart(of)) if store.accepts_press() => store.overlay.set(Overlay::Bottle(of)),
        None if store.accepts_digit() => store.type_back(),
        Some(_) | None => {}
    });
    let back_label = said(move || match other() {
        None => "back".to_owned(),
        Some(Instead::Place(place)) => text::place(place).to_ascii_lowercase(),
        Some(Instead::Chart(_)) => "chart".to_owned(),
    });
    let skip = on_press(Store::close_overlay);
    let mut keys: Vec<AnyView> = (1..=9).map(digit).collect();
    keys.push(key("key--wet key--word pad__back", back_label, back));
    keys.push(digit(0));
    keys.push(key("key--wet key--word pad__skip", "skip", skip));
    el("div", "pad", keys)
}

/// A reading that looks wrong: it is kept, and asked back once.
fn asked_back(asked: AskedBack) -> Vec<AnyView> {
    let of = asked.of;
    let keep = on_press(Store::keep_reading);
    let again = on_press(|store| {
        let _ = store.dispatch(session::Command::Undo);
        store.open_keypad(store.place.get_untracked());
    });
    let is_half = asked.is_half;
    let fix = asked.fix.map(|celsius| {
        let right = on_press(move |store| store.correct_reading(of, celsius));
        let label =
            if is_half { "+½".to_owned() } else { format!("USE {}", text::degrees(celsius)) };
        key("key--wet key--next", label, right)
    });
    let near = asked.expected.map_or_else(String::new, |(least, most)| {
        format!("Expected near {}.", text::range(least, most))
    });
    let question = text::degrees(asked.celsius) + if is_half { "" } else { "?" };
    let words =
        vec![el("p", "asked__question", vec![made(question)]), el("p", "now", vec![made(near)])];
    let halves = vec![
        key_more("key--wet", "AS READ", "keep it", keep),
        key_more("key--wet", "AGAIN", "type anew", again),
    ];
    let keys = fix.into_iter().chain([el("div", "halves", halves)]).collect();
    vec![el("div", "asked__words", words), el("div", "asked", keys)]
}
