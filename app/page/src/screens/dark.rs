//! Dark: what to do before the light goes out, and a black screen until it is on again.

use leptos::prelude::*;

use super::{on_press, store};
use crate::parts::{all, el, key, key_more, plain, shown, words};
use crate::route::Route;
use crate::store::Store;

/// What to do before the light goes out.
const STEPS: [(&str, &str); 3] = [
    ("1", "Flight mode on"),
    ("2", "Lock it and leave it outside: black glows"),
    ("3", "Reel, column, lid, scissors in order"),
];

/// Before the light goes out.
#[component]
pub fn ToTheDark() -> impl IntoView {
    let loaded = on_press(|store| store.go(Route::LastCheck));
    let back = on_press(|store| store.go(Route::Tempering));
    let out = on_press(Store::go_dark);
    let step = |(number, step): &(&'static str, &'static str)| {
        el("li", "", vec![words("b", "", number), words("span", "", step)])
    };
    let keys = vec![
        key("key--wet", "BACK", back),
        key_more("key--wet dark-before__in", "FILM IS IN", "lid locked", loaded),
    ];
    let all = vec![
        el("header", "head", vec![words("h1", "", "Dark")]),
        words("p", "now", "This phone is a lamp. No light is safe."),
        el("ol", "steps", STEPS.iter().map(step).collect()),
        el("div", "keys dark-before__keys", keys),
        key_more("key--wet key--next key--tall", "LIGHTS OUT", "the screen goes black", out),
    ];
    el("main", "session dark-before", all)
}

/// Black. A touch of a second and a half, or any key, asks whether the light is on.
#[component]
pub fn Dark() -> impl IntoView {
    let store = store();
    // A touch is heard by the page as a whole. A reload finds the light out, too: nothing is shown
    // before somebody asks.
    store.open_run(false);
    let lit = on_press(Store::lights_on);
    let not_yet = on_press(|store| store.dark_asks.set(false));
    let asked = move || {
        let keys = vec![
            key_more("key--wet key--tall", "NOT YET", "black again", not_yet),
            key_more("key--wet key--tall", "LIGHT IS ON", "and the lid is locked", lit),
        ];
        all(vec![words("p", "now", "Column in? Lid locked?"), el("div", "dark__keys", keys)])
    };
    let name = el("h1", "unseen", vec![plain("Dark")]);
    el("main", "dark", vec![name, shown(move || store.dark_asks.get(), asked)])
}
