//! Hang: after the last bath. Nothing to press until the gloves are off.

use leptos::prelude::*;
use session::run::Tank;

use super::run::Offers;
use super::{on_press, store};
use crate::parts::pic::{Pic, picture};
use crate::parts::{all, changing, either, el, el_as, key, key_more, live, said, shown, words};
use crate::store::{Backup, Store};
use crate::text;

/// The film hangs.
#[component]
pub fn Hang() -> impl IntoView {
    let store = store();
    let end = move || {
        let open = store.run.read();
        let run = &open.as_ref()?.run;
        let (at, stopped) = match run.state.tank {
            Tank::Done { at } => (at, false),
            Tank::Left { at } => (at, true),
            Tank::Ready | Tank::Bath { .. } | Tank::Asking { .. } => return None,
        };
        let wall = at.plus_ms(run.state.clock_shift_ms);
        let dry = wall.plus_ms(run.plan.drying_ms);
        Some((text::hour_minute(wall), text::hour_minute(dry), stopped))
    };
    let practice = Memo::new(move |_| store.is_practice());
    let stopped = Memo::new(move |_| end().is_some_and(|(_, _, stopped)| stopped));
    let done = on_press(Store::finish_run);
    let more = said(move || if practice.get() { "" } else { "gloves off" }.to_owned());
    let list = either(
        move || stopped.get() || practice.get(),
        move || el("div", "hang__list", vec![shown(move || !practice.get(), was_stopped)]),
        move || {
            let dry = move || end().map(|(_, dry, _)| dry).unwrap_or_default();
            let dry = vec![
                words("span", "soft", "Dry about "),
                changing(said(dry)),
                words("span", "soft", ", estimate"),
            ];
            let list = vec![
                words("li", "now", "Gently. Then hang it."),
                words("li", "", "Peg on top, weight below."),
                words("li", "", "No dust, no fingers."),
                el("li", "", dry),
            ];
            el("ul", "hang__list", list)
        },
    );
    let at = live("span", "", move || end().map(|(at, _, _)| at).unwrap_or_default());
    let all = vec![
        el("header", "head", vec![words("h1", "", "Hang"), at]),
        picture(Pic::Hanger, "hang__pic"),
        shown(move || practice.get(), practised),
        list,
        el("div", "hang__doing", vec![doing(), key_more("key--wet key--next", "DONE", more, done)]),
    ];
    el("main", "session hang", all)
}

fn was_stopped() -> AnyView {
    words("p", "now", "Stopped and kept. Lid stays on until the film is fixed.")
}

/// What practice has shown, and the offer to go by it.
fn practised() -> AnyView {
    let store = store();
    let hands = move || store.practised_hands();
    let seconds =
        |seconds: Option<u32>| seconds.map_or("not seen".to_owned(), |s| format!("{s} s"));
    let take = on_press(Store::take_hands);
    let row = |what: &'static str, seen: Signal<String>| {
        el("p", "", vec![words("span", "soft", what), changing(seen)])
    };
    let list = vec![
        words("p", "now", "Practice is over. No roll was made of it."),
        row("Pouring in ", said(move || seconds(hands().fill_s))),
        row("Pouring out ", said(move || seconds(hands().drain_s))),
    ];
    let seen = move || hands().fill_s.or(hands().drain_s).is_some();
    all(vec![
        el("div", "hang__list", list),
        shown(seen, move || key_more("key--wet", "GO BY THESE", "as your habits", take)),
    ])
}

/// What there still is to do: take the last tap back, save a run that is not kept; else a file of the
/// whole notebook, offered once after a session.
fn doing() -> AnyView {
    let store = store();
    let offers = Offers::of(store);
    let not_kept = move || store.not_kept().is_some();
    let is_due = move || {
        let open = store.run.read();
        let run = open.as_ref().map(|open| &open.run).filter(|run| !run.plan.practice);
        !not_kept() && run.is_some_and(|run| run.started_at() > store.file_saved.get())
    };
    let save = on_press(Store::save_open_run);
    let file = on_press(Store::save_notebook);
    let class = move || {
        let both = (not_kept() || is_due()) && offers.get() != (false, false);
        if both { "halves hang__halves" } else { "hang__one" }.to_owned()
    };
    let undo = move || key("key--wet", offers.label(), offers.on_press());
    let keys = vec![
        shown(move || offers.get() != (false, false), undo),
        shown(not_kept, move || key("key--wet", "SAVE THE RUN", save)),
        shown(is_due, move || key("key--wet", "SAVE A FILE", file)),
    ];
    let told = move || match store.backup.get() {
        Backup::Said(words) => words,
        Backup::None | Backup::Waits { .. } => String::new(),
    };
    all(vec![
        el_as("div", said(class), keys),
        shown(move || !told().is_empty(), move || live("p", "soft", told)),
    ])
}
