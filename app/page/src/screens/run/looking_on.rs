//! The run in a window that only looks on.

use leptos::prelude::*;

use super::{bar, digits, ends_at, head, say, state_class};
use crate::parts::{el, el_as, key, live, said, words};
use crate::screens::{on_press, store};
use crate::store::Store;

/// The run as another window has it: to look at, and to take over.
#[component]
pub fn LookingOn() -> impl IntoView {
    let store = store();
    let view = store.view;
    let class = said(move || {
        format!("run run--looking-on run--{}", state_class(store.still.read().as_ref()))
    });
    let take = on_press(Store::take_over);
    let ends_at = move || ends_at(store, store.still.read().as_ref());
    let told = words("p", "run__lid run__lid--told", "This run is in another window.");
    let field = vec![
        head(),
        el("div", "run__moment", vec![told]),
        say(view),
        bar(view),
        digits(view),
        el("div", "run__act", vec![live("p", "run__ends", ends_at)]),
    ];
    let take = key("key--wet key--next run__take", "TAKE OVER HERE", take);
    let all = vec![el("section", "run__field", field), el("footer", "run__keys", vec![take])];
    el_as("main", class, all)
}
