//! Elements that are drawn by the same code, whatever they are called and whatever stands in them:
//! measured in tens of kilobytes. Each `view!` would be a type of its own.

use leptos::html::custom;
use leptos::prelude::*;
use leptos::tachys::renderer::Rndr;
use leptos::tachys::renderer::types::Element;

use super::shown::said;

/// An element with its class, and what stands in it.
///
/// The name is written as the browser gives it back, in capitals: what is drawn anew is compared by
/// it, and patched in its place where it is the same.
#[inline(never)]
pub fn el(tag: &'static str, class: &'static str, children: Vec<AnyView>) -> AnyView {
    custom(tag.to_ascii_uppercase()).attr("class", class).child(children).into_any()
}

/// An element whose class changes.
pub fn el_as(tag: &'static str, class: Signal<String>, children: Vec<AnyView>) -> AnyView {
    el_with(tag, class, Vec::new(), children)
}

/// Names of attributes, and what they say.
pub type Attributes = Vec<(&'static str, Signal<String>)>;

/// An element with attributes beyond its class.
pub fn el_with(
    tag: &'static str,
    class: Signal<String>,
    attributes: Attributes,
    children: Vec<AnyView>,
) -> AnyView {
    draw(tag, class, attributes, Also::default(), children)
}

/// An element at a place on a scale, from `0%` to `100%`.
pub fn el_at(
    tag: &'static str,
    class: Signal<String>,
    attributes: Attributes,
    at: Signal<String>,
    children: Vec<AnyView>,
) -> AnyView {
    draw(tag, class, attributes, Also { at: Some(at), ..Also::default() }, children)
}

/// Something to press, that rests in its place without doing anything while `resting` says so.
pub fn button(
    class: Signal<String>,
    attributes: Attributes,
    resting: Option<Signal<bool>>,
    children: Vec<AnyView>,
    on_press: Callback<()>,
) -> AnyView {
    let mut attributes = attributes;
    attributes.push(("type", fixed("button")));
    let also = Also { resting, on_press: Some(on_press), ..Also::default() };
    draw("button", class, attributes, also, children)
}

/// Somewhere to type.
pub fn input(
    tag: &'static str,
    class: &'static str,
    attributes: Attributes,
    typed: Typed,
) -> AnyView {
    draw(tag, fixed(class), attributes, Also { typed: Some(typed), ..Also::default() }, Vec::new())
}

/// What stands in a field, and what happens to it.
#[derive(Debug)]
pub struct Typed {
    /// What stands there; nothing for what is being typed, which is left alone.
    pub value: Option<String>,
    /// At each key.
    pub on_key: Callback<String>,
    /// As the field is left, if it was changed.
    pub on_left: Callback<String>,
}

/// Puts a text into a field.
fn put(field: Element, text: String) {
    Rndr::set_property_or_value(&field, "value", &text.into());
}

/// What few elements have.
#[derive(Debug, Default)]
struct Also {
    typed: Option<Typed>,
    at: Option<Signal<String>>,
    resting: Option<Signal<bool>>,
    on_press: Option<Callback<()>>,
}

/// Attributes are named by values, not by types, so that all elements are of one type.
#[inline(never)]
fn draw(
    tag: &'static str,
    class: Signal<String>,
    attributes: Attributes,
    also: Also,
    children: Vec<AnyView>,
) -> AnyView {
    let mut drawn = custom(tag.to_ascii_uppercase()).attr("class", class).child(children);
    for (name, says) in attributes {
        drawn = drawn.attr(name, says);
    }
    if let Some(at) = also.at {
        drawn = drawn.style(("--at", at));
    }
    if let Some(resting) = also.resting {
        drawn = drawn.attr("disabled", resting);
    }
    if let Some(on_press) = also.on_press {
        drawn = drawn.on(leptos::ev::click, move |_| on_press.run(()));
    }
    if let Some(Typed { value, on_key, on_left }) = also.typed {
        if let Some(value) = value {
            drawn = drawn.directive(put, value);
        }
        // A field that is taken away while somebody types there is left once more, when nobody is there
        // any longer to hear of it.
        drawn = drawn.on(leptos::ev::input, move |event| {
            let _ = on_key.try_run(event_target_value(&event));
        });
        drawn = drawn.on(leptos::ev::change, move |event| {
            let _ = on_left.try_run(event_target_value(&event));
        });
    }
    drawn.into_any()
}

/// What an attribute says for good.
#[inline(never)]
pub fn fixed(text: &'static str) -> Signal<String> {
    Signal::stored(text.to_owned())
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
pub fn press(class: Signal<String>, children: Vec<AnyView>, on_press: Callback<()>) -> AnyView {
    button(class, Vec::new(), None, children, on_press)
}

/// Something to press that stays so until it is pressed again.
pub fn toggle(
    class: &'static str,
    so: Signal<bool>,
    children: Vec<AnyView>,
    on_press: Callback<()>,
) -> AnyView {
    let pressed = vec![("aria-pressed", said(move || so.get().to_string()))];
    button(fixed(class), pressed, None, children, on_press)
}

/// A text that screen readers say at once.
pub fn alert(class: &'static str, text: AnyView) -> AnyView {
    el_with("p", fixed(class), vec![("role", fixed("alert"))], vec![text])
}

/// The mark of something that is so or not.
#[inline(never)]
pub fn mark(so: Signal<bool>) -> AnyView {
    el_as("i", said(move || if so.get() { "mark mark--so" } else { "mark" }.to_owned()), Vec::new())
}

/// A running clock, read out on request only.
pub fn timer(
    tag: &'static str,
    class: Signal<String>,
    name: Signal<String>,
    time: Signal<String>,
) -> AnyView {
    let attributes =
        vec![("role", fixed("timer")), ("aria-live", fixed("off")), ("aria-label", name)];
    el_with(tag, class, attributes, vec![changing(time)])
}
