//! A tap is kept before anything can happen to the phone.

use crate::harness::Stage;
use crate::harness::run;
use crate::steps::{self, Steps};

/// A tap is safe after this long, in real seconds.
const SAFE_AFTER: f64 = 0.25;

/// Taps, lets no time of the page pass, kills the browser and opens it a second later.
async fn tapped_and_killed(stage: &mut Stage, button: &str, heading: &str) {
    stage.page.tap_only("button", button).await;
    stage.page.wait_real(SAFE_AFTER).await;
    stage.kill();
    stage.start_again(1.0).await;
    stage.page.open_to(heading).await;
}

#[test]
fn the_start_is_kept_before_the_phone_can_die() {
    run(async |stage| {
        steps::to_last_check(&stage.page).await;
        tapped_and_killed(stage, "START", "Run: Pre-soak").await;
        assert_eq!((stage.page.state_word().await, stage.page.timer().await), wait("0:04"));
    });
}

#[test]
fn the_end_of_the_developer_is_kept_before_the_phone_can_die() {
    run(async |stage| {
        let zero = steps::to_developer(&stage.page).await;
        stage.page.advance_to(zero + 205.0).await;
        tapped_and_killed(stage, "Developer is out", "Run: Bleach-fix").await;
        assert_eq!((stage.page.state_word().await, stage.page.timer().await), wait("0:07"));
    });
}

#[test]
fn a_tap_taken_back_is_kept_before_the_phone_can_die() {
    run(async |stage| {
        steps::to_bleach_fix(&stage.page).await;
        stage.page.advance(3.0).await;
        tapped_and_killed(stage, "UNDO", "Run: Developer").await;
        assert_eq!(stage.page.state_word().await, "OVER");
        assert_eq!(stage.page.timer().await, "+0:04");
    });
}

#[test]
fn a_look_at_the_wash_water_is_kept_before_the_phone_can_die() {
    run(async |stage| {
        let zero = steps::to_bleach_fix(&stage.page).await;
        stage.page.advance_to(zero + steps::BLEACH_FIX).await;
        stage.page.bath_is_out("Bleach-fix").await;
        stage.page.advance(steps::LEAD_IN + 70.0).await;
        tapped_and_killed(stage, "CLEAR", "Wash").await;
        assert!(stage.page.shows("Clear. Once more.").await, "{}", stage.page.words().await);
        assert_eq!(stage.page.timer().await, "1:11");
    });
}

#[test]
fn every_entry_of_a_run_is_written_to_outlive_the_browser() {
    run(async |stage| {
        steps::to_bleach_fix(&stage.page).await;
        stage.page.advance(1.0).await;
        let writes = stage.page.heard().await.write_durabilities();
        let strict = writes.iter().filter(|durability| *durability == "strict").count();
        // The run itself, three entries, and which run is open.
        assert!(strict >= 5, "{writes:?}");
    });
}

fn wait(timer: &str) -> (String, String) {
    ("WAIT".to_owned(), timer.to_owned())
}

#[test]
fn values_read_in_last_check_are_there_after_a_reload() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_last_check(page).await;
        page.read("Developer", "401").await;
        page.reload_to("Last check").await;
        page.until_shows("40.1").await;
    });
}
