//! What the phone shows and says.
//!
//! Puts the browser behind the ports, mounts the page, and connects the two; nothing else.

mod browser;
mod keys;
mod parts;
mod ports;
mod route;
mod screens;
mod store;
mod text;
mod typed;

use leptos::mount::mount_to;
use leptos::prelude::*;
use session::habits::{Ground, Side};

use browser::{Ports, events};
use route::Route;
use store::Store;

fn main() {
    let owner = Owner::new();
    owner.set();
    let store = Store::new(Ports::new());
    // The page mounts in its own place, beside the last words that start.js shows if it breaks.
    let Some(place) = events::app_place() else { return };
    let mounted = mount_to(place, move || {
        provide_context(store);
        store.connect();
        look_as_the_person_likes(store);
        listen(store);
        screens::App()
    });
    mounted.forget();
    leptos::task::spawn_local(async move {
        store.load().await;
        // After everything else: it fetches the whole page once more.
        store.start_shell();
    });
    // The store lives as long as the page.
    std::mem::forget(owner);
}

/// Connects the store to what happens to the page as a whole.
fn listen(store: Store) {
    let hidden = RwSignal::new(false);
    events::on_view_change(move |in_view| {
        if in_view {
            store.show();
        } else {
            events::leave_field();
            store.hide();
        }
        hidden.set(!in_view);
    });
    tell_in_the_title(store, hidden);
    events::on_any_touch(move |is_down, counts| {
        if counts {
            store.touched();
        }
        store.touched_in_the_dark(is_down);
    });
    events::leave_no_focus_behind();
    events::on_resize(move || {
        let room = events::has_room();
        if room != store.finding.room.get_untracked() {
            store.finding.room.set(room);
        }
    });
    events::on_fragment(move |fragment| {
        let route = Route::parse(&fragment);
        if store.route.get_untracked() != route {
            events::leave_field();
            store.route.set(route);
        }
    });
}

fn look_as_the_person_likes(store: Store) {
    Effect::new(move |_| {
        let habits = store.habits.read();
        let ground = if habits.ground == Ground::Dim { "dim" } else { "bright" };
        let side = if habits.keys == Side::Left { "left" } else { "right" };
        events::set_root_attribute("data-theme", ground);
        events::set_root_attribute("data-keys", side);
    });
}

/// While the page is out of view its title, which stands in the list of windows, carries the time. In
/// view the page itself does: a title that changes every second would wake the whole browser for it.
fn tell_in_the_title(store: Store, hidden: RwSignal<bool>) {
    Effect::new(move |_| {
        let left = hidden.get().then(|| {
            let view = store.view.read();
            view.as_ref().map(|view| screens::run::strip_time(&view.scene))
        });
        let left = left.flatten().filter(|left| !left.is_empty());
        events::set_title(&left.map_or("Sinkside".to_owned(), |left| format!("{left} Sinkside")));
    });
}
