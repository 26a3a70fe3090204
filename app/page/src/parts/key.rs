//! What is pressed: a word, perhaps a second line, and what it does on release.

use super::shown::{said, shown};
use leptos::prelude::*;

/// A key.
#[component]
pub fn Key(
    /// What it says.
    #[prop(into)]
    label: Signal<String>,
    /// A second, quieter line. Empty: none.
    #[prop(into, optional)]
    more: Signal<String>,
    /// Its classes beyond `key`.
    #[prop(into, default = Signal::stored(String::new()))]
    class: Signal<String>,
    /// Whether it rests in its place without doing anything.
    #[prop(into, optional)]
    resting: Signal<bool>,
    /// What it does.
    on_press: Callback<()>,
) -> impl IntoView {
    view! {
        <button
            type="button"
            class=said(move || format!("key {}", class.get()))
            disabled=resting
            on:click=move |_| on_press.run(())
        >
            <span>{label}</span>
            {shown(move || !more.get().is_empty(), move || view! {
                <span class="key__more">{more}</span>
            }.into_any())}
        </button>
    }
}
