//! The line of the moment: what was just said, or what the page has to tell, or about the lid.

use leptos::prelude::*;
use session::spoken;

use super::of_step;
use crate::parts::{changing, el, el_as, said, shown};
use crate::screens::store;
use crate::store::Store;
use crate::text;

/// A sentence stands this long before the lid words come back.
const FRESH_MS: i64 = 6_000;

/// What the page has to tell of itself.
fn notice(store: Store) -> Option<text::Notice> {
    text::notice(
        store.not_kept(),
        store.sound.get(),
        store.speech.get(),
        store.lit.get(),
        store.away_ms.get(),
    )
}

/// What must be seen for as long as it is so, whatever else is said meanwhile; empty if nothing must.
pub fn grave_notice(store: Store) -> Memo<String> {
    Memo::new(move |_| {
        let grave = notice(store).filter(|notice| notice.is_grave);
        grave.map(|notice| notice.text).unwrap_or_default()
    })
}

/// The line of the moment. Its place does not change, whatever stands in it.
pub fn moment() -> AnyView {
    let store = store();
    let view = store.still;
    let fresh = Memo::new(move |_| {
        let age = store.now.get().since_ms(store.said_at.get());
        (0..FRESH_MS).contains(&age) && !store.said.read().is_empty()
    });
    let asked = move || view.read().as_ref().and_then(|view| view.still_in);
    let told = Memo::new(move |_| {
        if let Some(bath) = asked() {
            return format!("Still in: {}?", spoken::lower(bath));
        }
        let notice = notice(store);
        // While the big key is out nothing else says whether the lid stays on. What is grave
        // stands in a place of its own.
        let armed = view.read().as_ref().is_some_and(|view| view.armed);
        let notice = notice.filter(|notice| !armed && !notice.is_grave).map(|notice| notice.text);
        // Practice goes by the second.
        let hint = || {
            let view = store.is_practice().then(|| store.view.read());
            view.and_then(|view| Some(text::practice::hint(view.as_ref()?).to_owned()))
        };
        notice.or_else(|| store.invitation()).or_else(hint).unwrap_or_default()
    });
    let lid = move || {
        let view = view.read();
        of_step(store, view.as_ref(), |_, step, _| text::lid(step.light)).unwrap_or_default()
    };
    let teaches = move || {
        let view = view.read();
        store.is_practice() && view.as_ref().is_some_and(text::practice::goes_first)
    };
    let is_said = move || fresh.get() && asked().is_none() && !teaches();
    let said_class = said(move || if is_said() { "run__said" } else { "unseen" }.to_owned());
    let lid_class = said(move || {
        if told.read().is_empty() { "run__lid" } else { "run__lid run__lid--told" }.to_owned()
    });
    let line = move || {
        let line = said(move || {
            let told = told.get();
            if told.is_empty() { lid().to_owned() } else { told }
        });
        el_as("p", lid_class, vec![changing(line)])
    };
    let all = vec![
        el_as("p", said_class, vec![changing(said(move || store.said.get()))]),
        shown(move || !is_said(), line),
    ];
    el("div", "run__moment", all)
}
