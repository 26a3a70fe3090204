//! FAULT: what went wrong in two taps, and what to do about it. The clock runs on.

use crate::parts::{said, shown};
use leptos::prelude::*;
use session::Command;
use session::entry::Fault;

use super::run::of_step;
use super::{on_press, store};
use crate::parts::Key;
use crate::store::{Overlay, Store};
use crate::text;

/// The faults, one key each.
#[component]
pub fn Faults() -> impl IntoView {
    let store = store();
    let view = store.view;
    let late = Memo::new(move |_| view.read().as_ref().is_some_and(|view| view.back_date));
    let to_late = on_press(|store| store.overlay.set(Overlay::Late));
    let back = on_press(Store::close_overlay);
    let key = |fault: Fault| {
        let note = on_press(move |store| store.note_fault(fault));
        view! { <Key class="key--wet" label=text::fault(fault).to_owned() on_press=note /> }
    };
    view! {
        <main class="session faults">
            <Strip title="Fault" />
            <div class="faults__keys">{Fault::ALL.map(key)}</div>
            <div class="faults__doing">
                {shown(move || late.get(), move || view! {
                    <Key class="key--wet faults__late" label="Tapped late".to_owned() on_press=to_late />
                }.into_any())}
                <Key class="key--wet key--next" label="BACK TO THE RUN".to_owned() on_press=back />
            </div>
        </main>
    }
}

/// The tank was empty before the tap that said so: by how much. Where the screen has no room for
/// it beside the clock.
#[component]
pub fn Late() -> impl IntoView {
    let back = on_press(Store::close_overlay);
    let chip = |seconds: i64| {
        let press = on_press(move |store| {
            let _ = store.dispatch(Command::BackDate { by_ms: seconds * 1_000 });
            store.close_overlay();
        });
        view! { <Key class="key--wet run__chip" label=format!("{seconds}\u{a0}s ago") on_press=press /> }
    };
    view! {
        <main class="session faults">
            <Strip title="Tapped late" />
            <div class="faults__when">
                <p class="now">"When was the tank empty?"</p>
                <div class="faults__chips">{[5, 10, 20].map(chip)}</div>
            </div>
            <div class="faults__doing">
                <Key class="key--wet key--next" label="BACK TO THE RUN".to_owned() on_press=back />
            </div>
        </main>
    }
}

/// What to do.
#[component]
pub fn Answer(
    /// About what.
    fault: Fault,
) -> impl IntoView {
    let store = store();
    let view = store.view;
    let answer = move || {
        let view = view.read();
        let answer = of_step(store, view.as_ref(), |_, step, _| text::answer(fault, Some(step)));
        answer.unwrap_or_else(|| text::answer(fault, None))
    };
    let back = on_press(Store::close_overlay);
    let leaving = fault == Fault::LeaveNow;
    let class = if leaving { "session faults faults--leave" } else { "session faults" };
    let washing = Memo::new(move |_| {
        let view = view.read();
        matches!(view.as_ref().map(|view| &view.scene), Some(session::view::Scene::Washing(_)))
    });
    let end_wash = on_press(|store| {
        store.close_overlay();
        let _ = store.dispatch(Command::EndWash);
    });
    let may_leave = Memo::new(move |_| {
        let open = store.run.read();
        let now = store.now.get();
        fault == Fault::LeaveNow
            && open
                .as_ref()
                .is_some_and(|open| session::decide(&open.run, Command::Leave, now).is_ok())
    });
    let leave = on_press(|store| {
        store.close_overlay();
        let _ = store.dispatch(Command::Leave);
    });
    view! {
        <main class=class>
            <Strip title=text::fault(fault) />
            <p class="now faults__answer">{answer}</p>
            <div class="faults__doing">
                {shown(move || fault == Fault::LeaveNow && washing.get(), move || view! {
                    <Key class="key--wet" label="END THE WASH".to_owned() on_press=end_wash />
                }.into_any())}
                {shown(move || may_leave.get(), move || view! {
                    <Key class="key--wet" label="STOP THE RUN HERE".to_owned() on_press=leave />
                }.into_any())}
                <Key class="key--wet key--next" label="BACK TO THE RUN".to_owned() on_press=back />
            </div>
        </main>
    }
}

/// The head of what lies over the run: a title, the step and its clock.
#[component]
pub fn Strip(
    /// What lies over the run.
    title: &'static str,
) -> impl IntoView {
    let store = store();
    let view = store.view;
    let clock = move || {
        let view = view.read();
        let view = view.as_ref()?;
        let bath = of_step(store, Some(view), |_, step, _| text::bath(step.bath))?;
        Some((bath, super::run::strip_time(&view.scene)))
    };
    view! {
        <header class="head">
            <h1>{title}</h1>
            <span class="soft strip">
                {said(move || clock().map(|(bath, _)| bath.to_owned()).unwrap_or_default())}" "
                <span role="timer" aria-live="off" aria-label=move || clock().map(|(bath, _)| bath)>
                    {said(move || clock().map(|(_, time)| time).unwrap_or_default())}
                </span>
            </span>
        </header>
    }
}
