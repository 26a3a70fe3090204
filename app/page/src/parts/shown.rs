//! What follows the store, boxed and of one type, so that what draws it is compiled once and not for
//! each place it stands in: measured in tens of kilobytes.

use leptos::prelude::*;

/// A text that changes.
pub fn said(text: impl Fn() -> String + Send + Sync + 'static) -> Signal<String> {
    boxed_text(Box::new(text))
}

/// What `view` makes, while `when` says so.
pub fn shown(
    when: impl Fn() -> bool + Send + Sync + 'static,
    view: impl Fn() -> AnyView + Send + Sync + 'static,
) -> AnyView {
    boxed_either(Box::new(when), Box::new(view), Box::new(|| ().into_any()))
}

/// What `view` makes while `when` says so, and what `other` makes while it does not.
pub fn either(
    when: impl Fn() -> bool + Send + Sync + 'static,
    view: impl Fn() -> AnyView + Send + Sync + 'static,
    other: impl Fn() -> AnyView + Send + Sync + 'static,
) -> AnyView {
    boxed_either(Box::new(when), Box::new(view), Box::new(other))
}

/// What `view` makes, anew whenever what it read has changed.
pub fn anew(view: impl Fn() -> AnyView + Send + Sync + 'static) -> AnyView {
    boxed_view(Box::new(view))
}

type Drawn = Box<dyn Fn() -> AnyView + Send + Sync>;

/// A yes or no that changes.
pub fn whether(is_it: impl Fn() -> bool + Send + Sync + 'static) -> Signal<bool> {
    boxed_whether(Box::new(is_it))
}

fn boxed_whether(is_it: Box<dyn Fn() -> bool + Send + Sync>) -> Signal<bool> {
    Signal::derive(is_it)
}

fn boxed_text(text: Box<dyn Fn() -> String + Send + Sync>) -> Signal<String> {
    Signal::derive(text)
}

fn boxed_either(when: Box<dyn Fn() -> bool + Send + Sync>, view: Drawn, other: Drawn) -> AnyView {
    let when = Memo::new(move |_| when());
    // Only `when` decides what is drawn.
    boxed_view(Box::new(move || if when.get() { untrack(&view) } else { untrack(&other) }))
}

fn boxed_view(view: Drawn) -> AnyView {
    (move || view()).into_any()
}
