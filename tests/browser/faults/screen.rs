//! The phone's screen may go dark.

use crate::harness::scene::{Scene, WakeLock};
use crate::harness::{run, run_in};
use crate::steps::{self, Steps};

fn the_run_is_as_ever_with(wake_lock: WakeLock) {
    run_in(Scene { wake_lock, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 100.0).await;
        assert!(page.shows("Screen may turn off").await, "{}", page.words().await);
        page.advance_to(zero + 221.0).await;
        let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 220.5);
        assert!(unlike.is_empty(), "{wake_lock:?}:\n{}", unlike.join("\n"));
    });
}

#[test]
fn a_screen_that_will_not_stay_lit_is_told_and_the_run_is_as_ever() {
    the_run_is_as_ever_with(WakeLock::Refused);
}

#[test]
fn a_phone_that_cannot_keep_its_screen_lit_tells_and_the_run_is_as_ever() {
    the_run_is_as_ever_with(WakeLock::Absent);
}

#[test]
fn the_screen_is_kept_lit_again_when_the_page_is_back() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_developer(page).await;
        page.advance(20.0).await;
        assert_eq!(page.heard().await.wake_locks(), ["granted"]);
        page.hide().await;
        page.advance(2.0).await;
        page.show().await;
        page.advance(1.0).await;
        assert_eq!(page.heard().await.wake_locks(), ["granted", "released", "granted"]);
        assert_eq!(page.eval("__clock.awake()").await, true);
    });
}

#[test]
fn a_screen_that_the_phone_let_go_dark_is_kept_lit_again() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_developer(page).await;
        page.advance(20.0).await;
        page.eval("__clock.dropWakeLock(), 0").await;
        page.advance(2.0).await;
        assert_eq!(page.eval("__clock.awake()").await, true);
    });
}

#[test]
fn the_screen_may_go_dark_once_the_film_hangs_and_the_gloves_are_off() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_bleach_fix(page).await;
        page.advance_to(zero + steps::BLEACH_FIX).await;
        page.bath_is_out("Bleach-fix").await;
        page.wash_and_hang().await;
        page.tap("button", "DONE").await;
        page.advance(1.0).await;
        assert_eq!(page.eval("__clock.awake()").await, false);
    });
}
