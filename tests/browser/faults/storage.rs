//! The phone keeps nothing, or no more.

use std::path::PathBuf;

use serde_json::{Value, json};

use crate::harness::scene::{Database, Persist, Scene};
use crate::harness::{Stage, run_in};
use crate::steps::{self, Steps};

fn with(database: Database) -> Scene {
    Scene { database, ..Scene::default() }
}

/// A whole run on a phone that keeps nothing: the page says so, and gives the run as a file.
async fn the_run_goes_on_without(stage: &mut Stage, notice: &str) {
    let page = &stage.page;
    let zero = steps::to_developer(page).await;
    page.advance_to(zero + 52.0).await;
    assert!(page.shows(notice).await, "on the screen: {}", page.words().await);
    page.advance_to(zero + steps::DEVELOPER).await;
    let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 209.5);
    assert!(unlike.is_empty(), "in the developer:\n{}", unlike.join("\n"));
    page.bath_is_out("Developer").await;
    page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
    page.wash_and_hang().await;
    let log = saved_log(stage).await;
    assert_eq!(log.len(), 8, "{log:?}");
    assert_eq!(log[0]["event"], "started");
}

/// Takes the file that Hang offers, and gives the log in it.
async fn saved_log(stage: &Stage) -> Vec<Value> {
    let folder = stage.browser.profile().join("saved");
    std::fs::create_dir_all(&folder).expect("room for a file");
    let to = json!({ "behavior": "allow", "downloadPath": folder.display().to_string() });
    stage.page.cdp("Browser.setDownloadBehavior", to).await;
    stage.page.tap("button", "SAVE THE RUN").await;
    let file = file_in(stage, &folder).await;
    let text = std::fs::read_to_string(file).expect("the file can be read");
    let run: Value = serde_json::from_str(&text).expect("the file is JSON");
    run["log"].as_array().cloned().expect("the file has a log")
}

/// Waits, in real time, for the one file that the browser puts there.
async fn file_in(stage: &Stage, folder: &PathBuf) -> PathBuf {
    for _ in 0..200 {
        let files = std::fs::read_dir(folder).expect("the folder is there").flatten();
        let json = |file: &PathBuf| file.extension().is_some_and(|kind| kind == "json");
        if let Some(file) = files.map(|file| file.path()).find(json) {
            return file;
        }
        stage.page.wait_real(0.05).await;
    }
    panic!("no file was saved");
}

#[test]
fn a_phone_that_refuses_storage_runs_to_the_end_and_gives_the_run_as_a_file() {
    run_in(with(Database::Refused), async |stage| {
        the_run_goes_on_without(stage, "Not kept: no storage").await;
    });
}

#[test]
fn a_phone_that_throws_at_storage_runs_to_the_end_and_gives_the_run_as_a_file() {
    run_in(with(Database::Throws), async |stage| {
        the_run_goes_on_without(stage, "Not kept: no storage").await;
    });
}

#[test]
fn a_phone_whose_storage_never_answers_runs_to_the_end_and_gives_the_run_as_a_file() {
    run_in(with(Database::NeverCallsBack), async |stage| {
        the_run_goes_on_without(stage, "Not kept: no answer").await;
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
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        page.eval("__clock.database = 'full'; 0").await;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.advance_to(zero + steps::DEVELOPER + 60.0).await;
        assert!(page.shows("Not kept: storage full").await, "{}", page.words().await);
        page.advance_to(zero + steps::DEVELOPER + steps::LEAD_IN + steps::BLEACH_FIX).await;
        page.bath_is_out("Bleach-fix").await;
        page.wash_and_hang().await;
        let log = saved_log(stage).await;
        assert_eq!(log.len(), 8, "{log:?}");
    });
}

#[test]
fn storage_that_has_room_again_gets_what_it_missed() {
    run_in(Scene::default(), async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.eval("__clock.database = 'full'; 0").await;
        page.advance_to(zero + 205.0).await;
        page.bath_is_out("Developer").await;
        page.advance(10.0).await;
        assert_eq!(page.log().await.len(), 2, "the tap is in memory only");
        page.eval("__clock.database = 'normal'; 0").await;
        page.read_tub("389").await;
        page.advance(8.0).await;
        assert!(!page.shows("Not kept").await, "{}", page.words().await);
        assert_eq!(page.log().await.len(), 4);
        page.reload_to("Run: Bleach-fix").await;
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
