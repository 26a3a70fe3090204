//! Rolls: one plain list of finished runs, and what cannot be read.

use leptos::prelude::*;
use session::run::Tank;

use super::bench::Bar;
use super::{on_press, store};
use crate::browser::events;
use crate::parts::Key;
use crate::parts::pic::{Pic, Picture};
use crate::route::Route;
use crate::store::{KeptRun, OpenRun};
use crate::text;

/// The list.
#[component]
pub fn Rolls() -> impl IntoView {
    let store = store();
    let none = Memo::new(move |_| store.kept.read().is_empty());
    let rows = move || store.kept.get().into_iter().map(row).collect_view();
    view! {
        <div class="desk">
            <main class="desk__body">
                <header class="head">
                    <h1 class="head__title">"Rolls"</h1>
                </header>
                <Show when=move || none.get()>
                    <p class="lead">"No run has been kept yet."</p>
                    <p class="quiet">"A run is kept here as it happens, tap by tap."</p>
                </Show>
                <div class="ledger">{rows}</div>
            </main>
            <Bar here=Route::Rolls />
        </div>
    }
}

fn row(kept: KeptRun) -> AnyView {
    match kept {
        KeptRun::Readable(open) => view! { <Readable open=*open /> }.into_any(),
        KeptRun::Unreadable { key, text } => view! { <Unreadable key text /> }.into_any(),
    }
}

#[component]
fn Readable(
    /// The run.
    open: OpenRun,
) -> impl IntoView {
    let id = open.record.record.id.clone();
    let go = on_press(move |store| store.go(Route::Roll(id.clone())));
    let date = open.run.started_at().map(|at| events::date(at.milliseconds()));
    let sheet = open
        .run
        .plan
        .sheet_id()
        .map_or(open.run.plan.sheet.clone(), |id| text::sheet(id).to_owned());
    view! {
        <button type="button" class="ledger__row ledger__row--roll" on:click=move |_| go.run(())>
            <span class="label">{date}</span>
            <span class="ledger__value">{sheet}<small>{in_short(&open)}</small></span>
            <Picture pic=Pic::Go class="pic--go" />
        </button>
    }
}

/// A run in a line: how it ended, and the developer planned and actual.
fn in_short(open: &OpenRun) -> String {
    let how = match open.run.state.tank {
        Tank::Done { .. } => "finished",
        Tank::Left { .. } => "stopped",
        Tank::Ready | Tank::Bath { .. } | Tank::Asking { .. } => "not finished",
    };
    let steps = open.run.plan.steps.iter().enumerate();
    let developer = steps.filter(|(_, step)| step.is_developer()).find_map(|(index, step)| {
        let clock = open.run.step_clock(index)?;
        let actual = open.run.state.actual.get(index)?;
        let zero = clock.zero(actual.poured_at?);
        let took = actual.out_at?.since_ms(zero);
        Some(format!(", developer {} of {}", text::nearest(took), text::passed(step.time_ms)))
    });
    how.to_owned() + &developer.unwrap_or_default()
}

#[component]
fn Unreadable(
    /// Where it was kept.
    key: String,
    /// What is there.
    text: String,
) -> impl IntoView {
    let name = format!("sinkside-unreadable-{}.txt", key.replace('/', "-"));
    let whole = text.clone();
    let save = on_press(move |store| store.save(&name, &whole));
    let shown: String = text.chars().take(400).collect();
    view! {
        <section class="unreadable">
            <h2 class="label">"Unreadable"</h2>
            <p>"This record cannot be read. Save its text; everything else works."</p>
            <pre class="raw" tabindex="0">{shown}</pre>
            <Key label="SAVE THE TEXT".to_owned() on_press=save />
        </section>
    }
}
