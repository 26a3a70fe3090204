//! A finished run: planned and actual, readings, faults, and its file.

use leptos::prelude::*;
use session::Run;
use session::plan::PlannedStep;
use session::timestamp::Timestamp;

use super::{on_press, store};
use crate::browser::events;
use crate::parts::Key;
use crate::route::Route;
use crate::store::{KeptRun, OpenRun, Store};
use crate::text;

/// One run.
#[component]
pub fn Roll(
    /// Its record.
    id: String,
) -> impl IntoView {
    let store = store();
    let open = Memo::new(move |_| {
        store.kept.read().iter().find_map(|kept| match kept {
            KeptRun::Readable(open) if open.record.record.id == id => Some(open.as_ref().clone()),
            KeptRun::Readable(_) | KeptRun::Unreadable { .. } => None,
        })
    });
    let back = on_press(|store| store.go(Route::Rolls));
    view! {
        <div class="desk">
            <main class="desk__body desk__body--roll">
                <header class="head">
                    <h1 class="head__title">"Roll"</h1>
                    <Key class="head__act" label="All rolls".to_owned() on_press=back />
                </header>
                {move || match open.get() {
                    Some(open) => view! { <Page open /> }.into_any(),
                    None => view! { <p class="lead">"There is no such run here."</p> }.into_any(),
                }}
            </main>
        </div>
    }
}

#[component]
fn Page(
    /// The run.
    open: OpenRun,
) -> impl IntoView {
    let run = open.run.clone();
    let date = run
        .started_at()
        .map(|at| format!("{}, {}", events::date(at.milliseconds()), text::hour_minute(at)));
    let sheet = run.plan.sheet_id().map_or(run.plan.sheet.clone(), |id| text::sheet(id).to_owned());
    let steps = run.plan.steps.iter().enumerate();
    let rows = steps.map(|(index, step)| step_row(&run, index, step)).collect_view();
    let readings = run.state.readings.iter().map(|reading| {
        let of = text::place(reading.place);
        let doubt = if reading.doubted { ", doubted" } else { "" };
        line(reading.at, format!("{of} {} °C{doubt}", text::degrees(reading.celsius)))
    });
    let faults =
        run.state.faults.iter().map(|(at, fault)| line(*at, text::fault(*fault).to_owned()));
    let notes: Vec<_> = readings.chain(faults).collect();
    let quiet = notes.is_empty();
    view! {
        <p class="lead">{sheet}</p>
        <p class="quiet">{date}</p>
        <table class="table">
            <thead>
                <tr>
                    <th scope="col">"Step"</th>
                    <th scope="col">"planned"</th>
                    <th scope="col">"actual"</th>
                </tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
        <section class="group">
            <h2 class="label">"Readings and faults"</h2>
            {quiet.then(|| view! { <p class="quiet">"None were noted."</p> })}
            <ul class="notes">{notes}</ul>
        </section>
        <File open />
    }
}

fn line(at: Timestamp, words: String) -> AnyView {
    view! { <li><span class="quiet">{text::clock_time(at)}</span>" "<span>{words}</span></li> }
        .into_any()
}

/// Planned and actual of one step, and by how much it was over or under.
fn step_row(run: &Run, index: usize, step: &PlannedStep) -> impl IntoView + use<> {
    let actual = run.state.actual.get(index).copied().unwrap_or_default();
    let clock = run.step_clock(index);
    let last_wash = run.plan.is_last_wash(index);
    let took = actual.poured_at.zip(actual.out_at).map(|(poured, out)| {
        let zero =
            clock.map_or(poured, |clock| if last_wash { poured } else { clock.zero(poured) });
        out.since_ms(zero)
    });
    let planned = if last_wash {
        format!("{} or more", text::passed(step.least_ms))
    } else {
        text::passed(step.time_ms)
    };
    let said = match took {
        _ if actual.left_out => "left out".to_owned(),
        Some(took) => text::nearest(took),
        None if actual.poured_at.is_some() => "not ended".to_owned(),
        None => "–".to_owned(),
    };
    let off = took.filter(|_| !last_wash).map(|took| text::off_by(took - step.time_ms));
    let below = took.is_some_and(|took| last_wash && took < step.least_ms);
    let below = below.then(|| format!("stopped below the sheet's {}", text::passed(step.least_ms)));
    view! {
        <tr>
            <th scope="row">{text::bath(step.bath)}</th>
            <td>{planned}</td>
            <td>{said}<small>{off}{below}</small></td>
        </tr>
    }
}

/// The run as a file.
#[component]
fn File(
    /// The run.
    open: OpenRun,
) -> impl IntoView {
    let json = open.record.with_log_to_json(&open.run);
    let name = format!("sinkside-run-{}.json", &open.record.record.id);
    let shown = json.clone();
    let copied = RwSignal::new("");
    let copy_text = json.clone();
    let copy = on_press(move |store: Store| {
        let copying = store.copy(copy_text.clone());
        leptos::task::spawn_local(async move {
            copied.set(if copying.await { "Copied." } else { "Not copied; save it instead." });
        });
    });
    let save = on_press(move |store| store.save(&name, &json));
    view! {
        <section class="group">
            <h2 class="label">"The file"</h2>
            <div class="pair">
                <Key label="SAVE".to_owned() more="as JSON".to_owned() on_press=save />
                <Key label="COPY".to_owned() more="as text".to_owned() on_press=copy />
            </div>
            <p class="note" role="alert">{copied}</p>
            <details>
                <summary>"Show it"</summary>
                <pre class="raw" tabindex="0">{shown}</pre>
            </details>
        </section>
    }
}
