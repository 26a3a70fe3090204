//! The chart of one place: readings, fit, band, target and now; and the same as a table.

use leptos::prelude::*;
use process_model::quantity::Celsius;
use session::entry::Place;
use session::evening::{Evening, seconds};
use session::tempering::Fact;

use crate::parts::pic::{drawing, line};
use crate::parts::{all, el, made, words};
use crate::store::Store;
use crate::text::{self, tempering};

/// The chart's own width and height: it is stretched to its place.
const SIZE: (f64, f64) = (360.0, 240.0);
/// How many draws stand for the band, at how many instants.
const BAND: (u32, u32) = (24, 9);
/// At least so far ahead is drawn, in seconds.
const AHEAD_S: f64 = 900.0;

/// What is drawn: times in seconds of the evening, temperatures in °C.
pub struct Drawn {
    /// The readings.
    pub read: Vec<(f64, f64)>,
    /// The estimate, from the first instant it covers.
    pub fit: Vec<(f64, f64)>,
    /// From now on: coolest and warmest, eight in ten.
    pub band: Vec<(f64, f64, f64)>,
    /// What it is to reach.
    pub aim_c: Option<f64>,
    /// Now; nothing finite where all of it is over.
    pub now_s: f64,
}

/// The chart, if there is anything to draw.
pub fn chart(store: Store, place: Place) -> AnyView {
    let now = store.coarse_now.get();
    let drawn = store.with_evening(|evening| {
        let now_s = seconds(now.since_ms(evening.began)).max(0.0);
        Some((evening.began, drawn(evening, evening.node_of(place)?, now_s)?))
    });
    let Some((began, drawn)) = drawn.flatten() else { return ().into_any() };
    let at = |at_s: f64| text::hour_minute(tempering::after(began, at_s));
    let degrees = |celsius: f64| text::degrees(Celsius::new(celsius));
    let (from_s, until_s) = span(&drawn);
    let row = |what: &str, at_s: f64, celsius: f64| [what.to_owned(), at(at_s), degrees(celsius)];
    let read = drawn.read.iter().map(|(at_s, celsius)| row("read", *at_s, *celsius));
    let ahead = drawn.fit.iter().filter(|(at_s, _)| *at_s > drawn.now_s).step_by(4);
    let rows = read.chain(ahead.map(|(at_s, celsius)| row("estimate", *at_s, *celsius))).collect();
    let axis = vec![at(from_s), at(until_s)];
    draw(&drawn, (from_s, until_s), axis, ("Temperatures, read and estimated", rows))
}

/// A chart from one instant until another, words along its foot, and a table of the same by name.
pub fn draw(
    drawn: &Drawn,
    span: (f64, f64),
    axis: Vec<String>,
    (name, rows): (&'static str, Vec<[String; 3]>),
) -> AnyView {
    let cell = |text: String| el("td", "", vec![made(text)]);
    let row = |row: [String; 3]| el("tr", "", row.into_iter().map(cell).collect());
    // Without a caption a browser takes a table for a means of layout.
    let caption = words("caption", "", name);
    let rows = el("tbody", "", rows.into_iter().map(row).collect());
    let axis = axis.into_iter().map(|words| el("span", "", vec![made(words)]));
    all(vec![
        lines(drawn, span),
        el("p", "soft bottle__axis", axis.collect()),
        el("div", "unseen", vec![el("table", "", vec![caption, rows])]),
    ])
}

fn drawn(evening: &Evening, node: usize, now_s: f64) -> Option<Drawn> {
    let known = &evening.tempering;
    let estimate = known.estimate.as_ref()?;
    let from_s = known.from_s;
    let read = evening.noted.iter().filter_map(|noted| match noted.fact {
        Fact::Read { node: of, celsius } if of == node => Some((noted.at_s, celsius)),
        Fact::Read { .. } | Fact::Swapped { .. } | Fact::Lifted { .. } | Fact::PutBack { .. } => {
            None
        }
    });
    let until_s = now_s + AHEAD_S;
    let grid = |from: f64, count: u32| -> Vec<f64> {
        let step = (until_s - from) / f64::from(count - 1);
        (0..count).map(|nth| from + step * f64::from(nth)).collect()
    };
    let times = grid(from_s, 41);
    let of = |times: &[f64]| -> Option<Vec<f64>> {
        let own: Vec<f64> = times.iter().map(|at_s| at_s - from_s).collect();
        let all = estimate.temperatures(&own).ok()?;
        all.iter().map(|nodes| nodes.get(node).copied()).collect()
    };
    let fit = times.iter().copied().zip(of(&times)?).collect();
    let ahead = grid(now_s.max(from_s), BAND.1);
    let middle = of(&ahead)?;
    let band = ahead.iter().zip(middle).filter_map(|(at_s, celsius)| {
        let sd = *estimate.spread_k(at_s - from_s, BAND.0).ok()?.get(node)?;
        // Eight in ten lie within 1.2816 standard deviations.
        Some((*at_s, celsius - 1.2816 * sd, celsius + 1.2816 * sd))
    });
    let aim_c = known.aims_c.get(node).copied();
    Some(Drawn { read: read.collect(), fit, band: band.collect(), aim_c, now_s })
}

fn span(drawn: &Drawn) -> (f64, f64) {
    let first = drawn.read.first().map_or(drawn.now_s, |(at_s, _)| *at_s);
    let fit = drawn.fit.first().map_or(first, |(at_s, _)| *at_s);
    (first.min(fit), drawn.now_s + AHEAD_S)
}

fn lines(drawn: &Drawn, (from_s, until_s): (f64, f64)) -> AnyView {
    let warm = drawn.read.iter().chain(&drawn.fit).map(|(_, celsius)| *celsius).chain(drawn.aim_c);
    let (least, most) = warm.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), celsius| {
        (least.min(celsius), most.max(celsius))
    });
    let (least, most) = (least - 1.0, most + 1.0);
    let x = |at_s: f64| (at_s - from_s) / (until_s - from_s).max(1.0) * SIZE.0;
    // What sticks out is cut at the edge; the minus sign of print is none in a drawing.
    let y = |celsius: f64| ((most - celsius) / (most - least) * SIZE.1).clamp(0.0, SIZE.1);
    let point = |at_s: f64, celsius: f64| {
        format!("{},{} ", text::decimal(x(at_s), 1), text::decimal(y(celsius), 1))
    };
    let curve: String = drawn.fit.iter().map(|(at_s, celsius)| point(*at_s, *celsius)).collect();
    let under = drawn.band.iter().map(|(at_s, least, _)| point(*at_s, *least));
    let over = drawn.band.iter().rev().map(|(at_s, _, most)| point(*at_s, *most));
    let band: String = under.chain(over).collect();
    let across = |celsius: f64| format!("M0 {}H360", text::decimal(y(celsius), 1));
    let now = if drawn.now_s.is_finite() {
        format!("M{} 0V240", text::decimal(x(drawn.now_s), 1))
    } else {
        String::new()
    };
    // A line of next to no length with round ends is a dot, however the chart is stretched; one of none
    // is stretched with it in WebKit.
    let dots: String = drawn
        .read
        .iter()
        .map(|(at_s, celsius)| {
            format!("M{} {}h.01", text::decimal(x(*at_s), 1), text::decimal(y(*celsius), 1))
        })
        .collect();
    // Pairs of numbers after the first are corners.
    let through =
        |corners: String| if corners.is_empty() { corners } else { format!("M{corners}") };
    let lines = vec![
        line("chart__band", through(band)),
        line("chart__now", now),
        line("chart__target", drawn.aim_c.map(across).unwrap_or_default()),
        line("chart__curve", through(curve)),
        line("chart__reading", dots),
    ];
    drawing("chart".to_owned(), "0 0 360 240", "none", lines)
}
