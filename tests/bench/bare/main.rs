//! The least page that starts as Sinkside does: Leptos, a router of its own with four views, and a
//! worker. What it costs is what the page is measured against.

use std::time::Duration;

use leptos::mount::mount_to_body;
use leptos::prelude::*;

fn main() {
    mount_to_body(Bare);
    let container = window().navigator().service_worker();
    drop(container.register("./sw.js"));
}

fn fragment() -> String {
    window().location().hash().unwrap_or_default()
}

#[component]
fn Bare() -> impl IntoView {
    let here = RwSignal::new(fragment());
    let changed = window_event_listener(leptos::ev::hashchange, move |_| here.set(fragment()));
    on_cleanup(move || changed.remove());
    view! {
        <nav>
            <a href="#/one">"One"</a>
            <a href="#/two">"Two"</a>
            <a href="#/three">"Three"</a>
            <a href="#/rest">"Rest"</a>
        </nav>
        <main>
            {move || match here.read().as_str() {
                "#/two" => Two().into_any(),
                "#/three" => Three().into_any(),
                "#/rest" => Rest().into_any(),
                _ => One().into_any(),
            }}
        </main>
    }
}

/// The first view: its one key leads to the second.
#[component]
fn One() -> impl IntoView {
    let go = |_| drop(window().location().set_hash("/two"));
    view! { <h1>"One"</h1><button class="develop" on:click=go>"Two"</button> }
}

#[component]
fn Two() -> impl IntoView {
    let count = RwSignal::new(0);
    view! { <h1>"Two"</h1><button on:click=move |_| count.update(|count| *count += 1)>{count}</button> }
}

#[component]
fn Three() -> impl IntoView {
    view! { <h1>"Three"</h1><ul>{(1..=9).map(|number| view! { <li>{number}</li> }).collect_view()}</ul> }
}

/// A digit a second.
#[component]
fn Rest() -> impl IntoView {
    let seconds = RwSignal::new(0);
    tick(seconds);
    view! { <h1>"Rest"</h1><p role="timer">{seconds}</p> }
}

fn tick(seconds: RwSignal<u32>) {
    set_timeout(
        move || {
            seconds.update(|seconds| *seconds += 1);
            tick(seconds);
        },
        Duration::from_secs(1),
    );
}
