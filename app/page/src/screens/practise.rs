//! Practise with water: the real screens, no film, no chemistry, no roll.

use std::sync::Arc;

use leptos::prelude::*;

use super::desk::{Desk, Line, Press, act};
use crate::route::Route;

/// Before practice.
#[component]
pub fn Practise() -> impl IntoView {
    view! { <Desk title="Practise" here=Route::Bench back=None lines=Arc::new(|_| lines()) /> }
}

fn lines() -> Vec<Line> {
    let says = |words: &str| Line::Quiet(words.to_owned());
    vec![
        Line::Lead("Tap water, an empty tank, and the real clock.".to_owned()),
        says("Have ready: the tank with its reel and no film, a jug of cold tap water, a bowl."),
        says(
            "Pour in on the tone, and touch when the tank is full. Pour out when it says so, and touch when it is empty.",
        ),
        says(
            "It learns how long your pouring takes, and makes no roll. To leave: FAULT, then Leave now.",
        ),
        Line::Keys(vec![
            Press::new("START PRACTICE", act(|store| store.start_practice()))
                .more("5 seconds to the first pour")
                .so(true),
        ]),
    ]
}
