//! What is pressed: a word, perhaps a second line, and what it does on release.
//!
//! Functions, not components: every key of the page is drawn by the same code.

use super::el::{button, changing, el};
use super::shown::shown;
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
    let more = more.map(|Label(more)| {
        shown(
            move || !more.read().is_empty(),
            move || el("span", "key__more", vec![changing(more)]),
        )
    });
    let words = std::iter::once(el("span", "", vec![changing(label)])).chain(more).collect();
    button(Signal::stored(format!("key {class}")), Vec::new(), resting, words, on_press)
}
