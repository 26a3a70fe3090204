//! With or without the stabiliser: two equal halves, no sermon.

use leptos::prelude::*;
use session::Command;
use session::entry::With;

use super::on_press;
use super::run::{head, keys, moment};
use crate::parts::{el, key, words};

/// The question.
#[component]
pub fn Ask() -> impl IntoView {
    let choose = |with: With| {
        on_press(move |store| {
            let _ = store.dispatch(Command::Choose(with));
        })
    };
    let halves = vec![
        key("key--wet key--sized", "WITH", choose(With::With)),
        key("key--wet key--sized", "WITHOUT", choose(With::Without)),
    ];
    let all = vec![
        head(),
        moment(),
        words("p", "now ask__question", "Stabiliser or skip?"),
        el("div", "halves ask__halves", halves),
        keys(),
    ];
    el("main", "session ask", all)
}
