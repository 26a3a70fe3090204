//! What stays in its place while a run goes on: the head above, the keys below.

use leptos::prelude::*;
use session::Command;
use session::view::Scene;

use super::of_step;
use crate::parts::{changing, el, el_as, key, key_resting, live, said, whether, words};
use crate::screens::{on_press, store};
use crate::store::{Overlay, Store};
use crate::text;

/// The head: which step, of how many, and by any clock when it is out.
pub fn head() -> AnyView {
    let store = store();
    let view = store.still;
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
        let last = last.map(|last| format!("{} {}", text::degrees(last.celsius), text::unit()));
        last.unwrap_or_default()
    };
    let name = vec![words("span", "unseen", "Run: "), changing(said(move || step().0.to_owned()))];
    let all = vec![
        el("h1", "", name),
        live("span", "run__step", move || step().1),
        live("span", "run__temp", reading),
    ];
    el("header", "run__where", all)
}

/// What the key for UNDO and REDO offers: there is a tap to take back, and one to bring again.
#[derive(Clone, Copy, Debug)]
pub struct Offers {
    store: Store,
}

impl Offers {
    /// What is offered now.
    pub fn of(store: Store) -> Self {
        Self { store }
    }

    /// Whether there is a tap to take back, and one to bring again.
    pub fn get(self) -> (bool, bool) {
        let view = self.store.still.read();
        view.as_ref().map_or((false, false), |view| (view.undo.is_some(), view.redo.is_some()))
    }

    /// What the key says.
    pub fn label(self) -> Signal<String> {
        said(move || if self.get().1 { "REDO".to_owned() } else { "UNDO".to_owned() })
    }

    /// Whether there is nothing to take back and nothing to bring again.
    pub fn are_none(self) -> Signal<bool> {
        whether(move || self.get() == (false, false))
    }

    /// What the key does: what it says, not what may have come to be since.
    pub fn on_press(self) -> Callback<()> {
        on_press(move |store| {
            let (_, redo) = untrack(|| self.get());
            let _ = store.dispatch(if redo { Command::Redo } else { Command::Undo });
        })
    }
}

/// The three keys. They never move. UNDO reads REDO after it was pressed; if there is more to
/// undo then, UNDO takes TEMP's place.
pub fn keys() -> AnyView {
    let offers = Offers::of(store());
    let both = move || offers.get() == (true, true);
    let class = move || match offers.get() {
        (true, true) => "run__keys run__keys--undo run__keys--both".to_owned(),
        (false, false) => "run__keys".to_owned(),
        (true, false) | (false, true) => "run__keys run__keys--undo".to_owned(),
    };
    let temp = on_press(move |store| {
        if untrack(both) {
            let _ = store.dispatch(Command::Undo);
        } else {
            store.open_temp();
        }
    });
    let fault = on_press(|store| store.overlay.set(Overlay::Fault));
    let temp_label = said(move || if both() { "UNDO" } else { "TEMP" }.to_owned());
    let all = vec![
        key("key--wet run__temp-key", temp_label, temp),
        key("key--wet run__fault-key", "FAULT", fault),
        key_resting("key--wet run__undo-key", offers.label(), offers.are_none(), offers.on_press()),
    ];
    el_as("footer", said(class), all)
}

/// "Did it already?": the tank was empty earlier than the tap. In OVER these are the tap; `after`
/// it only its time is moved.
pub fn ago(after: Signal<bool>) -> AnyView {
    let chip = move |seconds: i64| {
        let press = on_press(move |store| {
            let ms = seconds * 1_000;
            let _ = store.dispatch(if after.get_untracked() {
                Command::BackDate { by_ms: ms }
            } else {
                Command::TankIsEmpty { ago_ms: ms }
            });
        });
        key("key--wet run__chip", format!("{seconds}\u{a0}s ago"), press)
    };
    let chips = [5, 10, 20].into_iter().map(chip).collect();
    let all = vec![words("p", "run__ago-words", "Did it already?"), el("div", "run__chips", chips)];
    el("div", "run__ago", all)
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
