//! A rule with ticks, and the index where you are. Positions are fractions from 0 to 1.

use leptos::prelude::*;

/// Draws a rule. Its numbers are words elsewhere, so screen readers pass it by.
#[component]
pub fn Scale(
    /// Where you are.
    #[prop(into)]
    at: Signal<f64>,
    /// What is marked.
    #[prop(into)]
    ticks: Signal<Vec<f64>>,
) -> impl IntoView {
    let percent = |fraction: f64| format!("{:.1}%", fraction.clamp(0.0, 1.0) * 100.0);
    let tick = move |tick: f64| {
        let past = move || at.get() > tick;
        view! { <i class="scale__tick" class:scale__tick--past=past style:--at=percent(tick)></i> }
    };
    view! {
        <div class="scale" aria-hidden="true" style:--at=move || percent(at.get())>
            <i class="scale__done"></i>
            {move || ticks.get().into_iter().map(tick).collect_view()}
            <i class="scale__index"></i>
        </div>
    }
}
