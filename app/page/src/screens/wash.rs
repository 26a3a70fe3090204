//! Wash: counted up from the pour, ended by the eye.

use leptos::prelude::*;
use session::Command;
use session::entry::Look;
use session::view::{Scene, Washing};

use super::run::{clock_class, keys, moment, of_step};
use super::{on_press, store};
use crate::parts::scale::{percent, scale};
use crate::parts::{changing, el, el_as, el_at, fixed, key, live, plain, said, timer, words};
use crate::store::Store;
use crate::text;

/// The scale ends a little after the person's own habit.
const BEYOND: f64 = 1.11;

/// The last wash.
#[component]
pub fn Wash() -> impl IntoView {
    let store = store();
    let view = store.view;
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
        let is_changing = of_wash(store, changing).unwrap_or_default();
        if is_changing { "session wash wash--change".to_owned() } else { "session wash".to_owned() }
    };
    let text_of =
        move |of: fn(&Washing) -> String| said(move || of_wash(store, of).unwrap_or_default());
    let digits = text_of(|wash| text::passed(wash.elapsed));
    let long = said(move || clock_class(&digits.read()).to_owned());
    let fill = text_of(|wash| format!("fill {}", wash.fill));
    let head = vec![
        words("h1", "", "Wash"),
        live("span", "run__step", move || step().0),
        live("span", "wash__water", move || step().1),
        el("span", "wash__fill", vec![changing(fill)]),
    ];
    let name = Signal::stored("Wash, so far".to_owned());
    let all = vec![
        el("header", "run__where", head),
        moment(),
        el("div", "run__time", vec![timer("div", long, name, digits)]),
        marks(store),
        el("p", "now wash__ask", vec![changing(text_of(ask))]),
        el("p", "soft wash__left", vec![changing(text_of(left_over))]),
        halves(),
        keys(),
    ];
    el_as("main", said(class), all)
}

/// Something about the wash that goes on.
fn of_wash<T>(store: Store, of: fn(&Washing) -> T) -> Option<T> {
    let view = store.view.read();
    let Scene::Washing(wash) = &view.as_ref()?.scene else { return None };
    Some(of(wash))
}

/// The two looks. Two equal halves: clear or not is a judgement.
fn halves() -> AnyView {
    let judge = |look: Look| {
        on_press(move |store| {
            let _ = store.dispatch(Command::Judge(look));
        })
    };
    let halves = vec![
        key("key--wet key--sized", "STILL TINTED", judge(Look::Tinted)),
        key("key--wet key--sized", "CLEAR", judge(Look::Clear)),
    ];
    el("div", "halves wash__halves", halves)
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
fn marks(store: Store) -> AnyView {
    let rule = move || of_wash(store, places).unwrap_or_default();
    let time = move |of: fn(&Washing) -> i64| {
        said(move || of_wash(store, of).map(text::passed).unwrap_or_default())
    };
    let mark = |at: Signal<String>, time: Signal<String>, whose: &'static str| {
        let time = el("b", "", vec![changing(time)]);
        el_at("span", fixed(""), Vec::new(), at, vec![time, plain(whose)])
    };
    let words = vec![
        mark(said(move || percent(rule().1)), time(|wash| wash.least), " sheet"),
        mark(said(move || percent(rule().2)), time(|wash| wash.habit), " yours"),
    ];
    let rule = scale(move || (rule().0, vec![rule().1, rule().2]));
    el("div", "wash__marks", vec![rule, el("div", "wash__words", words)])
}

/// Where the wash is, the sheet's mark and the person's own, from 0 to 1.
#[expect(clippy::cast_precision_loss, reason = "a wash is far shorter than 2^53 ms")]
fn places(wash: &Washing) -> (f64, f64, f64) {
    let end = wash.least.max(wash.habit) as f64 * BEYOND;
    let at = |ms: i64| ms as f64 / end;
    (at(wash.elapsed), at(wash.least), at(wash.habit))
}
