//! A browser killed 300 ms after any tap of a run has lost nothing of it.

use serde_json::Value;

use crate::harness::run;
use crate::steps::{self, Steps};

/// A tap is safe after this long, in real seconds.
const SAFE_AFTER: f64 = 0.3;
/// The browser is open again after so long, in the page's seconds.
const AWAY: f64 = 1.0;
/// How often the whole run is gone through where tests may take long: about a hundred taps.
const LONG: usize = 8;

/// A tap of a run, after which the browser is killed.
struct Tap {
    /// Seconds from the page's coming back to the first of these taps.
    after: f64,
    /// Taps before it, which the browser outlives.
    before: &'static [&'static str],
    /// The key.
    key: &'static str,
    /// The entry of the log that it leaves.
    event: &'static str,
    /// Where the page is when it is opened again.
    heading: &'static str,
}

const fn tap(
    after: f64,
    before: &'static [&'static str],
    key: &'static str,
    event: &'static str,
    heading: &'static str,
) -> Tap {
    Tap { after, before, key, event, heading }
}

/// Every kind of tap that a whole run is made of.
const TAPS: [Tap; 14] = [
    tap(0.0, &[], "START", "started", "Run: Pre-soak"),
    tap(54.0, &[], "Pre-soak is out", "tank_emptied", "Run: Developer"),
    tap(1.0, &[], "UNDO", "undone", "Run: Pre-soak"),
    tap(1.0, &[], "REDO", "redone", "Run: Developer"),
    tap(40.0, &["TEMP", "3", "8"], "5", "read", "Run: Developer"),
    tap(30.0, &["FAULT"], "Light got in", "fault_noted", "Run: Developer"),
    tap(122.0, &[], "Developer is out", "tank_emptied", "Run: Bleach-fix"),
    tap(475.0, &[], "Bleach-fix is out", "tank_emptied", "Run: Wash"),
    tap(120.0, &[], "STILL TINTED", "judged", "Wash"),
    tap(240.0, &[], "CLEAR", "judged", "Wash"),
    tap(61.0, &[], "CLEAR", "judged", "Run: Rinse"),
    tap(64.0, &[], "Rinse is out", "tank_emptied", "Run: Stabiliser"),
    tap(1.0, &[], "WITH", "chosen", "Run: Stabiliser"),
    tap(64.0, &[], "Stabiliser is out", "tank_emptied", "Hang"),
];

/// A whole run, the browser killed after each of its taps. Gives how many entries of the log were
/// tapped, and which of them were lost.
fn a_run_killed_at_every_tap() -> (usize, Vec<String>) {
    let mut tapped = 0;
    let mut lost = Vec::new();
    run(async |stage| {
        steps::to_last_check(&stage.page).await;
        for (nth, tap) in TAPS.iter().enumerate() {
            let page = &stage.page;
            page.advance(tap.after).await;
            for key in tap.before {
                page.tap("button", key).await;
                page.advance(0.8).await;
            }
            let before = page.log().await;
            page.tap_only("button", tap.key).await;
            page.wait_real(SAFE_AFTER).await;
            stage.kill();
            stage.start_again(AWAY).await;
            stage.page.open_to(tap.heading).await;
            let after = stage.page.log().await;
            tapped += 1;
            let kept = after.starts_with(&before);
            let is_new = |entry: &Value| entry["event"] == tap.event;
            if !kept || !after.iter().skip(before.len()).any(is_new) {
                lost.push(format!("{nth}, {}: {after:?}", tap.key));
            }
        }
    });
    (tapped, lost)
}

#[test]
fn nothing_is_lost_by_a_kill_300_ms_after_any_tap_of_a_run() {
    let times = if std::env::var_os("SINKSIDE_LONG").is_some() { LONG } else { 1 };
    let (mut tapped, mut lost) = (0, Vec::new());
    for _ in 0..times {
        let (taps, gone) = a_run_killed_at_every_tap();
        tapped += taps;
        lost.extend(gone);
    }
    println!("{tapped} taps, the browser killed {SAFE_AFTER} s after each: {} lost", lost.len());
    assert!(lost.is_empty(), "{}", lost.join("\n"));
}
