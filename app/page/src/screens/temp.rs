//! TEMP: the keypad. Three digits are a reading; nothing else is pressed.

use leptos::prelude::*;
use process_model::quantity::Celsius;
use session::entry::Place;
use session::reading;
use session::run::Tank;

use super::{on_press, store};
use crate::parts::Key;
use crate::store::Store;
use crate::text;

/// The keypad for the place that the store names.
#[component]
pub fn Temp() -> impl IntoView {
    let store = store();
    let in_a_run = Memo::new(move |_| {
        let open = store.run.read();
        open.as_ref().is_some_and(|open| open.run.state.tank != Tank::Ready)
    });
    let asked_back = Memo::new(move |_| store.asked_back.get());
    view! {
        <main class="session session--pad">
            <Head />
            <Show when=move || in_a_run.get() && asked_back.get().is_none()>
                <Places />
            </Show>
            {move || match asked_back.get() {
                Some(asked) => view! { <AskedBack of=asked.of question=asked.question fix=asked.fix /> }.into_any(),
                None => view! { <Entry /><Pad /> }.into_any(),
            }}
        </main>
    }
}

/// Which place, and what to expect there.
#[component]
fn Head() -> impl IntoView {
    let store = store();
    let expect = Memo::new(move |_| {
        let open = store.run.read();
        let place = store.place.get();
        let range = open.as_ref().and_then(|open| reading::expected(&open.run, place));
        range.map(|(least, most)| format!("expect {}", text::range(least, most)))
    });
    view! {
        <header class="head">
            <h1>{move || text::place(store.place.get())}</h1>
            <span class="soft">{expect}</span>
        </header>
    }
}

/// In a run: the tub, or the tank.
#[component]
fn Places() -> impl IntoView {
    let store = store();
    let choose = |place: Place| on_press(move |store: Store| store.place.set(place));
    let class = move |place: Place| {
        let chosen = if store.place.get() == place { " key--chosen" } else { "" };
        format!("key--wet pad__place{chosen}")
    };
    let tub = Signal::derive(move || class(Place::Tub));
    let tank = Signal::derive(move || class(Place::InTheTank));
    view! {
        <div class="pad__places">
            <Key class=tub label="TUB".to_owned() on_press=choose(Place::Tub) />
            <Key class=tank label="IN THE TANK".to_owned() on_press=choose(Place::InTheTank) />
            <p class="soft pad__way">
                {move || match store.place.get() {
                    Place::InTheTank => "through the pouring opening, lid stays on",
                    Place::Tub | Place::Bottle(_) => "",
                }}
            </p>
        </div>
    }
}

/// The digits so far, and a mark for each that is missing.
#[component]
fn Entry() -> impl IntoView {
    let store = store();
    let shown = move || store.typed.read().shown();
    let wanted = Memo::new(move |_| store.typed.read().wanted());
    let hint = move || store.typing_hint.get();
    view! {
        <div class="entry">
            <span class="entry__digits">{shown}</span>
            {move || (0..wanted.get()).map(|_| view! { <i></i> }).collect_view()}
            <small>"°C"</small>
        </div>
        <p class="entry__hint" role="alert">{hint}</p>
    }
}

/// Ten digits, back and skip.
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
    let back = Callback::new(move |()| {
        if store.accepts_digit() {
            store.type_back();
        }
    });
    let skip = on_press(Store::close_overlay);
    view! {
        <div class="pad">
            {[1, 2, 3, 4, 5, 6, 7, 8, 9].map(digit)}
            <Key class="key--wet key--word pad__back" label="back".to_owned() on_press=back />
            {digit(0)}
            <Key class="key--wet key--word pad__skip" label="skip".to_owned() on_press=skip />
        </div>
    }
}

/// A reading that looks wrong: it is kept, and asked back once.
#[component]
fn AskedBack(
    /// Its log entry.
    of: u32,
    /// The question.
    question: String,
    /// What may have been meant.
    fix: Option<Celsius>,
) -> impl IntoView {
    let keep = on_press(Store::close_overlay);
    let again = on_press(|store| {
        let _ = store.dispatch(session::Command::Undo);
        store.open_keypad(store.place.get_untracked());
    });
    let fix = fix.map(|celsius| {
        let right = on_press(move |store| store.correct_reading(of, celsius));
        let label = format!("USE {}", text::degrees(celsius));
        view! { <Key class="key--wet key--next" label=label on_press=right /> }
    });
    view! {
        <p class="now asked__question">{question}</p>
        <div class="grow"></div>
        <div class="asked">
            {fix}
            <div class="halves">
                <Key class="key--wet" label="AS READ".to_owned() more="keep it".to_owned() on_press=keep />
                <Key class="key--wet" label="AGAIN".to_owned() more="type anew".to_owned() on_press=again />
            </div>
        </div>
    }
}
