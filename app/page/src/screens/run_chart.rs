//! The temperatures of a run as a chart, and the same as a table.

use std::sync::Arc;

use process_model::quantity::Celsius;
use session::Run;
use session::entry::Place;
use session::evening::seconds;
use session::plan::PlannedStep;
use session::run::Reading;
use session::timestamp::Timestamp;

use super::desk::Line;
use super::water::chart::{Drawn, draw};
use crate::parts::el;
use crate::text;

/// The chart of a run in which at least two temperatures were read that concern the developer.
pub fn of(run: &Run) -> Vec<Line> {
    let concerns = |reading: &&Reading| {
        !reading.doubted
            && match reading.place {
                Place::Tub | Place::InTheTank => true,
                Place::Bottle(bath) => bath.is_developer(),
            }
    };
    let readings: Vec<Reading> = run.state.readings.iter().filter(concerns).copied().collect();
    let [first, .., last] = readings.as_slice() else { return Vec::new() };
    let began = first.at;
    let at_s = |at: Timestamp| seconds(at.since_ms(began));
    let index = run.plan.steps.iter().position(PlannedStep::is_developer);
    let developer = index.and_then(|index| {
        let actual = run.state.actual.get(index)?;
        Some((run.plan.steps.get(index)?, actual.poured_at?, actual.out_at?))
    });
    let point = |reading: &Reading| (at_s(reading.at), reading.celsius.get());
    let tub = readings.iter().filter(|reading| reading.place == Place::Tub);
    let band = developer.map(|(step, poured, out)| {
        [poured, out].map(|at| (at_s(at), step.band.0.get(), step.band.1.get()))
    });
    let drawn = Drawn {
        read: readings.iter().map(point).collect(),
        fit: tub.map(point).collect(),
        band: band.map(Vec::from).unwrap_or_default(),
        aim_c: developer.and_then(|(step, ..)| step.aim).map(Celsius::get),
        now_s: f64::INFINITY,
    };
    let until = developer.map_or(last.at, |(_, _, out)| out.max(last.at));
    let warm = |pick: fn(f64, f64) -> f64| {
        let read = drawn.read.iter().map(|(_, celsius)| *celsius);
        Celsius::new(read.fold(first.celsius.get(), pick))
    };
    let range = format!("{} {}", text::range(warm(f64::min), warm(f64::max)), text::unit());
    let axis = vec![text::hour_minute(began), range, text::hour_minute(until)];
    let row = |reading: &Reading| {
        let place = text::place(reading.place).to_owned();
        [place, text::clock_time(reading.at), text::degrees(reading.celsius)]
    };
    let rows: Vec<_> = readings.iter().map(row).collect();
    let until_s = at_s(until);
    let chart = move || {
        let table = ("Temperatures, read", rows.clone());
        el("div", "reads", vec![draw(&drawn, (0.0, until_s), axis.clone(), table)])
    };
    let mut key = "Dots: tub, developer and tank, as read. Dashes: the tub.".to_owned();
    if developer.is_some() {
        key.push_str(" Line and shade: the sheet's aim and band for the developer.");
    }
    vec![Line::View(Arc::new(chart)), Line::Quiet(key)]
}
