//! Somebody, or the network, sets the phone's clock while the page is in view.

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

const HOUR: f64 = 3_600.0;

/// When the developer is poured back, as the screen has it, in seconds of the day.
async fn pour_back_at(page: &Page) -> f64 {
    let words = page.words().await;
    let (_, at) = words.split_once("Pour back at ").expect("the time to pour back is shown");
    let at = at.split_whitespace().next().unwrap_or_default();
    let parts: Vec<f64> = at.split(':').map(|part| part.parse().expect("a number")).collect();
    parts[0] * HOUR + parts[1] * 60.0 + parts[2]
}

/// Somebody sets the clock in the developer; then the page is loaded again.
async fn the_clock_is_set_by(page: &Page, seconds: f64) {
    let zero = steps::to_developer(page).await;
    page.advance_to(zero + 40.5).await;
    let (before, planned) = (page.look().await, pour_back_at(page).await);
    page.shift_wall(seconds).await;
    assert_eq!(page.look().await, before, "nothing moves as the clock is set");
    page.advance_to(zero + 42.5).await;
    assert_eq!(page.timer().await, "2:48");
    assert!((pour_back_at(page).await - planned - seconds).abs() < 1.0);

    page.advance_to(zero + 130.0).await;
    let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 129.5);
    assert!(unlike.is_empty(), "while the clock was set:\n{}", unlike.join("\n"));

    page.reload_to("Run: Developer").await;
    let look = page.look().await;
    assert_eq!((look.timer.as_deref(), look.state.as_deref()), (Some("1:20"), Some("REST")));
    assert!((pour_back_at(page).await - planned - seconds).abs() < 1.0);
    let (x, y) = page.the("timer", "").await.rect.centre();
    page.touch_at(x, y).await;
    page.advance_to(zero + 221.0).await;
    let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, 133.0, 220.5);
    assert!(unlike.is_empty(), "after the reload:\n{}", unlike.join("\n"));
}

#[test]
fn a_clock_set_on_by_an_hour_changes_only_the_time_of_day() {
    run(async |stage| the_clock_is_set_by(&stage.page, HOUR).await);
}

#[test]
fn a_clock_set_back_by_an_hour_changes_only_the_time_of_day() {
    run(async |stage| the_clock_is_set_by(&stage.page, -HOUR).await);
}

#[test]
fn a_clock_set_on_by_an_hour_and_back_again_leaves_the_developer_as_it_was() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.5).await;
        page.shift_wall(HOUR).await;
        page.advance_to(zero + 70.5).await;
        assert_eq!(page.timer().await, "2:20");
        page.shift_wall(-HOUR).await;
        page.advance_to(zero + 221.0).await;
        let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 220.5);
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.open_the_roll().await;
        assert!(page.shows("Developer 3:30 3:41").await, "{}", page.words().await);
    });
}

#[test]
fn a_clock_set_back_and_a_killed_browser_leave_the_step_where_it_was() {
    run(async |stage| {
        let zero = steps::to_developer(&stage.page).await;
        stage.page.advance_to(zero + 40.5).await;
        stage.page.shift_wall(-HOUR).await;
        stage.page.advance_to(zero + 70.0).await;
        stage.kill();
        stage.start_again(10.0).await;
        stage.page.open_to("Run: Developer").await;
        assert_eq!(stage.page.timer().await, "2:10");
    });
}
