//! What stands beside a page where a window has room for both: the list that it is in, or the last run.

use std::sync::Arc;

use leptos::prelude::*;

use super::{Lines, groups};
use crate::browser::events;
use crate::parts::{all, anew, el_with, fixed, words};
use crate::route::Route;
use crate::screens::{roll, rolls, sheets, shelf, trials};
use crate::store::{Store, spawn};

/// A list of pages: its name, and what stands in it.
pub type List = (&'static str, Lines);

/// The list that this place is.
pub fn list(place: &Route) -> Option<List> {
    let lists: [(Route, List); 4] = [
        (Route::Rolls, ("Rolls", Arc::new(rolls::lines))),
        (Route::Trials, ("Trials", Arc::new(trials::all))),
        (Route::Shelf, ("Shelf", Arc::new(shelf::lines))),
        (Route::Sheets, ("Sheets", Arc::new(sheets::list))),
    ];
    lists.into_iter().find(|(route, _)| route == place).map(|(_, list)| list)
}

/// The list, drawn while there is room for it.
pub(super) fn drawn(store: Store, (name, lines): List) -> AnyView {
    anew(move || {
        if !store.finding.room.get() {
            return all(Vec::new());
        }
        // The next page comes with a list of its own: it is where this one was.
        on_cleanup(move || store.finding.list_at.set_value(events::list_scroll(None)));
        spawn(async move {
            events::list_scroll(Some(store.finding.list_at.get_value()));
        });
        let lines = Arc::clone(&lines);
        aside("desk__list", name, anew(move || all(groups(lines(store)))))
    })
}

/// The last run beside the Bench, while there is room for it.
pub fn last_run(store: Store) -> AnyView {
    anew(move || {
        let last = store.finding.room.get().then(|| store.last_run()).flatten();
        let run = last.map(|last| all(groups(roll::timeline(store, &last))));
        run.map_or_else(|| all(Vec::new()), |run| aside("desk__last", "Last run", run))
    })
}

fn aside(class: &'static str, name: &'static str, what: AnyView) -> AnyView {
    let what = vec![words("h2", "head__title", name), what];
    el_with("aside", fixed(class), vec![("aria-label", fixed(name))], what)
}

/// Whether the page that a row of a list leads to is open.
pub fn is_here(store: Store, id: &str) -> bool {
    store.route.with_untracked(|route| route.subject() == id)
}
