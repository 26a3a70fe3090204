//! A rule with ticks, and the index where you are. Positions are fractions from 0 to 1.

use super::el::all;
use super::shown::{anew, said, whether};
use leptos::prelude::*;

/// A fraction from 0 to 1 as a length for a style: a whole number of hundredths of a percent.
pub fn percent(fraction: f64) -> String {
    // Printing a whole number takes far less of the bundle than printing a fraction.
    #[expect(clippy::cast_possible_truncation, reason = "at most ten thousand")]
    let hundredths = (fraction.clamp(0.0, 1.0) * 10_000.0).round() as i32;
    format!("{}.{:02}%", hundredths / 100, hundredths % 100)
}

/// Draws a rule. Its numbers are words elsewhere, so screen readers pass it by.
pub fn scale(at: Signal<f64>, ticks: impl Fn() -> Vec<f64> + Send + Sync + 'static) -> AnyView {
    let tick = move |tick: f64| {
        let past = whether(move || at.get() > tick);
        view! { <i class="scale__tick" class:scale__tick--past=past style:--at=percent(tick)></i> }
            .into_any()
    };
    let ticks = anew(move || all(ticks().into_iter().map(tick).collect()));
    view! {
        <div class="scale" aria-hidden="true" style:--at=said(move || percent(at.get()))>
            <i class="scale__done"></i>
            {ticks}
            <i class="scale__index"></i>
        </div>
    }
    .into_any()
}
