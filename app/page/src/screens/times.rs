//! What a reading in a run leads to: another time for the developer, or what was done to the tub.
//! The clock runs on; whoever does nothing keeps the plan.

use leptos::prelude::*;
use session::Command;

use super::fault::{over, strip};
use super::{on_press, store};
use crate::parts::{el, key, key_more, live, plain, said, words};
use crate::store::Store;
use crate::text;

/// Keep the time, or use another, in milliseconds: two equal halves.
pub fn times(time_ms: i64) -> AnyView {
    let store = store();
    let take = on_press(move |store| {
        let _ = store.dispatch(Command::ChooseTime { time_ms });
        store.close_overlay();
    });
    let keep = said(move || format!("KEEP {}", store.times_in_words(time_ms).0));
    let halves = vec![
        key("key--wet key--sized", keep, on_press(Store::close_overlay)),
        key("key--wet key--sized", format!("USE {}", text::nearest(time_ms)), take),
    ];
    let told = live("p", "faults__answer", move || store.times_in_words(time_ms).1);
    let halves = vec![el("div", "halves", halves)];
    over("session faults faults--leave", strip(plain("Its time")), told, halves)
}

/// After a reading of the tub: what was done about it. It goes by itself.
pub fn tub_done() -> AnyView {
    let hot = on_press(|store| store.note_tub(false));
    let swapped = on_press(|store| store.note_tub(true));
    let doing = vec![
        key_more("key--wet", "ADDED HOT", "about 1 L", hot),
        key_more("key--wet", "SWAPPED", "about half", swapped),
        key("key--wet key--next", "NEITHER", on_press(Store::close_overlay)),
    ];
    let asked = words("p", "now faults__answer", "Did you change the water?");
    over("session faults faults--leave", strip(plain("Tub")), asked, doing)
}
