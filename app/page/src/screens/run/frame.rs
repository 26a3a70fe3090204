//! What stays in its place while a run goes on: the head above, the keys below.

use leptos::prelude::*;
use session::Command;
use session::view::View;

use super::of_step;
use crate::parts::Key;
use crate::screens::{on_press, store};
use crate::store::{Overlay, Store};
use crate::text;

/// The head: which step, of how many, and by any clock when it is out.
#[component]
pub fn Where(view: Memo<Option<View>>) -> impl IntoView {
    let store = store();
    let step = Memo::new(move |_| {
        let view = view.read();
        of_step(store, view.as_ref(), |run, step, index| {
            (text::bath(step.bath), format!("{} of {}", index + 1, run.plan.steps.len()))
        })
        .unwrap_or_default()
    });
    let out = Memo::new(move |_| {
        let view = view.read();
        view.as_ref().and_then(|view| view.out_at).map(|at| format!("out {}", text::clock_time(at)))
    });
    let reading = Memo::new(move |_| {
        let open = store.run.read();
        let last = open.as_ref().and_then(|open| open.run.state.readings.last().copied());
        last.map(|reading| format!("{} °C", text::degrees(reading.celsius)))
    });
    view! {
        <header class="run__where">
            <h1><span class="unseen">"Run: "</span>{move || step.get().0}</h1>
            <span class="run__count-of">{move || step.get().1}</span>
            <span class="run__temp run__soft">{reading}</span>
            <span class="run__out-at">{out}</span>
        </header>
    }
}

/// The three keys. They never move; what UNDO has to offer may take a place of theirs.
#[component]
pub fn Keys(view: Memo<Option<View>>) -> impl IntoView {
    let undo = Memo::new(move |_| view.read().as_ref().is_some_and(|view| view.undo.is_some()));
    let redo = Memo::new(move |_| view.read().as_ref().is_some_and(|view| view.redo.is_some()));
    let class = move || {
        let has = |so: bool, class: &'static str| if so { class } else { "" };
        format!(
            "run__keys{}{}",
            has(undo.get(), " run__keys--undo"),
            has(redo.get(), " run__keys--redo")
        )
    };
    let temp = on_press(Store::open_temp);
    let fault = on_press(|store| store.overlay.set(Overlay::Fault));
    let take_back = on_press(|store| {
        let _ = store.dispatch(Command::Undo);
    });
    let bring_back = on_press(|store| {
        let _ = store.dispatch(Command::Redo);
    });
    let nothing = Signal::derive(move || !undo.get());
    view! {
        <footer class=class>
            <Key class="key--wet run__temp-key" label="TEMP".to_owned() on_press=temp />
            <Key class="key--wet run__fault-key" label="FAULT".to_owned() on_press=fault />
            <Key class="key--wet run__undo-key" label="UNDO".to_owned() resting=nothing on_press=take_back />
            <Show when=move || redo.get()>
                <Key class="key--wet run__redo-key" label="REDO".to_owned() on_press=bring_back />
            </Show>
        </footer>
    }
}

/// "Did it already?": the tank was empty earlier than the tap. In OVER these are the tap.
#[component]
pub fn Ago(
    /// Whether the tap has been made, and only its time is to be moved.
    after: Signal<bool>,
) -> impl IntoView {
    let chip = move |seconds: i64| {
        let press = on_press(move |store| {
            let ms = seconds * 1_000;
            let _ = store.dispatch(if after.get_untracked() {
                Command::BackDate { by_ms: ms }
            } else {
                Command::TankIsEmpty { ago_ms: ms }
            });
        });
        view! { <Key class="key--wet run__chip" label=format!("{seconds} s ago") on_press=press /> }
    };
    view! {
        <div class="run__ago">
            <p class="run__soft">"Did it already?"</p>
            <div class="run__chips">{[5, 10, 20].map(chip)}</div>
        </div>
    }
}
