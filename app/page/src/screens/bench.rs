//! Bench: what is next, what is running, what is there.

use crate::parts::{either, said, shown};
use leptos::prelude::*;
use session::run::Tank;

use super::run::{of_step, strip_time};
use super::{on_press, store};
use crate::parts::Key;
use crate::parts::pic::{Pic, Picture};
use crate::ports::Offline;
use crate::route::Route;
use crate::store::{KeptRun, Store};
use crate::text;

/// The front page.
#[component]
pub fn Bench() -> impl IntoView {
    let store = store();
    let live = Memo::new(move |_| {
        let open = store.run.read();
        open.as_ref().is_some_and(|open| open.run.state.tank != Tank::Ready)
    });
    let first = Memo::new(move |_| store.loaded.get() && store.kept.read().is_empty());
    view! {
        <div class="desk">
            <main class="desk__body desk__body--bench">
                <header class="head">
                    <h1 class="head__title">"Bench"</h1>
                </header>
                <Update />
                {shown(move || first.get() && !live.get(), move || view! {
                    <div class="first">
                        <p class="first__pics">
                            <Picture pic=Pic::Tub />
                            <Picture pic=Pic::Thermometer />
                            <Picture pic=Pic::Hanger />
                        </p>
                        <p class="lead">
                            "Sinkside keeps the time, aloud, while you develop colour film at a sink."
                        </p>
                    </div>
                }.into_any())}
                {either(move || live.get(), move || view! {
                    <Running />
                }.into_any(), || Develop().into_any())}
                {shown(move || !live.get(), move || view! {
                    <Practise />
                }.into_any())}
                <Ledger />
                <Ready />
            </main>
            <Bar here=Route::Bench />
        </div>
    }
}

/// The one thing to do when nothing runs.
#[component]
fn Develop() -> impl IntoView {
    let store = store();
    let begin = on_press(|store: Store| {
        let sheet = store.sheet(&store.habits.read_untracked().sheet);
        // A sheet that nobody has compared with a leaflet does not drive a prompt.
        if sheet.can_start() {
            store.go(Route::LayOut(usize::from(store.cautions_read.get_untracked())));
        } else {
            store.go(Route::Sheet(sheet.sheet.key.to_string()));
        }
    });
    let sheet = move || store.sheet(&store.habits.read().sheet).sheet.name.to_string();
    view! {
        <button type="button" class="key key--next develop" on:click=move |_| begin.run(())>
            <Picture pic=Pic::Tank />
            <span class="develop__words">
                "DEVELOP A ROLL"
                <span class="key__more">{sheet}</span>
            </span>
        </button>
    }
}

/// What can be done instead.
#[component]
fn Practise() -> impl IntoView {
    let practise = on_press(|store| store.go(Route::Practise));
    let write = on_press(|store: Store| store.go(Route::RollEdit(store.new_id())));
    view! {
        <div class="pair">
            <Key label="Practise".to_owned() more="with water".to_owned() on_press=practise />
            <Key label="New roll".to_owned() more="write it down".to_owned() on_press=write />
        </div>
    }
}

/// The run that goes on.
#[component]
fn Running() -> impl IntoView {
    let store = store();
    let view = store.view;
    let words = move || {
        let view = view.read();
        let view = view.as_ref()?;
        let bath = of_step(store, Some(view), |_, step, _| text::bath(step.bath));
        Some(bath.map_or_else(
            || "the film hangs".to_owned(),
            |bath| format!("{bath} {}", strip_time(&view.scene)),
        ))
    };
    let back = on_press(Store::return_to_run);
    view! {
        <button type="button" class="key key--next develop" on:click=move |_| back.run(())>
            <Picture pic=Pic::Tank />
            <span class="develop__words">
                "RUNNING: RETURN"
                <span class="key__more">{words}</span>
            </span>
        </button>
    }
}

/// Rows that lead on; each appears only when it has something to say.
#[component]
fn Ledger() -> impl IntoView {
    let store = store();
    let rolls = move || {
        let kept = store.kept.read();
        let readable = kept.iter().filter(|run| matches!(run, KeptRun::Readable(_))).count();
        let last = kept.iter().find_map(|run| match run {
            KeptRun::Readable(open) => open.run.started_at(),
            KeptRun::Unreadable { .. } => None,
        });
        (readable, last)
    };
    let unreadable = Memo::new(move |_| {
        store.kept.read().iter().filter(|run| matches!(run, KeptRun::Unreadable { .. })).count()
    });
    let to_rolls = on_press(|store| store.go(Route::Rolls));
    let to_settings = on_press(|store| store.go(Route::Settings));
    let to_file = on_press(|store| store.go(Route::Settings));
    let in_words = move || {
        let (count, last) = rolls();
        let runs = if count == 1 { "run" } else { "runs" };
        let last = last.map(|at| crate::browser::events::date(at.milliseconds()));
        format!("{count} {runs}, last {}", last.unwrap_or_default())
    };
    let habits = move || {
        let habits = store.habits.read();
        format!(
            "fill {} s, drain {} s, lead-in {} s",
            habits.fill_s, habits.drain_s, habits.lead_in_s
        )
    };
    view! {
        <div class="ledger">
            {shown(move || rolls().0 != 0, move || view! {
                <button type="button" class="ledger__row" on:click=move |_| to_rolls.run(())>
                    <span class="label">"Rolls"</span>
                    <span class="ledger__value">{said(in_words)}</span>
                    <Picture pic=Pic::Go class="pic--go" />
                </button>
            }.into_any())}
            {shown(move || unreadable.get() != 0, move || view! {
                <button type="button" class="ledger__row" on:click=move |_| to_rolls.run(())>
                    <span class="label">"Unreadable"</span>
                    <span class="ledger__value">{said(move || unreadable.get().to_string())}" to save as text"</span>
                    <Picture pic=Pic::Go class="pic--go" />
                </button>
            }.into_any())}
            {shown(move || 1 < store.unsaved_runs(), move || view! {
                <button type="button" class="ledger__row" on:click=move |_| to_file.run(())>
                    <span class="label">"Backup"</span>
                    <span class="ledger__value">{said(move || store.unsaved_runs().to_string())}" runs not in a file yet"</span>
                    <Picture pic=Pic::Go class="pic--go" />
                </button>
            }.into_any())}
            <button type="button" class="ledger__row" on:click=move |_| to_settings.run(())>
                <span class="label">"Yours"</span>
                <span class="ledger__value">{habits}</span>
                <Picture pic=Pic::Go class="pic--go" />
            </button>
        </div>
    }
}

/// Whether the page works without a network, and whether the notebook keeps.
#[component]
fn Ready() -> impl IntoView {
    let store = store();
    let offline = move || match store.offline.get() {
        Offline::Unknown => "",
        Offline::Fetching => "Still downloading for use offline.",
        Offline::Ready => "Ready offline.",
        Offline::Incomplete => "Not ready offline: files are missing. Open it with a network once.",
        Offline::Not => "Not ready offline: this browser keeps no copy.",
    };
    let kept = move || store.not_kept().map(text::store_error);
    view! {
        <p class="note bench__ready">{offline}</p>
        <p class="note" role="alert">{kept}</p>
    }
}

/// A new version is taken by a tap, and never while a run goes on.
#[component]
fn Update() -> impl IntoView {
    let store = store();
    let waits = Memo::new(move |_| {
        let live = store.run.read().is_some();
        store.update_waits.get() && !live
    });
    let update = on_press(Store::update_page);
    view! {
        {shown(move || waits.get(), move || view! {
            <div class="update">
                <p>"A new version is ready."</p>
                <Key label="UPDATE".to_owned() on_press=update />
            </div>
        }.into_any())}
    }
}

/// The places, and where you are.
#[component]
pub fn Bar(
    /// Where you are.
    here: Route,
) -> impl IntoView {
    let place = |name: &'static str, route: Route| {
        let class = if route == here { "bar__place bar__place--here" } else { "bar__place" };
        let current = (route == here).then_some("page");
        let go = on_press(move |store| store.go(route.clone()));
        view! {
            <button type="button" class=class aria-current=current on:click=move |_| go.run(())>
                {name}
            </button>
        }
    };
    view! {
        <footer class="desk__foot">
            <nav class="bar" aria-label="Places">
                {place("Bench", Route::Bench)}
                {place("Rolls", Route::Rolls)}
                {place("Sheets", Route::Sheets)}
                {place("Settings", Route::Settings)}
            </nav>
        </footer>
    }
}

/// The address of a run, but there is none.
#[component]
pub fn NoRun() -> impl IntoView {
    let bench = on_press(|store| store.go(Route::Bench));
    view! {
        <main class="session faults">
            <header class="head">
                <h1>"Run"</h1>
            </header>
            <p class="now faults__answer">"No run is open."</p>
            <div class="faults__doing">
                <Key class="key--wet key--next" label="TO THE BENCH".to_owned() on_press=bench />
            </div>
        </main>
    }
}
