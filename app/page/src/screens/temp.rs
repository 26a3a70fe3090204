//! TEMP: the keypad. Three digits are a reading; nothing else is pressed.

use crate::parts::{anew, said, shown};
use leptos::prelude::*;
use session::entry::Place;
use session::reading;
use session::run::Tank;

use super::{on_press, store};
use crate::parts::Key;
use crate::store::{AskedBack, Store};
use crate::text;

/// The keypad for the place that the store names.
#[component]
pub fn Temp() -> impl IntoView {
    let store = store();
    let asked_back = Memo::new(move |_| store.asked_back.get());
    let class = move || {
        if asked_back.read().is_some() { "session session--asked" } else { "session session--pad" }
    };
    view! {
        <main class=class>
            <Head />
            {anew(move || match asked_back.get() {
                Some(asked) => view! { <Asked asked /> }.into_any(),
                None => view! {
                    <Entry />
                    <Pad />
                }
                .into_any(),
            })}
        </main>
    }
}

/// Which place, and what to expect there.
#[component]
fn Head() -> impl IntoView {
    let store = store();
    let expect = move || {
        let open = store.run.read();
        let place = store.place.get();
        let asked = store.asked_back.get();
        let range = match asked {
            Some(asked) => asked.expected,
            None => open.as_ref().and_then(|open| reading::expected(&open.run, place)),
        };
        range.map(|(least, most)| {
            let words = if least == most { "expect" } else { "in" };
            format!("{words} {}", text::range(least, most))
        })
    };
    view! {
        <header class="head">
            <h1>{said(move || text::place(store.place.get()).to_owned())}</h1>
            <span class="soft">{expect}</span>
        </header>
    }
}

/// The digits so far, a mark for each that is missing, and a note where there is one.
#[component]
fn Entry() -> impl IntoView {
    let store = store();
    let digits = said(move || store.typed.read().shown(text::scale()));
    let wanted = Memo::new(move |_| store.typed.read().wanted(text::scale()));
    let note = Memo::new(move |_| {
        let hint = store.typing_hint.get();
        match store.place.get() {
            _ if !hint.is_empty() => hint,
            Place::InTheTank => "Through the pouring opening, lid stays on.".to_owned(),
            Place::Tub | Place::Bottle(_) => String::new(),
        }
    });
    let class = move || if note.read().is_empty() { "entry" } else { "entry entry--noted" };
    view! {
        <div class=class>
            <span class="entry__digits">{digits}</span>
            {move || (0..wanted.get()).map(|_| view! { <i></i> }).collect_view()}
            <small>{text::unit()}</small>
        </div>
        {shown(move || !note.read().is_empty(), move || view! {
            <p class="entry__note" role="alert">{note}</p>
        }.into_any())}
    }
}

/// Ten digits, back and skip. In a run, before the first digit, the key for back changes between
/// the tub and the tank.
#[component]
fn Pad() -> impl IntoView {
    let store = store();
    let digit = move |digit: u8| {
        let press = Callback::new(move |()| {
            if store.accepts_digit() {
                store.type_digit(digit);
            }
        });
        view! { <Key class="key--wet" label=digit.to_string() on_press=press /> }
    };
    let other = Memo::new(move |_| {
        let open = store.run.read();
        let in_a_run = open.as_ref().is_some_and(|open| open.run.state.tank != Tank::Ready);
        let empty = store.typed.read().is_empty();
        let other = match store.place.get() {
            Place::Tub => Place::InTheTank,
            Place::InTheTank | Place::Bottle(_) => Place::Tub,
        };
        Some(other).filter(|_| in_a_run && empty)
    });
    let back = Callback::new(move |()| match other.get_untracked() {
        Some(other) if store.accepts_press() => store.place.set(other),
        None if store.accepts_digit() => store.type_back(),
        Some(_) | None => {}
    });
    let back_label = Signal::derive(move || {
        other
            .get()
            .map_or_else(|| "back".to_owned(), |place| text::place(place).to_ascii_lowercase())
    });
    let skip = on_press(Store::close_overlay);
    view! {
        <div class="pad">
            {[1, 2, 3, 4, 5, 6, 7, 8, 9].map(digit)}
            <Key class="key--wet key--word pad__back" label=back_label on_press=back />
            {digit(0)}
            <Key class="key--wet key--word pad__skip" label="skip".to_owned() on_press=skip />
        </div>
    }
}

/// A reading that looks wrong: it is kept, and asked back once.
#[component]
fn Asked(
    /// The reading.
    asked: AskedBack,
) -> impl IntoView {
    let of = asked.of;
    let keep = on_press(Store::close_overlay);
    let again = on_press(|store| {
        let _ = store.dispatch(session::Command::Undo);
        store.open_keypad(store.place.get_untracked());
    });
    let is_half = asked.is_half;
    let fix = asked.fix.map(|celsius| {
        let right = on_press(move |store| store.correct_reading(of, celsius));
        let label =
            if is_half { "+½".to_owned() } else { format!("USE {}", text::degrees(celsius)) };
        view! { <Key class="key--wet key--next" label=label on_press=right /> }
    });
    let near =
        asked.expected.map(|(least, most)| format!("Expected near {}.", text::range(least, most)));
    view! {
        <div class="asked__words">
            <p class="asked__question">{text::degrees(asked.celsius)}{(!is_half).then_some("?")}</p>
            <p class="now">{near}</p>
        </div>
        <div class="asked">
            {fix}
            <div class="halves">
                <Key
                    class="key--wet"
                    label="AS READ".to_owned()
                    more="keep it".to_owned()
                    on_press=keep
                />
                <Key
                    class="key--wet"
                    label="AGAIN".to_owned()
                    more="type anew".to_owned()
                    on_press=again
                />
            </div>
        </div>
    }
}
