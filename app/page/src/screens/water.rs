//! What lies over Tempering: the water of the tub, and how one bottle is doing.

pub mod chart;

use leptos::prelude::*;
use process_model::quantity::Celsius;
use session::Command;
use session::entry::Place;

use super::fault::over;
use super::{on_press, store};
use crate::parts::{anew, el, key, key_more, live, said, shown, words as told};
use crate::store::{Overlay, Store, Water as Said};
use crate::text::{self, tempering as words};

/// What was done with the water: filled in as advised, so that it takes two touches.
pub fn water() -> AnyView {
    let store = store();
    let now = move || {
        if let Overlay::Water(said) = store.overlay.get() { said } else { Said::default() }
    };
    let litres = move || words::halves(f64::from(now().add_halves) / 2.0);
    let degrees = |celsius: f64| text::nearest_degree(Celsius::new(celsius));
    let tap = said(move || if now().is_cold { "COLD" } else { "HOT" }.to_owned());
    let warmth = said(move || {
        let vessels = store.vessels();
        degrees(if now().is_cold { vessels.cold_c } else { vessels.hot_c })
    });
    let change = move |change: fn(Said) -> Said| {
        on_press(move |store| store.overlay.set(Overlay::Water(change(untrack(now)))))
    };
    let hands = on_press(|store| store.no_hands.update(|no| *no = !*no));
    let took = |drains, adds| on_press(move |store| store.take_water(untrack(now), drains, adds));
    let of = said(move || format!("{} L", litres()));
    let hands_said = said(move || {
        if store.no_hands.get() { "NO HANDS IN IT" } else { "HANDS GO IN" }.to_owned()
    });
    let most = said(move || format!("at most {}", degrees(store.vessels().hands.most_c())));
    let keys = vec![
        key("key--wet", "½ L LESS", change(|water| water.more(-1))),
        key("key--wet", "½ L MORE", change(|water| water.more(1))),
        key_more(
            "key--wet",
            tap,
            warmth,
            change(|water| Said { is_cold: !water.is_cold, ..water }),
        ),
        key_more("key--wet", hands_said, most, hands),
        key_more("key--wet", "DRAINED", of, took(true, false)),
        key_more("key--wet", "ADDED", of, took(false, true)),
    ];
    let back = key("key--wet", "BACK", on_press(Store::close_overlay));
    let swapped = key_more("key--wet key--next", "SWAPPED", of, took(true, true));
    let title = live("h1", "", move || format!("Water, {} L", litres()));
    let head = vec![title, told("span", "soft", "thermometer before hands")];
    let (head, keys) = (el("header", "head", head), el("div", "faults__keys", keys));
    over("session faults faults--water", head, keys, vec![back, swapped])
}

/// How one bottle or the tub is doing: a chart, the same as a table, and its readings.
pub fn bottle(place: Place) -> AnyView {
    let store = store();
    let in_full = move || {
        let now = store.coarse_now.get();
        let words = store.with_evening(|evening| {
            let number = evening.node_of(place)?;
            (number < evening.baths.len()).then(|| words::outlook_in_full(evening, number, now))
        });
        words.flatten().unwrap_or_default()
    };
    let last = move || store.readings_of(place).last().copied();
    let value = move || last().map_or_else(String::new, |last| text::degrees(last.celsius));
    let measure = on_press(move |store| store.open_keypad(place));
    let forget = on_press(move |store| {
        if let Some(last) = untrack(last) {
            let _ = store.dispatch(Command::Drop { of: last.seq });
        }
    });
    let is_bottle = matches!(place, Place::Bottle(_));
    let is_out = move || store.is_lifted(place);
    let lift = on_press(move |store| {
        if let Place::Bottle(bath) = place {
            let _ = store.dispatch(Command::MoveBottle { bath, back: untrack(is_out) });
        }
    });
    let lift_label = said(move || if is_out() { "PUT IT BACK" } else { "LIFT IT OUT" }.to_owned());
    let the_last = said(move || format!("the {}", value()));
    let doing = vec![
        shown(move || last().is_some(), move || key_more("key--wet", "REMOVE", the_last, forget)),
        shown(move || is_bottle, move || key("key--wet", lift_label, lift)),
        key("key--wet", "BACK", on_press(Store::close_overlay)),
        key("key--wet key--next", "MEASURE", measure),
    ];
    let middle = vec![
        live("p", "", in_full),
        anew(move || chart::chart(store, place)),
        told("p", "soft", "Estimate; 8 in 10 lie in the band."),
    ];
    let head = vec![told("h1", "", text::place(place)), live("span", "", value)];
    let (head, middle) = (el("header", "head", head), el("div", "bottle", middle));
    over("session faults faults--bottle", head, middle, doing)
}
