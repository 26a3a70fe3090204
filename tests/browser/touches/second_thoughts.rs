//! UNDO, REDO, and "did it already".

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// A tap taken back three seconds after it was made.
async fn taken_back(page: &Page) -> (f64, f64) {
    let zero = steps::to_developer(page).await;
    page.advance_to(zero + 203.0).await;
    let tap = page.since().await;
    page.bath_is_out("Developer").await;
    page.advance(3.0).await;
    page.tap("button", "UNDO").await;
    (zero, tap)
}

/// The last instants at which the screen changed to these digits and these words, on the clock of
/// the step that began at `zero`.
async fn shown_at(page: &Page, timer: &str, zero: f64) -> f64 {
    let screens = page.heard().await.screens();
    let last = screens.iter().rev().find(|screen| screen.what.timer.as_deref() == Some(timer));
    last.unwrap_or_else(|| panic!("{timer} was not shown")).at - zero
}

#[test]
fn a_tap_taken_back_leaves_clock_and_cues_as_if_it_had_not_been() {
    run(async |stage| {
        let page = &stage.page;
        let (zero, _) = taken_back(page).await;
        assert_eq!(page.heading().await, "Run: Developer");
        assert_eq!(
            (page.state_word().await.as_str(), page.timer().await.as_str()),
            ("POUR", "0:04")
        );
        page.advance_to(zero + 236.0).await;
        let heard = page.heard().await;
        let unlike = steps::unlike(&heard, steps::DEVELOPER_CUES, zero, 207.0, 235.9);
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
        for (timer, at) in [("0:03", 207.0), ("+0:01", 211.0), ("+0:20", 230.0)] {
            let shown = shown_at(page, timer, zero).await;
            assert!((shown - at).abs() <= 0.1, "{timer} at {shown:.3} instead of {at}");
        }
    });
}

#[test]
fn a_tap_brought_back_leaves_clock_and_cues_where_it_had_put_them() {
    run(async |stage| {
        let page = &stage.page;
        let (_, tap) = taken_back(page).await;
        page.advance(2.0).await;
        page.tap("button", "REDO").await;
        let zero = tap + steps::LEAD_IN;
        assert_eq!(page.heading().await, "Run: Bleach-fix");
        assert_eq!(
            (page.state_word().await.as_str(), page.timer().await.as_str()),
            ("WAIT", "0:03")
        );
        page.advance_to(zero + 70.0).await;
        let heard = page.heard().await;
        let unlike = steps::unlike(&heard, steps::BLEACH_FIX_CUES, zero, -2.0, 69.5);
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
        for (timer, at) in [("7:59", 1.0), ("7:30", 30.0)] {
            let shown = shown_at(page, timer, zero).await;
            assert!((shown - at).abs() <= 0.1, "{timer} at {shown:.3} instead of {at}");
        }
    });
}

#[test]
fn a_tap_can_be_taken_back_for_a_minute() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 51.0).await;
        assert!(!page.the("button", "UNDO").await.disabled);
        page.advance_to(zero + 53.0).await;
        assert!(page.the("button", "UNDO").await.disabled);
        page.key("u").await;
        assert_eq!(page.heading().await, "Run: Developer");
    });
}

#[test]
fn a_tap_taken_back_after_its_pour_tone_asks_what_is_in_the_tank() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 205.0).await;
        page.bath_is_out("Developer").await;
        page.advance(7.0).await;
        page.tap("button", "UNDO").await;
        assert!(!page.shows("Still in").await, "the pour tone has not sounded");
        page.advance(0.8).await;
        page.tap("button", "REDO").await;
        page.advance(4.0).await;
        assert_eq!(page.state_word().await, "POUR");
        page.tap("button", "UNDO").await;
        assert!(page.shows("Still in: developer?").await, "{}", page.words().await);
        assert_eq!(page.heading().await, "Run: Developer");
        assert_eq!(page.state_word().await, "OVER");
    });
}

#[test]
fn a_reading_taken_back_is_gone_and_brought_back_is_there() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 36.0).await;
        page.read_tub("401").await;
        page.advance(7.0).await;
        assert!(page.shows("40.1 °C").await, "{}", page.words().await);
        page.tap("button", "UNDO").await;
        page.advance(1.0).await;
        assert!(!page.shows("40.1 °C").await, "{}", page.words().await);
        page.tap("button", "REDO").await;
        page.advance(1.0).await;
        assert!(page.shows("40.1 °C").await, "{}", page.words().await);
    });
}

#[test]
fn a_tap_made_late_is_dated_back_on_the_roll() {
    for (chip, row) in [
        ("5\u{a0}s ago", "Pre-soak 1:00 0:57 −0:03"),
        ("10\u{a0}s ago", "Pre-soak 1:00 0:52 −0:08"),
        ("20\u{a0}s ago", "Pre-soak 1:00 0:42 −0:18"),
    ] {
        run(async |stage| {
            let page = &stage.page;
            let zero = steps::to_pre_soak(page).await;
            page.advance_to(zero + 62.0).await;
            page.bath_is_out("Pre-soak").await;
            page.advance(1.0).await;
            page.tap("button", chip).await;
            assert_eq!(
                page.timer().await,
                "0:07",
                "the lead-in runs from the tap, as it was heard"
            );
            page.stop_here().await;
            page.open_the_roll().await;
            assert!(page.shows(row).await, "{row} is not in: {}", page.words().await);
        });
    }
}

#[test]
fn a_bath_that_is_over_can_be_out_some_seconds_ago() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 222.0).await;
        assert_eq!(page.state_word().await, "OVER");
        page.tap("button", "10\u{a0}s ago").await;
        assert_eq!(
            (page.heading().await.as_str(), page.timer().await.as_str()),
            ("Run: Bleach-fix", "0:08")
        );
        page.stop_here().await;
        page.open_the_roll().await;
        assert!(page.shows("Developer 3:30 3:32 +0:02").await, "{}", page.words().await);
    });
}
