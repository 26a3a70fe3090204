//! Elements that are drawn by the same code, whatever they are called and whatever stands in them:
//! measured in tens of kilobytes. `view!` is for what has attributes of its own.

use leptos::html::custom;
use leptos::prelude::*;

use super::shown::said;

/// An element with its class, and what stands in it.
///
/// The name is written as the browser gives it back, in capitals: what is drawn anew is compared by
/// it, and patched in its place where it is the same.
#[inline(never)]
pub fn el(tag: &'static str, class: &'static str, children: Vec<AnyView>) -> AnyView {
    custom(tag.to_ascii_uppercase()).class(class).child(children).into_any()
}

/// An element whose class changes.
#[inline(never)]
pub fn el_as(tag: &'static str, class: Signal<String>, children: Vec<AnyView>) -> AnyView {
    custom(tag.to_ascii_uppercase()).class(class).child(children).into_any()
}

/// An element with a text that stays.
pub fn words(tag: &'static str, class: &'static str, text: &'static str) -> AnyView {
    el(tag, class, vec![plain(text)])
}

/// An element with a text that changes.
pub fn live(
    tag: &'static str,
    class: &'static str,
    text: impl Fn() -> String + Send + Sync + 'static,
) -> AnyView {
    el(tag, class, vec![changing(said(text))])
}

/// A text that stays.
#[inline(never)]
pub fn plain(text: &'static str) -> AnyView {
    text.into_any()
}

/// A text that was put together and stays.
#[inline(never)]
pub fn made(text: String) -> AnyView {
    text.into_any()
}

/// A text that changes.
#[inline(never)]
pub fn changing(text: Signal<String>) -> AnyView {
    text.into_any()
}

/// Several things side by side.
#[inline(never)]
pub fn all(views: Vec<AnyView>) -> AnyView {
    views.into_any()
}

/// Something to press that is no key: with its classes, and what stands in it.
#[inline(never)]
pub fn press(class: Signal<String>, children: Vec<AnyView>, on_press: Callback<()>) -> AnyView {
    view! {
        <button type="button" class=class on:click=move |_| on_press.run(())>{children}</button>
    }
    .into_any()
}

/// Something to press that stays so until it is pressed again.
#[inline(never)]
pub fn toggle(
    class: &'static str,
    so: Signal<bool>,
    children: Vec<AnyView>,
    on_press: Callback<()>,
) -> AnyView {
    let pressed = said(move || so.get().to_string());
    view! {
        <button type="button" class=class aria-pressed=pressed on:click=move |_| on_press.run(())>
            {children}
        </button>
    }
    .into_any()
}

/// The mark of something that is so or not.
#[inline(never)]
pub fn mark(so: Signal<bool>) -> AnyView {
    el_as("i", said(move || if so.get() { "mark mark--so" } else { "mark" }.to_owned()), Vec::new())
}

/// A running clock, read out on request only.
#[inline(never)]
pub fn timer(
    tag: &'static str,
    class: Signal<String>,
    name: Signal<String>,
    time: Signal<String>,
) -> AnyView {
    custom(tag.to_ascii_uppercase())
        .class(class)
        .attr("role", "timer")
        .attr("aria-live", "off")
        .attr("aria-label", name)
        .child(time)
        .into_any()
}
