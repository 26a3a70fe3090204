//! What is pressed: a word, perhaps a second line, and what it does on release.
//!
//! Functions, not components: every key of the page is drawn by the same code.

use super::shown::{said, shown};
use leptos::prelude::*;

/// What a key says: a text, or one that changes.
#[derive(Clone, Copy, Debug)]
pub struct Label(Signal<String>);

impl From<&str> for Label {
    fn from(text: &str) -> Self {
        text.to_owned().into()
    }
}

impl From<String> for Label {
    #[inline(never)]
    fn from(text: String) -> Self {
        Self(Signal::stored(text))
    }
}

impl From<Signal<String>> for Label {
    fn from(text: Signal<String>) -> Self {
        Self(text)
    }
}

/// A key with its classes beyond `key`.
pub fn key(class: &'static str, label: impl Into<Label>, on_press: Callback<()>) -> AnyView {
    draw(class, label.into(), None, None, on_press)
}

/// A key with a second, quieter line. Empty: none.
pub fn key_more(
    class: &'static str,
    label: impl Into<Label>,
    more: impl Into<Label>,
    on_press: Callback<()>,
) -> AnyView {
    draw(class, label.into(), Some(more.into()), None, on_press)
}

/// A key that rests in its place without doing anything while `resting` says so.
pub fn key_resting(
    class: &'static str,
    label: impl Into<Label>,
    resting: Signal<bool>,
    on_press: Callback<()>,
) -> AnyView {
    draw(class, label.into(), None, Some(resting), on_press)
}

fn draw(
    class: &'static str,
    Label(label): Label,
    more: Option<Label>,
    resting: Option<Signal<bool>>,
    on_press: Callback<()>,
) -> AnyView {
    let resting = move || resting.is_some_and(|resting| resting.get());
    let more = more.map(|Label(more)| {
        shown(
            move || !more.read().is_empty(),
            move || view! { <span class="key__more">{said(move || more.get())}</span> }.into_any(),
        )
    });
    view! {
        <button
            type="button"
            class=format!("key {class}")
            disabled=resting
            on:click=move |_| on_press.run(())
        >
            <span>{label}</span>
            {more}
        </button>
    }
    .into_any()
}
