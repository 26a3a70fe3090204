//! FAULT: what went wrong in two taps, and what to do about it. The clock runs on.

use leptos::prelude::*;
use session::Command;
use session::entry::Fault;
use session::view::Scene;

use super::run::of_step;
use super::{on_press, store};
use crate::parts::{all, changing, el, key, live, made, plain, said, shown, timer, words};
use crate::store::{Overlay, Store};
use crate::text;

/// The key that leads back.
fn back(label: &'static str) -> AnyView {
    key("key--wet key--next", label, on_press(Store::close_overlay))
}

fn fault_key(fault: Fault) -> AnyView {
    key("key--wet", text::fault(fault), on_press(move |store| store.note_fault(fault)))
}

/// What lies over the run: a head, what there is to say or to choose, and keys.
pub fn over(class: &'static str, title: AnyView, middle: AnyView, doing: Vec<AnyView>) -> AnyView {
    el("main", class, vec![title, middle, el("div", "faults__doing", doing)])
}

/// The faults, one key each.
pub fn faults() -> AnyView {
    let store = store();
    let late = move || store.view.read().as_ref().is_some_and(|view| view.back_date);
    let to_late = on_press(|store| store.overlay.set(Overlay::Late));
    let late = shown(late, move || key("key--wet faults__late", "Late touch", to_late));
    let keys = el("div", "faults__keys", Fault::ALL.into_iter().map(fault_key).collect());
    over("session faults", strip(plain("Fault")), keys, vec![late, back("BACK TO THE RUN")])
}

/// The tank was empty before the tap that said so: by how much. Where the screen has no room for
/// it beside the clock.
pub fn late() -> AnyView {
    let chip = |seconds: i64| {
        let press = on_press(move |store| {
            let _ = store.dispatch(Command::BackDate { by_ms: seconds * 1_000 });
            store.close_overlay();
        });
        key("key--wet run__chip", format!("{seconds}\u{a0}s ago"), press)
    };
    let chips = el("div", "faults__chips", [5, 10, 20].into_iter().map(chip).collect());
    let asked = words("p", "now", "When was the tank empty?");
    let when = el("div", "faults__when", vec![asked, chips]);
    over("session faults", strip(plain("Late touch")), when, vec![back("BACK TO THE RUN")])
}

/// What to do about a fault.
pub fn answer(fault: Fault) -> AnyView {
    let store = store();
    let view = store.view;
    let answer = move || {
        let view = view.read();
        let covers = store.covers(fault);
        let answer =
            of_step(store, view.as_ref(), |_, step, _| text::answer(fault, Some(step), covers));
        answer.unwrap_or_else(|| text::answer(fault, None, covers))
    };
    let leaving = fault == Fault::LeaveNow;
    let asked = fault.which();
    let which =
        if fault == Fault::Spilled { "faults__which faults__which--row" } else { "faults__which" };
    let which = el("div", which, asked.iter().copied().map(fault_key).collect());
    let class = if leaving || !asked.is_empty() {
        "session faults faults--leave"
    } else {
        "session faults"
    };
    let washing = move || {
        let view = view.read();
        leaving && matches!(view.as_ref().map(|view| &view.scene), Some(Scene::Washing(_)))
    };
    let does = |command: fn() -> Command| {
        on_press(move |store| {
            store.close_overlay();
            let _ = store.dispatch(command());
        })
    };
    let (end_wash, leave) = (does(|| Command::EndWash), does(|| Command::Leave));
    let may_leave = move || {
        let open = store.run.read();
        let now = store.now.get();
        let may =
            |open: &crate::store::OpenRun| session::decide(&open.run, Command::Leave, now).is_ok();
        leaving && open.as_ref().is_some_and(may)
    };
    let doing = vec![
        if asked.is_empty() { all(Vec::new()) } else { which },
        shown(washing, move || key("key--wet", "END THE WASH", end_wash)),
        shown(may_leave, move || key("key--wet", "STOP THE RUN HERE", leave)),
        if asked.is_empty() {
            back("BACK TO THE RUN")
        } else {
            key("key--wet", "BACK TO THE RUN", on_press(Store::close_overlay))
        },
    ];
    over(class, strip(plain(text::fault(fault))), live("p", "now faults__answer", answer), doing)
}

/// The head of what lies over the run: a title, the step and its clock.
pub fn strip(title: AnyView) -> AnyView {
    let store = store();
    let view = store.view;
    let clock = move || {
        let view = view.read();
        let clock = view.as_ref().and_then(|view| {
            let bath = of_step(store, Some(view), |_, step, _| text::bath(step.bath))?;
            Some((bath.to_owned(), super::run::strip_time(&view.scene)))
        });
        clock.unwrap_or_default()
    };
    let bath = said(move || clock().0);
    let time = timer("span", Signal::stored(String::new()), bath, said(move || clock().1));
    let strip = el("span", "soft strip", vec![changing(bath), made(" ".to_owned()), time]);
    el("header", "head", vec![el("h1", "", vec![title]), strip])
}
