//! What rolls were given beside how they came out. Dots and their number, and no statistics: a few
//! rolls of one kitchen prove nothing.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::quantity::Celsius;
use process_model::sheet::Bath;
use session::evening::seconds;
use session::notebook::{Kind, Named, Record};
use session::plan::PlannedStep;
use session::rolls::pushed;

use super::desk::{Line, desk};
use super::roll_edit::DENSITIES;
use super::rolls::{sheet_name, title};
use super::water::chart::{Drawn, draw};
use crate::parts::el;
use crate::route::Route;
use crate::store::{OpenRun, Store};
use crate::text;

/// What is looked at, its unit (of a temperature the person's own), and with how many decimals it is said.
const MEASURES: [(&str, &str, u32); 4] = [
    ("Developer, as time at the aim (estimate)", "min", 1),
    ("Developer, mean temperature (estimate)", "", 1),
    ("Age of the developer", "days", 0),
    ("Rolls through it before", "rolls", 0),
];

/// One roll: its name, its place among the densities, and each measure that is known.
struct Shown {
    name: String,
    density: usize,
    measures: [Option<f64>; 4],
}

/// The screen.
pub(super) fn learned() -> AnyView {
    desk("Learning", &Route::Rolls, Some(("All trials", Route::Trials)), Arc::new(lines))
}

fn lines(store: Store) -> Vec<Line> {
    let (judged, pushed) = judged(store);
    // Rolls of two processes say nothing of each other: those by the sheet in use are shown, or by
    // that of any judged roll.
    let used = store.habits.with(|habits| habits.sheet.clone());
    let by_it = judged.iter().find(|(open, _)| open.run.plan.sheet == used);
    let Some((open, _)) = by_it.or(judged.first()) else {
        return vec![
            Line::Lead("No roll has been judged yet.".to_owned()),
            Line::Quiet("Open a roll, EDIT, then Negatives: thin, right or dense.".to_owned()),
        ];
    };
    let (sheet, name) = (&open.run.plan.sheet, sheet_name(open));
    let shown: Vec<Shown> = judged
        .iter()
        .filter(|(open, _)| open.run.plan.sheet == *sheet)
        .filter_map(|(open, roll)| {
            let density = DENSITIES.iter().position(|density| *density == roll.text("density"))?;
            Some(Shown { name: title(roll), density, measures: measures(store, open) })
        })
        .collect();
    let count = |(place, density): (usize, &str)| {
        let count = shown.iter().filter(|roll| roll.density == place).count();
        format!("{count} {density}")
    };
    let counts: Vec<_> = DENSITIES.into_iter().enumerate().map(count).collect();
    let mut lines = vec![Line::Lead([&name, ": ", &counts.join(", ")].concat())];
    lines.push(Line::Quiet(
        "Your own judgement of each roll. A few show a trend at best: change one thing at a time."
            .to_owned(),
    ));
    for (why, left_out) in
        [("By other sheets", judged.len() - shown.len()), ("Pushed or pulled", pushed)]
    {
        if left_out > 0 {
            lines.push(Line::Quiet(format!("{why}, and left out: {left_out}.")));
        }
    }
    for (place, (name, unit, places)) in MEASURES.into_iter().enumerate() {
        lines.push(Line::Heading(name.to_owned()));
        lines.extend(plot(&shown, place, unit, places));
    }
    lines
}

/// The rolls that somebody judged, each with its run; and how many were left out, because they were
/// pushed or pulled.
fn judged(store: Store) -> (Vec<(OpenRun, Record)>, usize) {
    let rolls = store.records_of(Kind::Roll).into_iter();
    let rolls = rolls.filter(|roll| !roll.text("density").is_empty());
    let mut judged: Vec<_> =
        rolls.filter_map(|roll| Some((store.kept_run(roll.text("run"))?, roll))).collect();
    let all = judged.len();
    judged.retain(|(_, roll)| pushed(roll).is_empty());
    let left_out = all - judged.len();
    (judged, left_out)
}

fn measures(store: Store, open: &OpenRun) -> [Option<f64>; 4] {
    let run = &open.run;
    let index = run.plan.steps.iter().position(PlannedStep::is_developer);
    let known = index
        .and_then(|index| store.developing_of(run, index, run.state.actual.get(index)?.out_at?));
    let began = run.started_at().unwrap_or_default();
    let poured = open.record.record.list("solutions").iter();
    let solution = poured.filter_map(|id| store.record(id.as_str()?)).find(|solution| {
        Bath::from_file_name(solution.text("bath")).is_some_and(Bath::is_developer)
    });
    let standing = solution.map(|solution| store.standing_at(&solution, began));
    // What nobody has read is not what the film was given.
    let known = known.filter(|known| known.readings > 0 || known.read.0);
    [
        known.as_ref().map(|known| known.equivalent_s / 60.0),
        known.as_ref().map(|known| known.course.mean_c),
        standing
            .as_ref()
            .and_then(|standing| Some(seconds(began.since_ms(standing.mixed_at?)) / 86_400.0)),
        standing.as_ref().map(|standing| standing.rolls),
    ]
}

/// One measure of all rolls of which it is known.
fn plot(shown: &[Shown], place: usize, unit: &str, places: u32) -> Vec<Line> {
    // The chart counts in seconds, and a thousand of them for one of anything shows any difference.
    let height = |roll: &Shown| [1.0, 2.0, 3.0].get(roll.density).copied();
    let known = |roll: &Shown| Some((roll.measures[place]? * 1e3, height(roll)?));
    let read: Vec<_> = shown.iter().filter_map(known).collect();
    let [first, ..] = read.as_slice() else {
        return vec![Line::Quiet("No judged roll has this yet.".to_owned())];
    };
    let end = |pick: fn(f64, f64) -> f64| read.iter().fold(first.0, |end, (x, _)| pick(end, *x));
    let (least, most) = (end(f64::min), end(f64::max));
    let room = ((most - least) * 0.1).max(100.0);
    // A temperature is said in the person's own scale.
    let value = |x: f64| match unit {
        "" => format!("{} {}", text::degrees(Celsius::new(x)), text::unit()),
        unit => format!("{} {unit}", text::decimal(x, places)),
    };
    let axis = vec![value(least / 1e3), "thin below, dense above".to_owned(), value(most / 1e3)];
    let row = |roll: &Shown| {
        let x = roll.measures[place].map(value)?;
        Some([roll.name.clone(), x, DENSITIES[roll.density].to_owned()])
    };
    let rows: Vec<_> = shown.iter().filter_map(row).collect();
    let count = read.len();
    let drawn =
        Drawn { read, fit: Vec::new(), band: Vec::new(), aim_c: None, now_s: f64::INFINITY };
    let chart = move || {
        let span = (least - room, most + room);
        el("div", "reads", vec![draw(&drawn, span, axis.clone(), ("Rolls", rows.clone()))])
    };
    let rolls = if count == 1 { "roll" } else { "rolls" };
    vec![Line::View(Arc::new(chart)), Line::Quiet(format!("{count} {rolls}."))]
}
