//! A second touch, a touch that slides off, a key that is held.

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// The pre-soak is five seconds before its end.
async fn to_the_end_of_the_pre_soak(page: &Page) -> f64 {
    let zero = steps::to_pre_soak(page).await;
    page.advance_to(zero + 55.0).await;
    assert!(page.has("button", "Pre-soak is out").await, "{}", page.words().await);
    zero
}

/// The one pour tone of the developer is `after` seconds after `tap`.
async fn pours_at(page: &Page, tap: f64, after: f64) {
    page.advance_to(tap + after + 3.0).await;
    let tones = page.heard().await.tones();
    let at: Vec<_> = tones.iter().map(|tone| tone.at - tap).filter(|at| *at > 0.0).collect();
    // The end of the pre-soak's time has its own tone only while it is in.
    assert_eq!(at.len(), 1, "{at:?}");
    assert!((at[0] - after).abs() <= 0.1, "{at:?}");
    assert_eq!(page.state_word().await, "POUR");
    assert_eq!(page.heading().await, "Run: Developer");
}

#[test]
fn a_second_touch_within_seven_tenths_of_a_second_is_ignored() {
    run(async |stage| {
        let page = &stage.page;
        to_the_end_of_the_pre_soak(page).await;
        let (x, y) = page.the("button", "Pre-soak is out").await.rect.centre();
        let tap = page.since().await;
        page.touch_at(x, y).await;
        for _ in 0..2 {
            page.advance(0.3).await;
            // AGAIN is there now: it would begin the lead-in anew.
            page.touch_at(x, y).await;
        }
        pours_at(page, tap, steps::LEAD_IN).await;
    });
}

#[test]
fn a_touch_after_that_begins_the_lead_in_anew() {
    run(async |stage| {
        let page = &stage.page;
        to_the_end_of_the_pre_soak(page).await;
        let tap = page.since().await;
        page.bath_is_out("Pre-soak").await;
        page.advance(2.0).await;
        page.tap("button", "AGAIN").await;
        pours_at(page, tap, 2.0 + steps::LEAD_IN).await;
    });
}

#[test]
fn a_second_press_of_a_key_within_seven_tenths_of_a_second_is_ignored() {
    run(async |stage| {
        let page = &stage.page;
        to_the_end_of_the_pre_soak(page).await;
        let tap = page.since().await;
        page.key(" ").await;
        page.advance(0.3).await;
        page.key("Enter").await;
        page.advance(0.3).await;
        page.key("PageDown").await;
        pours_at(page, tap, steps::LEAD_IN).await;
    });
}

#[test]
fn a_key_that_is_held_down_is_one_press() {
    run(async |stage| {
        let page = &stage.page;
        to_the_end_of_the_pre_soak(page).await;
        let tap = page.since().await;
        page.key_held(" ", 20).await;
        page.advance(1.0).await;
        assert_eq!(page.log().await.len(), 2);
        pours_at(page, tap, steps::LEAD_IN).await;
    });
}

#[test]
fn a_key_that_repeats_slowly_is_one_press() {
    run(async |stage| {
        let page = &stage.page;
        to_the_end_of_the_pre_soak(page).await;
        let tap = page.since().await;
        page.key_down(" ", false).await;
        page.settle().await;
        for _ in 0..4 {
            page.advance(1.0).await;
            page.key_down(" ", true).await;
        }
        page.key_up(" ").await;
        assert_eq!(page.log().await.len(), 2, "{:?}", page.log().await);
        pours_at(page, tap, steps::LEAD_IN).await;
    });
}

#[test]
fn a_press_that_slides_off_and_lets_go_does_nothing() {
    run(async |stage| {
        let page = &stage.page;
        let zero = to_the_end_of_the_pre_soak(page).await;
        page.press_and_slide_off("button", "Pre-soak is out").await;
        page.advance(1.0).await;
        page.press_and_slide_off("button", "TEMP").await;
        page.advance(1.0).await;
        page.press_and_slide_off("button", "FAULT").await;
        page.advance_to(zero + 62.0).await;
        assert_eq!(page.heading().await, "Run: Pre-soak");
        assert_eq!(
            (page.state_word().await.as_str(), page.timer().await.as_str()),
            ("WAIT", "0:02")
        );
    });
}

#[test]
fn a_press_acts_when_it_lets_go() {
    run(async |stage| {
        let page = &stage.page;
        to_the_end_of_the_pre_soak(page).await;
        page.hold("button", "Pre-soak is out", 2.0).await;
        assert_eq!(page.heading().await, "Run: Developer");
        assert_eq!(page.timer().await, "0:08", "the lead-in runs from the release");
    });
}

#[test]
fn the_end_control_is_there_only_in_the_last_twenty_seconds() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_pre_soak(page).await;
        page.advance_to(zero + 39.5).await;
        assert!(!page.has("button", "Pre-soak is out").await);
        page.key(" ").await;
        assert_eq!(page.heading().await, "Run: Pre-soak");
        page.advance_to(zero + 40.5).await;
        assert!(page.has("button", "Pre-soak is out").await);
    });
}
