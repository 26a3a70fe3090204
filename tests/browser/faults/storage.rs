//! The phone keeps nothing, or no more.

use serde_json::Value;

use crate::harness::page::{Page, Rect};
use crate::harness::scene::{Database, Persist, Scene};
use crate::harness::{Stage, run_in};
use crate::steps::{self, Steps};

fn with(database: Database) -> Scene {
    Scene { database, ..Scene::default() }
}

/// A run on a phone that keeps nothing: the page says so, and gives the run as a file.
async fn the_run_goes_on_without(stage: &mut Stage) {
    let page = &stage.page;
    let zero = steps::to_developer(page).await;
    for at in [52.0, 57.0] {
        page.advance_to(zero + at).await;
        assert!(page.shows("Not kept:").await, "on the screen: {}", page.words().await);
    }
    page.advance_to(zero + steps::DEVELOPER).await;
    let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 209.5);
    assert!(unlike.is_empty(), "in the developer:\n{}", unlike.join("\n"));
    page.bath_is_out("Developer").await;
}

/// Stops the run, and looks for these events in the file that Hang offers.
async fn the_file_has(stage: &Stage, events: &[&str]) {
    stage.page.stop_here().await;
    let log = saved_log(stage).await;
    let written: Vec<_> = log.iter().map(|entry| entry["event"].as_str().unwrap_or("")).collect();
    assert_eq!(written, events);
}

/// What is in the log of a run that was stopped after the developer.
const STOPPED: [&str; 5] = ["started", "tank_emptied", "tank_emptied", "fault_noted", "left"];

/// Takes the file that Hang offers, and gives the log in it.
async fn saved_log(stage: &Stage) -> Vec<Value> {
    let file = stage.page.tap_for_a_file("SAVE THE RUN", stage.browser.profile()).await;
    let run: Value = serde_json::from_str(&file).expect("the file is JSON");
    run["records"][0]["log"].as_array().cloned().expect("the file has a log")
}

#[test]
fn a_phone_that_refuses_storage_runs_to_the_end_and_gives_the_run_as_a_file() {
    run_in(with(Database::Refused), async |stage| {
        the_run_goes_on_without(stage).await;
        stage.page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
        stage.page.wash_and_hang().await;
        let log = saved_log(stage).await;
        assert_eq!(log.len(), 8, "{log:?}");
    });
}

#[test]
fn a_phone_that_throws_at_storage_runs_on_and_gives_the_run_as_a_file() {
    run_in(with(Database::Throws), async |stage| {
        the_run_goes_on_without(stage).await;
        the_file_has(stage, &STOPPED).await;
    });
}

#[test]
fn a_phone_whose_storage_never_answers_runs_on_and_gives_the_run_as_a_file() {
    run_in(with(Database::NeverCallsBack), async |stage| {
        the_run_goes_on_without(stage).await;
        the_file_has(stage, &STOPPED).await;
    });
}

#[test]
fn a_phone_without_storage_says_so_before_the_run() {
    run_in(with(Database::Refused), async |stage| {
        stage.page.open_to("Bench").await;
        stage.page.until_shows("Not kept").await;
    });
}

#[test]
fn storage_that_fills_up_in_a_run_is_told_and_the_whole_run_is_in_the_file() {
    run_in(Scene::default(), async |stage| {
        let page = &stage.page;
        let zero = steps::to_pre_soak(page).await;
        page.advance_to(zero + 40.0).await;
        page.eval("__clock.database = 'full'; 0").await;
        page.advance_to(zero + steps::PRE_SOAK).await;
        page.bath_is_out("Pre-soak").await;
        page.advance(1.0).await;
        assert!(page.shows("Not kept: storage full").await, "{}", page.words().await);
        page.advance(steps::LEAD_IN + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        assert!(page.shows("Not kept: storage full").await, "{}", page.words().await);
        the_file_has(stage, &STOPPED).await;
    });
}

#[test]
fn storage_that_has_room_again_gets_what_it_missed() {
    run_in(Scene::default(), async |stage| {
        let page = &stage.page;
        let zero = steps::to_pre_soak(page).await;
        page.eval("__clock.database = 'full'; 0").await;
        page.advance_to(zero + 55.0).await;
        page.bath_is_out("Pre-soak").await;
        page.advance(40.0).await;
        assert_eq!(page.log().await.len(), 1, "the tap is in memory only");
        page.eval("__clock.database = 'normal'; 0").await;
        page.read_tub("389").await;
        page.advance(8.0).await;
        assert!(!page.shows("Not kept").await, "{}", page.words().await);
        assert_eq!(page.log().await.len(), 3);
        page.reload_to("Run: Developer").await;
    });
}

#[test]
fn storage_that_stops_answering_in_a_run_is_told_and_gets_what_it_missed_when_it_answers() {
    run_in(Scene::default(), async |stage| {
        let page = &stage.page;
        let zero = steps::to_pre_soak(page).await;
        page.advance_to(zero + 40.0).await;
        page.eval("__clock.database = 'stalls'; 0").await;
        page.advance_to(zero + steps::PRE_SOAK).await;
        page.bath_is_out("Pre-soak").await;
        let developer = page.since().await + steps::LEAD_IN;
        page.advance(12.0).await;
        assert!(page.shows("Not kept:").await, "{}", page.words().await);
        page.advance_to(developer + 120.0).await;
        let unlike =
            steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, developer, -0.5, 119.5);
        assert!(unlike.is_empty(), "in the developer:\n{}", unlike.join("\n"));
        page.eval("__clock.database = 'normal'; 0").await;
        page.read_tub("389").await;
        page.advance(8.0).await;
        assert!(!page.shows("Not kept").await, "{}", page.words().await);
        assert_eq!(page.log().await.len(), 3);
    });
}

#[test]
fn an_answer_about_durable_storage_that_never_comes_holds_nothing_up() {
    for persist in [Persist::NeverSettles, Persist::Absent, Persist::Refused] {
        run_in(Scene { persist, ..Scene::default() }, async |stage| {
            let page = &stage.page;
            steps::to_last_check(page).await;
            page.tap_start().await;
            let zero = page.since().await + steps::FIRST_LEAD_IN;
            page.advance(30.0).await;
            let unlike =
                steps::unlike(&page.heard().await, "pre-soak_60_f10_d10_begin", zero, -0.5, 24.5);
            assert!(unlike.is_empty(), "{persist:?}:\n{}", unlike.join("\n"));
        });
    }
}

/// Where the large key of the Bench is.
async fn large_key(page: &Page) -> Rect {
    page.the("button", "DEVELOP A ROLL").await.rect
}

#[test]
fn no_key_moves_under_the_finger_of_a_newcomer_when_the_notebook_is_read_late() {
    run_in(with(Database::NeverCallsBack), async |stage| {
        let page = &stage.page;
        page.open("").await;
        let before = large_key(page).await;
        page.advance(20.0).await;
        assert!(page.shows("Not kept:").await, "{}", page.words().await);
        assert_eq!(large_key(page).await, before);
    });
}

#[test]
fn no_key_moves_under_the_finger_of_one_who_has_developed_when_the_notebook_is_read_late() {
    run_in(Scene::default(), async |stage| {
        let page = &mut stage.page;
        page.open("").await;
        let newcomer = large_key(page).await;
        steps::to_developer(page).await;
        page.stop_here().await;
        page.press("DONE").await;
        page.open_to("Bench").await;
        page.advance(1.0).await;
        let before = large_key(page).await;
        assert_ne!(before, newcomer);
        page.change(|scene| scene.database = Database::NeverCallsBack).await;
        page.open("").await;
        assert_eq!(large_key(page).await, before, "{}", page.words().await);
        page.advance(20.0).await;
        assert!(page.shows("Not kept:").await, "{}", page.words().await);
        assert_eq!(large_key(page).await, before, "{}", page.words().await);
    });
}
