//! What stays in its place while a run goes on: the head above, the keys below.

use crate::parts::said;
use leptos::prelude::*;
use session::Command;
use session::view::{Scene, View};

use super::of_step;
use crate::parts::Key;
use crate::screens::{on_press, store};
use crate::store::{Overlay, Store};
use crate::text;

/// The head: which step, of how many, and by any clock when it is out.
#[component]
pub fn Where(view: Memo<Option<View>>) -> impl IntoView {
    let store = store();
    let step = move || {
        let view = view.read();
        of_step(store, view.as_ref(), |run, step, index| {
            let of = format!("{} of {}", index + 1, run.plan.steps.len());
            (text::bath(step.bath), if run.plan.practice { "PRACTICE".to_owned() } else { of })
        })
        .unwrap_or_default()
    };
    let reading = move || {
        let open = store.run.read();
        let last = open.as_ref().and_then(|open| open.run.state.readings.last().copied());
        last.map(|reading| format!("{} {}", text::degrees(reading.celsius), text::unit()))
    };
    view! {
        <header class="run__where">
            <h1><span class="unseen">"Run: "</span>{said(move || step().0.to_owned())}</h1>
            <span class="run__step">{said(move || step().1)}</span>
            <span class="run__temp">{reading}</span>
        </header>
    }
}

/// What the key for UNDO and REDO offers: there is a tap to take back, and one to bring again.
#[derive(Clone, Copy, Debug)]
pub struct Offers {
    offers: Memo<(bool, bool)>,
}

impl Offers {
    /// What is offered now.
    pub fn of(store: Store) -> Self {
        let offers = Memo::new(move |_| {
            let view = store.view.read();
            view.as_ref().map_or((false, false), |view| (view.undo.is_some(), view.redo.is_some()))
        });
        Self { offers }
    }

    /// Whether there is a tap to take back, and one to bring again.
    pub fn get(self) -> (bool, bool) {
        self.offers.get()
    }

    /// What the key says.
    pub fn label(self) -> Signal<String> {
        Signal::derive(move || if self.get().1 { "REDO".to_owned() } else { "UNDO".to_owned() })
    }

    /// What the key does: what it says, not what may have come to be since.
    pub fn on_press(self) -> Callback<()> {
        on_press(move |store| {
            let redo = self.offers.get_untracked().1;
            let _ = store.dispatch(if redo { Command::Redo } else { Command::Undo });
        })
    }
}

/// The three keys. They never move. UNDO reads REDO after it was pressed; if there is more to
/// undo then, UNDO takes TEMP's place.
#[component]
pub fn Keys() -> impl IntoView {
    let offers = Offers::of(store());
    let both = move || offers.get() == (true, true);
    let class = move || match offers.get() {
        (true, true) => "run__keys run__keys--undo run__keys--both",
        (false, false) => "run__keys",
        (true, false) | (false, true) => "run__keys run__keys--undo",
    };
    let temp = on_press(move |store| {
        if untrack(both) {
            let _ = store.dispatch(Command::Undo);
        } else {
            store.open_temp();
        }
    });
    let fault = on_press(|store| store.overlay.set(Overlay::Fault));
    let temp_label =
        Signal::derive(move || if both() { "UNDO".to_owned() } else { "TEMP".to_owned() });
    let nothing = Signal::derive(move || offers.get() == (false, false));
    view! {
        <footer class=class>
            <Key class="key--wet run__temp-key" label=temp_label on_press=temp />
            <Key class="key--wet run__fault-key" label="FAULT".to_owned() on_press=fault />
            <Key class="key--wet run__undo-key" label=offers.label() resting=nothing on_press=offers.on_press() />
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
        view! { <Key class="key--wet run__chip" label=format!("{seconds}\u{a0}s ago") on_press=press /> }
    };
    view! {
        <div class="run__ago">
            <p class="run__ago-words">"Did it already?"</p>
            <div class="run__chips">{[5, 10, 20].map(chip)}</div>
        </div>
    }
}

/// What the digits count, for the timer's name.
pub fn timer_name(scene: &Scene) -> &'static str {
    match scene {
        Scene::LeadIn { .. } => "to the pour tone",
        Scene::Over { .. } => "over",
        Scene::Waiting { .. } => "since its time was up",
        Scene::PourIn { .. }
        | Scene::Agitate { .. }
        | Scene::Rest { .. }
        | Scene::PourBack { .. }
        | Scene::Ready
        | Scene::Washing(_)
        | Scene::Asking { .. }
        | Scene::Done { .. }
        | Scene::Left { .. } => "left",
    }
}
