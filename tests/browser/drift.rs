//! Time that is shown and sounded, against time that has passed: over minutes, an hour, and a day.
//!
//! Method, real clock: a change of the timer's text is stamped with `performance.now()` by a mutation
//! observer, so without what drawing takes; a tone is found in the rendered samples and placed by the
//! context's output timestamp. Both are compared with the press event of the tap that began the step.

use std::cell::RefCell;

use crate::harness::cues::{self, Channel};
use crate::harness::heard::Heard;
use crate::harness::page::Page;
use crate::harness::scene::{Clock, Scene};
use crate::harness::{run, run_in};
use crate::steps::{self, Steps};

/// Displayed time is never wrong by more, in seconds.
const SHOWN_WITHIN: f64 = 0.2;
/// Over a day the display moves by no more against true time, in seconds.
const DRIFT: f64 = 0.1;
/// A tone is never further from its instant, in milliseconds.
const TONE_WITHIN: f64 = 60.0;

fn is_long() -> bool {
    std::env::var_os("SINKSIDE_LONG").is_some()
}

/// Writes down every change of the timer from now on.
const WATCH: &str = "(() => {
    const seen = (window.seen = []);
    const look = () => {
        const text = document.querySelector('[role=timer]')?.innerText.trim() ?? '';
        if (seen.at(-1)?.[1] !== text) seen.push([performance.now(), text]);
    };
    const all = { subtree: true, childList: true, characterData: true };
    new MutationObserver(look).observe(document.body, all);
    return 0;
})()";

/// What a timer says, in seconds, without its sign: `2:10` and `+1:05`.
fn seconds(text: &str) -> Option<f64> {
    let (minutes, seconds) = text.trim_start_matches('+').split_once(':')?;
    let (minutes, seconds): (f64, f64) = (minutes.parse().ok()?, seconds.parse().ok()?);
    Some(minutes * 60.0 + seconds)
}

/// By how much each change of the digits came late, in seconds, for a step that is over at `over`
/// (seconds, as the changes are): before that the digits say what is left, after it what has passed.
fn lateness(changes: &[(f64, String)], from: f64, over: f64) -> Vec<f64> {
    let in_step = changes.iter().filter(|(at, _)| *at >= from);
    let late = |(at, text): &(f64, String)| {
        let shown = seconds(text)?;
        Some(at - over + if *at < over - SHOWN_WITHIN { shown } else { -shown })
    };
    in_step.filter_map(late).collect()
}

/// The value below which so much of the sorted values is.
fn percentile(sorted: &[f64], part: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a few thousand values")]
    let place = (sorted.len() as f64 - 1.0) * part;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the list")]
    let place = place.round() as usize;
    sorted[place]
}

fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    percentile(&sorted, 0.5)
}

/// Every change of the timer, in seconds of the page's monotonic clock.
async fn changes(page: &Page) -> Vec<(f64, String)> {
    let seen: Vec<(f64, String)> =
        serde_json::from_value(page.eval("seen").await).expect("changes of the timer");
    seen.into_iter().map(|(ms, text)| (ms / 1_000.0, text)).collect()
}

/// The last press, in seconds of the page's monotonic clock.
async fn last_press(page: &Page) -> f64 {
    let presses = page.heard().await.presses();
    let click = presses.iter().rev().find(|press| press.what.what == "click");
    click.expect("a press").what.stamp / 1_000.0
}

/// Three minutes and more by the real clock, an hour where tests may take long.
#[test]
fn real_time_display_and_tones_keep_time_over_three_minutes() {
    let long = is_long();
    let tones = RefCell::new(Vec::new());
    let scene = Scene { clock: Clock::Real, ..Scene::default() };
    run_in(scene, async |stage| {
        let page = &stage.page;
        page.open("").await;
        for key in steps::LAYING_OUT {
            page.wait_real(0.8).await;
            page.tap_only("button", key).await;
        }
        page.wait_real(0.8).await;
        page.eval(WATCH).await;
        page.tap_only("button", "START").await;
        page.wait_real(5.0 + 56.0).await;
        let pre_soak = last_press(page).await + steps::FIRST_LEAD_IN;
        page.tap_only("button", "Pre-soak is out").await;
        let listened = if long { steps::DEVELOPER - 5.0 } else { 120.0 };
        page.wait_real(steps::LEAD_IN + listened).await;
        let mut zero = last_press(page).await + steps::LEAD_IN;
        let heard = page.heard().await;
        tones.borrow_mut().extend(late_tones(&heard, "pre-soak_60_f10_d10_begin", pre_soak, 50.0));
        tones.borrow_mut().extend(late_tones(&heard, steps::DEVELOPER_CUES, zero, listened - 1.0));
        let mut length = steps::DEVELOPER;
        if long {
            page.tap_only("button", "Developer is out").await;
            page.wait_real(3_600.0 - 300.0).await;
            (zero, length) = (last_press(page).await + steps::LEAD_IN, steps::BLEACH_FIX);
        }
        let late = lateness(&changes(page).await, zero + 0.5, zero + length);
        println!("{}", display_is_right(&late, if long { 3_000 } else { 100 }));
    });
    let mut off: Vec<f64> = tones.borrow().iter().map(|late: &f64| late.abs()).collect();
    off.sort_by(f64::total_cmp);
    let worst = off.last().copied().unwrap_or(f64::INFINITY);
    println!("tone onsets against tap + lead-in + cue, rendered samples by output timestamp:");
    println!("| tones | p50 | p95 | worst |\n|---|---|---|---|");
    let (p50, p95) = (percentile(&off, 0.5), percentile(&off, 0.95));
    println!("| {} | {p50:.1} ms | {p95:.1} ms | {worst:.1} ms |", off.len());
    assert!(worst <= TONE_WITHIN, "{off:?}");
}

/// How late each tone of an agreed timeline sounded, in milliseconds; all of them must be found.
fn late_tones(heard: &Heard, case: &str, zero: f64, until: f64) -> Vec<f64> {
    let mut agreed = cues::agreed(case);
    agreed.retain(|cue| cue.channel == Channel::Tone && (-0.5..until).contains(&cue.at));
    let onset = |onset: &crate::harness::heard::Timed<crate::harness::heard::Onset>| {
        onset.what.output_ms.unwrap_or(onset.what.rendered_ms)
    };
    let onsets: Vec<f64> = heard.onsets().iter().map(onset).collect();
    let nearest = |at: f64| {
        let late = onsets.iter().map(|onset| onset - at);
        late.min_by(|one, other| one.abs().total_cmp(&other.abs()))
    };
    let late = agreed.iter().map(|cue| nearest((zero + cue.at) * 1_000.0).unwrap_or(f64::INFINITY));
    late.collect()
}

/// No change of the digits is off, and the last are no later than the first. Says how far off.
fn display_is_right(late: &[f64], least: usize) -> String {
    assert!(late.len() >= least, "only {} changes were seen", late.len());
    let worst = late.iter().copied().map(f64::abs).fold(0.0, f64::max);
    let some = (late.len() / 4).clamp(10, 600);
    let drift = median(&late[late.len() - some..]) - median(&late[..some]);
    assert!(worst <= SHOWN_WITHIN, "{worst} s");
    assert!(drift.abs() <= DRIFT, "{drift} s");
    format!("{} changes of the digits, worst {worst:.3} s, drift {drift:+.3} s", late.len())
}

/// An hour in view, 22 hours hidden and woken once a minute, an hour in view; where tests may take
/// long, all of it in view.
#[test]
fn over_24_hours_the_display_moves_by_less_than_a_tenth_of_a_second() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_bleach_fix(page).await;
        page.eval(WATCH).await;
        let hour = 3_600.0;
        if is_long() {
            // What is heard is written down at every tick: too much for a day of it.
            page.advance_to(zero + 24.0 * hour).await;
        } else {
            page.advance_to(zero + hour).await;
            page.hide().await;
            page.advance_to(zero + 23.0 * hour).await;
            page.show().await;
            page.advance_to(zero + 24.0 * hour).await;
        }
        let began = page.eval("__clock.now().since - __clock.now().mono").await;
        let began = began.as_f64().expect("a time") / 1_000.0;
        let over = zero + steps::BLEACH_FIX - began;
        let from = zero - began + 0.5;
        let in_view = |at: f64| is_long() || at < from + hour || at > from + 23.0 * hour;
        let mut seen = changes(page).await;
        seen.retain(|(at, _)| in_view(*at));
        println!("{}", display_is_right(&lateness(&seen, from, over), 7_000));
        let expected = 24.0 * hour - steps::BLEACH_FIX;
        let shown = seconds(&page.timer().await);
        assert_eq!(shown, Some(expected), "{:?}", page.look().await);
    });
}
