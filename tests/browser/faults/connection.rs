//! The database is taken away, changed by a later version, or held by an earlier one.

use serde_json::json;

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// The events of a log, in order.
async fn events(page: &Page) -> Vec<String> {
    let log = page.log().await;
    log.iter().map(|entry| entry["event"].as_str().unwrap_or_default().to_owned()).collect()
}

/// A second window on the same origin, without the page in it: another version of it, as far as the
/// database knows.
async fn another_version(page: &Page) -> Page {
    let other = page.another().await;
    // A script, shown as its text: Firefox shows data by a page of its own, of another origin.
    other.load("sw-off.js").await;
    other
}

/// The developer as agreed, but for the quarter of a minute in which the tub was read.
async fn as_agreed_but_for_the_reading(page: &Page, zero: f64) {
    as_agreed(page, zero, -0.5, 39.5).await;
    as_agreed(page, zero, 55.5, 209.5).await;
}

/// The developer from `from` to `until` as agreed.
async fn as_agreed(page: &Page, zero: f64, from: f64, until: f64) {
    let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, from, until);
    assert!(unlike.is_empty(), "in the developer:\n{}", unlike.join("\n"));
}

/// The rest of the developer, after a reading of the tub: as agreed, and all of it kept.
async fn is_kept_to_the_end_of_the_developer(page: &Page, zero: f64) {
    page.advance_to(zero + steps::DEVELOPER).await;
    page.bath_is_out("Developer").await;
    assert!(!page.shows("Not kept").await, "{}", page.words().await);
    as_agreed_but_for_the_reading(page, zero).await;
    assert_eq!(events(page).await, ["started", "tank_emptied", "read", "tank_emptied"]);
    page.reload_to("Run: Bleach-fix").await;
}

#[test]
fn a_database_that_is_lost_in_a_run_is_opened_again_and_gets_everything() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        assert!(page.eval("__clock.loseConnections()").await.as_f64() >= Some(1.0));
        page.read_tub("389").await;
        page.advance_to(zero + 100.0).await;
        page.eval("__clock.loseConnections()").await;
        is_kept_to_the_end_of_the_developer(page, zero).await;
    });
}

#[test]
fn a_later_version_in_another_window_gets_the_database_and_the_run_goes_on() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        let other = another_version(page).await;
        let upgrade = "new Promise((resolve, reject) => {
            const request = indexedDB.open('sinkside', 99);
            request.onupgradeneeded = () => request.result.createObjectStore('later');
            request.onblocked = () => reject(new Error('blocked'));
            request.onsuccess = () => {
                request.result.close();
                resolve('upgraded');
            };
        })";
        assert_eq!(other.eval(upgrade).await, "upgraded");
        page.read_tub("389").await;
        is_kept_to_the_end_of_the_developer(page, zero).await;
    });
}

#[test]
fn an_earlier_version_in_another_window_is_named_and_a_run_gets_what_it_missed() {
    run(async |stage| {
        let page = &stage.page;
        let other = another_version(page).await;
        let hold = "new Promise((resolve) => {
            const request = indexedDB.open('sinkside', 1);
            request.onupgradeneeded = () => {
                for (const shelf of ['runs', 'entries', 'single']) {
                    request.result.createObjectStore(shelf);
                }
            };
            request.onsuccess = () => {
                window.held = request.result;
                resolve('held');
            };
        })";
        assert_eq!(other.eval(hold).await, "held");
        page.open_to("Bench").await;
        page.until_shows("Close the other window").await;
        page.advance(1.0).await;
        page.lay_out().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + 52.0).await;
        assert!(page.shows("Close the other window").await, "{}", page.words().await);
        as_agreed(page, zero, -0.5, 51.5).await;
        other.eval("window.held.close()").await;
        let there = "indexedDB.databases().then((all) => all[0].version > 1)";
        page.until(there).await;
        page.advance_to(zero + 65.0).await;
        assert!(!page.shows("Close the other window").await, "{}", page.words().await);
        assert_eq!(events(page).await, ["started", "tank_emptied"]);
        page.reload_to("Run: Developer").await;
        assert_eq!(page.timer().await, "2:25");
    });
}

#[test]
fn a_device_that_could_not_be_read_keeps_its_name_and_its_habits() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/settings").await;
        page.advance(1.0).await;
        page.press("LEFT").await;
        let single =
            async |page: &Page| page.eval("__clock.stored()").await["sinkside"]["single"].clone();
        let before = single(page).await;
        assert_ne!(before, json!([]));
        page.eval("sessionStorage.setItem('harness database', 'refused'), 0").await;
        page.reload().await;
        page.eval("(location.hash = '#/bench', 0)").await;
        page.until_shows("Not kept").await;
        page.eval(
            "(sessionStorage.removeItem('harness database'), __clock.database = 'normal', 0)",
        )
        .await;
        page.advance(1.0).await;
        page.press("Rolls").await;
        page.press("NEW ROLL").await;
        page.write("Film", "after the fault").await;
        page.until("__clock.stored().then((all) => all.sinkside.records.length === 1)").await;
        assert_eq!(single(page).await, before);
    });
}
