//! A rule with ticks, and the index where you are. Positions are fractions from 0 to 1.

use std::sync::Arc;

use super::el::{all, el, el_at, fixed};
use super::shown::{anew, said};
use leptos::prelude::*;

/// Stands after the place of a tick that has been passed.
const PAST: &str = "+";

/// A fraction from 0 to 1 as a length for a style: a whole number of hundredths of a percent.
pub fn percent(fraction: f64) -> String {
    // Printing a whole number takes far less of the bundle than printing a fraction.
    #[expect(clippy::cast_possible_truncation, reason = "at most ten thousand")]
    let hundredths = (fraction.clamp(0.0, 1.0) * 10_000.0).round() as i32;
    format!("{}.{:02}%", hundredths / 100, hundredths % 100)
}

/// Draws a rule of where you are and its ticks. Its numbers are words elsewhere, so screen readers
/// pass it by.
pub fn scale(rule: impl Fn() -> (f64, Vec<f64>) + Send + Sync + 'static) -> AnyView {
    draw(Arc::new(rule))
}

#[inline(never)]
fn draw(rule: Arc<dyn Fn() -> (f64, Vec<f64>) + Send + Sync>) -> AnyView {
    let ruled = Arc::clone(&rule);
    // The ticks stand for as long as none of them is passed: only the index moves every second.
    let ticks = Memo::new(move |_| {
        let (at, ticks) = ruled();
        let ticks = ticks.into_iter();
        ticks
            .map(|tick| percent(tick) + if at > tick { PAST } else { "" } + " ")
            .collect::<String>()
    });
    let ticks = anew(move || all(ticks.read().split_whitespace().map(draw_tick).collect()));
    let line = vec![el("i", "scale__done", Vec::new()), ticks, el("i", "scale__index", Vec::new())];
    let at = said(move || percent(rule().0));
    el_at("div", fixed("scale"), vec![("aria-hidden", fixed("true"))], at, line)
}

fn draw_tick(tick: &str) -> AnyView {
    let past = tick.ends_with(PAST);
    let class = if past { "scale__tick scale__tick--past" } else { "scale__tick" };
    let at = Signal::stored(tick.trim_end_matches(PAST).to_owned());
    el_at("i", fixed(class), Vec::new(), at, Vec::new())
}
