//! Tempering: what the thermometer said of each place, and the one thing to do next.

use leptos::prelude::*;
use process_model::sheet::Bath;
use session::Command;
use session::entry::Place;
use session::reading::Judgement;
use session::tempering::Next;

use super::run::Offers;
use super::temp::temp;
use super::water::{bottle, water};
use super::{on_press, store};
use crate::parts::pic::{Pic, picture};
use crate::parts::{
    all, anew, changing, either, el, el_as, key, key_more, key_resting, live, made, press, said,
    words as told,
};
use crate::route::Route;
use crate::store::{Overlay, Store};
use crate::text::{self, tempering as words};

/// The places, three keys, and what to do next.
#[component]
pub fn Tempering() -> impl IntoView {
    let store = store();
    store.enter_tempering();
    let is_water = move || matches!(store.overlay.get(), Overlay::Water(_));
    either(is_water, water, move || {
        anew(move || match store.overlay.get() {
            Overlay::Temp => untrack(temp),
            Overlay::Bottle(place) => untrack(|| bottle(place)),
            Overlay::None
            | Overlay::Water(_)
            | Overlay::Fault
            | Overlay::Late
            | Overlay::Answer(_)
            | Overlay::Times(_)
            | Overlay::TubDone
            | Overlay::Gap(_) => untrack(places),
        })
    })
}

fn places() -> AnyView {
    let store = store();
    let many = move || store.places_to_check().len() > 4;
    let many = said(move || if many() { "check check--many" } else { "check" }.to_owned());
    let rows = move || {
        let places = store.places_to_check();
        untrack(|| all(places.into_iter().map(row).collect()))
    };
    let clock = live("span", "", move || text::hour_minute(store.coarse_now.get()));
    let all = vec![
        el("header", "head", vec![told("h1", "", "Tempering"), clock]),
        el_as("div", many, vec![anew(rows)]),
        keys(),
        doing(),
    ];
    el("main", "session last-check tempering", all)
}

/// What the developer is left at before the light goes out.
fn for_the_dark(store: Store) -> String {
    let aim = store.with_evening(|evening| {
        let developer = evening.baths.iter().position(|bath| bath.is_developer())?;
        evening.tempering.tub.as_ref()?;
        evening.tempering.aims_c.get(developer).copied()
    });
    aim.flatten().map_or_else(String::new, |aim| {
        let aim = process_model::quantity::Celsius::new(aim);
        format!("at {}", text::degrees(aim))
    })
}

/// One place: touch it to read it.
fn row(place: Place) -> AnyView {
    let store = store();
    let last = move || {
        let open = store.run.read();
        open.as_ref().and_then(|open| open.run.last_reading(place))
    };
    let value = move || last().map_or_else(|| "–".to_owned(), |last| text::degrees(last.celsius));
    let age = move || {
        let now = store.coarse_now.get();
        // It goes to the next line as a whole.
        let age = last().map(|last| words::age(now.since_ms(last.at)).replace(' ', "\u{a0}"));
        age.map(|age| [" (", &age, ")"].concat()).unwrap_or_default()
    };
    let is_next = Memo::new(move |_| {
        let meant = store.with_evening(|evening| match evening.tempering.next {
            Next::Measure { node: number } | Next::Lift { bottle: number } => {
                evening.place_of(number) == place
            }
            Next::Swap { .. } | Next::Wait { .. } | Next::CannotGetThere { .. } | Next::Ready => {
                false
            }
        });
        meant.unwrap_or(false)
    });
    let open = on_press(move |store| store.open_keypad(place));
    let wide = matches!(place, Place::Bottle(Bath::Developer | Bath::PreSoak));
    let class = move || {
        let next = if is_next.get() { " check__row--next" } else { "" };
        let wide = if wide { " check__row--wide" } else { "" };
        format!("check__row{next}{wide}")
    };
    let trend = move || {
        trend(store, place).map_or_else(
            || made(String::new()),
            |(pic, words)| all(vec![picture(pic, "check__trend"), told("span", "unseen", words)]),
        )
    };
    let line = vec![
        live("span", "check__verdict", move || verdict(store, place)),
        live("span", "check__more", age),
    ];
    let all = vec![
        told("b", "", text::place(place)),
        el("span", "check__value", vec![changing(said(value)), anew(trend)]),
        el("span", "check__line", line),
    ];
    press(said(class), all, open)
}

/// How one place is doing, in few words.
fn verdict(store: Store, place: Place) -> String {
    let now = store.coarse_now.get();
    let estimated = store.with_evening(|evening| {
        evening.tempering.tub.as_ref()?;
        let number = evening.node_of(place)?;
        (number < evening.baths.len()).then(|| words::outlook(evening, number, now))
    });
    if let Some(words) = estimated.flatten() {
        return words;
    }
    match (store.judge(place), place) {
        (Judgement::Unread, _) => "read it".to_owned(),
        (Judgement::Fine, Place::Tub) => "holds".to_owned(),
        (Judgement::Fine, _) => "ready".to_owned(),
        (Judgement::Low(by), _) => format!("{} low", text::difference(by)),
        (Judgement::High(by), _) => format!("{} high", text::difference(by)),
    }
}

/// Whether it warms or cools, by its last two readings.
fn trend(store: Store, place: Place) -> Option<(Pic, &'static str)> {
    let readings = store.readings_of(place);
    let [.., before, last] = readings.as_slice() else { return None };
    let change = last.celsius.get() - before.celsius.get();
    Some(match change {
        0.2.. => (Pic::Rising, "rising"),
        ..=-0.2 => (Pic::Falling, "falling"),
        _ => (Pic::Go, "steady"),
    })
}

/// Water, a second thought, and the dark.
fn keys() -> AnyView {
    let store = store();
    let offers = Offers::of(store);
    let water = on_press(Store::open_water);
    let dark = on_press(|store| store.go(Route::ToTheDark));
    let all = vec![
        key("key--wet", "WATER", water),
        key_resting("key--wet", offers.label(), offers.are_none(), offers.on_press()),
        key_more("key--wet", "DARK", said(move || for_the_dark(store)), dark),
    ];
    el("div", "keys facts", all)
}

/// The one thing to do next.
fn doing() -> AnyView {
    let store = store();
    let (says, more) = (said(move || in_words(store).0), said(move || in_words(store).1));
    let key = key_more("key--wet key--next", says, more, on_press(do_next));
    el("div", "start", vec![key])
}

/// What the key says, and its quieter line.
fn in_words(store: Store) -> (String, String) {
    let now = store.coarse_now.get();
    let words = store.with_evening(|evening| words::next(evening, now));
    words.unwrap_or_else(|| match unread(store) {
        Some(place) => {
            let place = text::place(place).to_ascii_uppercase();
            (format!("MEASURE {place}"), "swirl, then read".to_owned())
        }
        None => ("GO TO THE DARK".to_owned(), "no tub: no estimate".to_owned()),
    })
}

/// The first place that nobody has read.
fn unread(store: Store) -> Option<Place> {
    let places = store.places_to_check();
    let open = store.run.read();
    let run = &open.as_ref()?.run;
    places.into_iter().find(|place| run.last_reading(*place).is_none())
}

/// Does what the key says.
pub fn do_next(store: Store) {
    let look = || {
        store.with_evening(|evening| match evening.tempering.next {
            Next::Measure { node } | Next::Wait { node, .. } => {
                (Some(evening.place_of(node)), None)
            }
            Next::Lift { bottle } => (None, Some(evening.place_of(bottle))),
            Next::Swap { .. } if evening.is_held => (Some(Place::Tub), None),
            Next::Swap { .. } | Next::CannotGetThere { .. } => (None, Some(Place::Tub)),
            Next::Ready => (None, None),
        })
    };
    let next = untrack(look);
    match next {
        Some((Some(place), _)) => store.open_keypad(place),
        Some((None, Some(Place::Bottle(bath)))) => {
            let _ = store.dispatch(Command::MoveBottle { bath, back: false });
        }
        Some((None, Some(_))) => store.open_water(),
        Some((None, None)) => store.go(Route::ToTheDark),
        None => match untrack(|| unread(store)) {
            Some(place) => store.open_keypad(place),
            None => store.go(Route::ToTheDark),
        },
    }
}
