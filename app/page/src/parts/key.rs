//! What is pressed: a word, perhaps a second line, and what it does on release.

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
            class=move || format!("key {}", class.get())
            disabled=move || resting.get()
            on:click=move |_| on_press.run(())
        >
            <span>{move || label.get()}</span>
            <Show when=move || !more.get().is_empty()>
                <span class="key__more">{move || more.get()}</span>
            </Show>
        </button>
    }
}
