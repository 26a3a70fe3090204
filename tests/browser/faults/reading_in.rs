//! A file is read while a run goes on: refused in words, and the run does not notice.

use serde_json::json;

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

const REFUSED: &str = "A run is going on. Read the file when it is over.";

async fn to(page: &Page, fragment: &str) {
    page.eval(&format!("(location.hash = '{fragment}', 0)")).await;
    page.advance(1.0).await;
}

/// A file of another phone with one roll in it.
fn file() -> String {
    let roll = json!({
        "kind": "roll", "id": "0123456789abcdef0123456789abcdef", "rev": 1, "schema": 1,
        "edited_at": "2026-03-01T10:00:00.000Z", "device": "fedcba9876543210fedcba9876543210",
        "deleted": false, "parents": [], "stock": "from elsewhere",
    });
    let at = "2026-03-01T10:00:00.000Z";
    json!({ "format": "notebook", "version": 1, "exported_at": at, "records": [roll] }).to_string()
}

#[test]
fn a_file_that_is_picked_or_dropped_in_a_run_is_refused_and_the_run_goes_on() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        to(page, "#/settings").await;
        page.press("READ A FILE").await;
        page.eval(&format!("(__clock.pick({}), 0)", json!(file()))).await;
        page.advance(1.0).await;
        page.until_shows(REFUSED).await;
        page.eval(&format!("(__clock.drop({}), 0)", json!(file()))).await;
        page.advance(1.0).await;
        assert!(page.shows(REFUSED).await && !page.has("button", "READ IT IN").await);
        page.advance_to(zero + 120.0).await;
        to(page, "#/bench").await;
        page.press("RUNNING").await;
        page.advance_to(zero + steps::DEVELOPER).await;
        tones_are_as_agreed(page, zero).await;
        page.bath_is_out("Developer").await;
        let stored = page.eval("__clock.stored()").await;
        assert!(!stored.to_string().contains("from elsewhere"), "{stored}");
        assert_eq!(page.log().await.len(), 3);
    });
}

#[test]
fn a_file_that_was_looked_at_before_the_start_is_not_taken_in_during_the_run() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_last_check(page).await;
        to(page, "#/settings").await;
        page.press("READ A FILE").await;
        page.eval(&format!("(__clock.pick({}), 0)", json!(file()))).await;
        page.advance(1.0).await;
        assert!(page.has("button", "READ").await, "{}", page.words().await);
        let key = page.button_names().await;
        let key = key
            .into_iter()
            .find(|name| name.starts_with("READ IT") || name.starts_with("READ ANYWAY"));
        to(page, "#/last-check").await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + 40.0).await;
        to(page, "#/settings").await;
        page.press(&key.expect("the file can be read in")).await;
        page.until_shows(REFUSED).await;
        let stored = page.eval("__clock.stored()").await;
        assert!(!stored.to_string().contains("from elsewhere"), "{stored}");
        page.advance_to(zero + steps::DEVELOPER).await;
        tones_are_as_agreed(page, zero).await;
    });
}

/// Away from Run there is no state word to compare: tones and words are.
async fn tones_are_as_agreed(page: &Page, zero: f64) {
    let mut unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 209.5);
    unlike.retain(|line| !line.contains(" state "));
    assert!(unlike.is_empty(), "{}", unlike.join("\n"));
}
