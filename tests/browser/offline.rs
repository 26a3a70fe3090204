//! No network at the sink: the page is there all the same, and a newer one waits for a tap.

use crate::harness::Stage;
use crate::harness::page::Page;
use crate::harness::run_at_first;
use crate::harness::run_in;
use crate::harness::scene::Scene;
use crate::steps::{self, Steps};

/// What is shown once the page would open without a network.
const READY: &str = "Ready offline.";

/// Opens the page and waits until it says that it is ready.
async fn until_ready(page: &Page) {
    page.open_to("Bench").await;
    page.until_shows(READY).await;
}

/// The version of the worker that serves the page.
async fn version(page: &Page) -> String {
    let ask = "new Promise((resolve) => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = ({ data }) => resolve(data);
        navigator.serviceWorker.controller.postMessage('VERSION', [port2]);
    })";
    page.eval(ask).await.as_str().expect("the worker answers").to_owned()
}

/// Looks for a newer page, as a browser does now and then, and waits until it lies ready.
async fn newer_page_comes(stage: &Stage) {
    stage.server.second_version();
    let look =
        "navigator.serviceWorker.getRegistration().then((found) => found.update()).then(() => 0)";
    stage.page.eval(look).await;
    let waits = "navigator.serviceWorker.getRegistration().then((found) => Boolean(found.waiting))";
    stage.page.until(waits).await;
    stage.page.settle().await;
}

/// A whole roll with the host gone, and its page.
async fn a_whole_run_without_the_host(stage: &mut Stage) {
    until_ready(&stage.page).await;
    stage.server.down();
    let page = &stage.page;
    page.reload_to("Bench").await;
    page.until_shows(READY).await;
    page.advance(1.0).await;
    page.lay_out().await;
    let zero = page.start_to_developer().await;
    page.advance_to(zero + 40.0).await;
    page.reload_to("Run: Developer").await;
    assert_eq!(page.timer().await, "2:50");
    page.touch_at(195.0, 60.0).await;
    page.advance_to(zero + steps::DEVELOPER + 0.5).await;
    let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, 43.0, 210.2);
    assert!(unlike.is_empty(), "{}", unlike.join("\n"));
    page.bath_is_out("Developer").await;
    page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
    page.wash_and_hang().await;
    page.open_the_roll().await;
    assert!(page.shows("Bleach-fix 8:00 8:00").await, "{}", page.words().await);
}

#[test]
fn a_page_that_says_it_is_ready_offline_runs_a_whole_roll_without_its_host() {
    run_at_first(a_whole_run_without_the_host);
}

#[test]
fn a_page_in_a_folder_of_its_host_runs_a_whole_roll_without_it() {
    run_in(
        Scene { prefix: "/any/sub/path/", first_visit: true, ..Scene::default() },
        a_whole_run_without_the_host,
    );
}

#[test]
fn a_page_closed_and_opened_again_without_its_host_is_there() {
    run_at_first(async |stage| {
        until_ready(&stage.page).await;
        stage.server.down();
        stage.kill();
        stage.start_again(60.0).await;
        stage.page.open_to("Bench").await;
        stage.page.until_shows(READY).await;
    });
}

#[test]
fn a_page_whose_host_lacks_a_file_says_that_it_is_not_ready_offline() {
    run_at_first(async |stage| {
        stage.server.lose("icons/icon-512.png");
        stage.page.open_to("Bench").await;
        stage.page.until_shows("Not ready offline").await;
        assert!(!stage.page.shows(READY).await);
        // With the file back, the next opening gets it.
        stage.server.mend();
        stage.page.reload_to("Bench").await;
        stage.page.until_shows(READY).await;
    });
}

#[test]
fn a_page_whose_host_sends_a_wrong_file_says_that_it_is_not_ready_offline() {
    run_at_first(async |stage| {
        stage.server.corrupt("icons/icon-512.png");
        stage.page.open_to("Bench").await;
        stage.page.until_shows("Not ready offline").await;
        assert!(!stage.page.shows(READY).await);
    });
}

#[test]
fn a_phone_that_dropped_a_file_no_longer_says_that_it_is_ready_offline() {
    run_at_first(async |stage| {
        until_ready(&stage.page).await;
        let drop = "(async () => {
            for (const name of await caches.keys()) {
                const cache = await caches.open(name);
                for (const { url } of await cache.keys()) {
                    if (url.endsWith('icons/icon-512.png')) await cache.delete(url);
                }
            }
            return 0;
        })()";
        stage.page.eval(drop).await;
        stage.server.lose("icons/icon-512.png");
        stage.page.reload_to("Bench").await;
        stage.page.until_shows("ready offline").await;
        assert!(!stage.page.shows(READY).await, "{}", stage.page.words().await);
    });
}

#[test]
fn a_newer_page_is_taken_by_a_tap() {
    run_at_first(async |stage| {
        until_ready(&stage.page).await;
        let before = version(&stage.page).await;
        newer_page_comes(stage).await;
        let page = &stage.page;
        page.until_shows("A new version is ready.").await;
        assert_eq!(version(page).await, before, "nothing has changed before the tap");
        page.advance(1.0).await;
        // The page opens anew in the middle of whatever is asked of it.
        page.tap_only("button", "UPDATE").await;
        let anew = "__clock.now().load === 2 && document.readyState === 'complete'";
        page.until(&format!("__clock.advance(0).then(() => {anew})")).await;
        page.until_on("Bench").await;
        assert_eq!(version(page).await, format!("newer-{before}"));
        assert!(!page.has("button", "UPDATE").await);
        page.until_shows(READY).await;
    });
}

#[test]
fn a_newer_page_that_is_not_wanted_waits_over_reloads() {
    run_at_first(async |stage| {
        until_ready(&stage.page).await;
        let before = version(&stage.page).await;
        newer_page_comes(stage).await;
        let page = &stage.page;
        page.reload_to("Bench").await;
        page.until_shows("A new version is ready.").await;
        assert_eq!(version(page).await, before);
    });
}

#[test]
fn a_newer_page_is_neither_offered_nor_taken_while_a_run_goes_on() {
    run_at_first(async |stage| {
        until_ready(&stage.page).await;
        let before = version(&stage.page).await;
        stage.page.advance(1.0).await;
        stage.page.lay_out().await;
        let zero = stage.page.start_to_developer().await;
        stage.page.advance_to(zero + 20.5).await;
        newer_page_comes(stage).await;
        let page = &stage.page;
        let offered = "A new version is ready.";
        assert!(!page.shows(offered).await && !page.has("button", "UPDATE").await);
        page.eval("history.back(), 0").await;
        page.until_on("Last check").await;
        page.eval("location.hash = '#/bench'; 0").await;
        page.until_on("Bench").await;
        assert!(page.shows("Running: return").await, "{}", page.words().await);
        assert!(!page.shows(offered).await && !page.has("button", "UPDATE").await);
        page.reload_to("Run: Developer").await;
        assert_eq!(version(page).await, before, "a reload in a run keeps its page");
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
        page.wash_and_hang().await;
        assert!(!page.shows(offered).await, "not before the gloves are off");
        page.press("DONE").await;
        page.tap("button", "DONE").await;
        page.advance(1.0).await;
        assert!(page.shows(offered).await, "{}", page.words().await);
    });
}
