//! Wash: counted up from the pour, ended by the eye.

use crate::parts::said;
use leptos::prelude::*;
use session::Command;
use session::entry::Look;
use session::view::{Scene, Washing};

use super::run::{Keys, Moment, clock_class, of_step};
use super::{on_press, store};
use crate::parts::Key;
use crate::parts::scale::{Scale, percent};
use crate::text;

/// The scale ends a little after the person's own habit.
const BEYOND: f64 = 1.11;

/// The last wash.
#[expect(clippy::too_many_lines, reason = "one screen, read from top to bottom")]
#[component]
pub fn Wash() -> impl IntoView {
    let store = store();
    let view = store.view;
    let wash = Memo::new(move |_| {
        let view = view.read();
        let Some(Scene::Washing(wash)) = view.as_ref().map(|view| &view.scene) else { return None };
        Some(wash.clone())
    });
    let step = move || {
        let view = view.read();
        of_step(store, view.as_ref(), |run, step, index| {
            let (least, most) = step.band;
            let water = format!("{} {}", text::range(least, most), text::unit());
            let of = format!("{} of {}", index + 1, run.plan.steps.len());
            (if run.plan.practice { "PRACTICE".to_owned() } else { of }, water)
        })
        .unwrap_or_default()
    };
    let class = move || {
        // The first seconds of a fill are for changing the water.
        let changing =
            |wash: &Washing| wash.fill > 1 && wash.since_change < 10_000 && wash.judged.is_none();
        if wash.read().as_ref().is_some_and(changing) {
            "session wash wash--change"
        } else {
            "session wash"
        }
    };
    let of_wash = move |of: fn(&Washing) -> String| {
        said(move || wash.read().as_ref().map(of).unwrap_or_default())
    };
    let digits = Memo::new(move |_| {
        wash.read().as_ref().map_or(String::new(), |wash| text::passed(wash.elapsed))
    });
    let long = move || clock_class(&digits.read());
    view! {
        <main class=class>
            <header class="run__where">
                <h1>"Wash"</h1>
                <span class="run__step">{said(move || step().0)}</span>
                <span class="wash__water">{said(move || step().1)}</span>
                <span class="wash__fill">{of_wash(|wash| format!("fill {}", wash.fill))}</span>
            </header>
            <Moment view />
            <div class="run__time">
                <div class=long role="timer" aria-live="off" aria-label="Wash, passed">{digits}</div>
            </div>
            <Marks wash />
            <p class="now wash__ask">{of_wash(ask)}</p>
            <p class="soft wash__left">{of_wash(left_over)}</p>
            <Halves />
            <Keys />
        </main>
    }
}

/// The two looks. Two equal halves: clear or not is a judgement.
#[component]
fn Halves() -> impl IntoView {
    let judge = |look: Look| {
        on_press(move |store| {
            let _ = store.dispatch(Command::Judge(look));
        })
    };
    view! {
        <div class="halves wash__halves">
            <Key class="key--wet key--sized" label="STILL TINTED".to_owned() on_press=judge(Look::Tinted) />
            <Key class="key--wet key--sized" label="CLEAR".to_owned() on_press=judge(Look::Clear) />
        </div>
    }
}

/// What the page asks or answers.
fn ask(wash: &Washing) -> String {
    match (wash.more_fills, wash.judged) {
        (Some(more), _) => {
            let fills = if more == 1 { "fill" } else { "fills" };
            format!("Clear. {} more {fills}.", text::number_first(more))
        }
        (None, Some(Look::Clear)) => "Clear. Once more.".to_owned(),
        (None, Some(Look::Tinted)) => "Still tinted. Go on.".to_owned(),
        (None, None) => "Is the water clear?".to_owned(),
    }
}

fn left_over(wash: &Washing) -> String {
    wash.left_over_one_in
        .map_or_else(|| "first fill".to_owned(), |one_in| format!("left over 1/{one_in}, estimate"))
}

/// The rule with the sheet's mark and the person's own.
#[component]
fn Marks(wash: Memo<Option<Washing>>) -> impl IntoView {
    let scale = move || wash.read().as_ref().map(places).unwrap_or_default();
    let times = move || {
        let wash = wash.read();
        wash.as_ref().map(|wash| (text::passed(wash.least), text::passed(wash.habit)))
    };
    view! {
        <div class="wash__marks">
            <Scale
                at=Signal::derive(move || scale().0)
                ticks=Signal::derive(move || vec![scale().1, scale().2])
            />
            <div class="wash__words">
                <span style:--at=move || percent(scale().1)>
                    <b>{said(move || times().map(|times| times.0).unwrap_or_default())}</b>" sheet"
                </span>
                <span style:--at=move || percent(scale().2)>
                    <b>{said(move || times().map(|times| times.1).unwrap_or_default())}</b>" yours"
                </span>
            </div>
        </div>
    }
}

/// Where the wash is, the sheet's mark and the person's own, from 0 to 1.
#[expect(clippy::cast_precision_loss, reason = "a wash is far shorter than 2^53 ms")]
fn places(wash: &Washing) -> (f64, f64, f64) {
    let end = wash.least.max(wash.habit) as f64 * BEYOND;
    let at = |ms: i64| ms as f64 / end;
    (at(wash.elapsed), at(wash.least), at(wash.habit))
}
