//! What the phone shows and says.
//!
//! Puts the browser behind the ports, mounts the page, and connects the two; nothing else.

mod browser;
mod ports;
mod route;
mod store;
mod text;

use leptos::prelude::*;

fn main() {
    let s = store::Store::new(browser::Ports::new());
    s.connect();
}
