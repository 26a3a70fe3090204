//! With or without the stabiliser: two equal halves, no sermon.

use leptos::prelude::*;
use session::Command;
use session::entry::With;

use super::run::{Keys, Moment, Where};
use super::{on_press, store};
use crate::parts::Key;

/// The question.
#[component]
pub fn Ask() -> impl IntoView {
    let store = store();
    let view = store.view;
    let choose = |with: With| {
        on_press(move |store| {
            let _ = store.dispatch(Command::Choose(with));
        })
    };
    view! {
        <main class="session ask">
            <Where view />
            <Moment view />
            <p class="now ask__question">"Stabiliser, or skip it?"</p>
            <div class="halves ask__halves">
                <Key class="key--wet key--sized" label="WITH".to_owned() on_press=choose(With::With) />
                <Key class="key--wet key--sized" label="WITHOUT".to_owned() on_press=choose(With::Without) />
            </div>
            <Keys />
        </main>
    }
}
