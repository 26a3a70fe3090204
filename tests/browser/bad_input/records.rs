//! Storage in which something cannot be read.

use serde_json::json;

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

const RAW: &str = "{\"schema\":1,\"id\":\"broken\",\"plan\":{\"sheet";

/// Puts something where the page keeps its own.
async fn put(page: &Page, shelf: &str, key: &str, value: serde_json::Value) {
    let key = json!(key);
    let put = format!("__clock.store('sinkside', '{shelf}', {value}, {key}).then(() => 0)");
    page.eval(&put).await;
}

/// The page with a record, a log and an entry in its storage that cannot be read.
async fn among_the_unreadable(page: &Page) {
    page.open_to("Bench").await;
    page.until_shows("offline").await;
    put(page, "runs", "broken", json!(RAW)).await;
    put(page, "runs", "other", json!({ "not": "text at all" })).await;
    put(page, "entries", "broken/00000000", json!("no entry either")).await;
    page.reload_to("Bench").await;
    page.until_shows("3 to save as text").await;
    page.advance(1.0).await;
}

#[test]
fn records_that_cannot_be_read_are_shown_with_their_text() {
    run(async |stage| {
        let page = &stage.page;
        among_the_unreadable(page).await;
        page.tap("button", "Unreadable").await;
        page.advance(1.0).await;
        assert_eq!(page.heading().await, "Rolls");
        let words = page.words().await;
        for text in [RAW, "no entry either", "text at all"] {
            assert!(words.contains(text), "{text} is not in: {words}");
        }
    });
}

#[test]
fn the_text_of_a_record_that_cannot_be_read_is_saved_as_it_is() {
    run(async |stage| {
        let page = &stage.page;
        page.open_to("Bench").await;
        let long = RAW.repeat(40);
        put(page, "runs", "broken", json!(long)).await;
        page.reload_to("Bench").await;
        page.until_shows("1 to save as text").await;
        page.advance(1.0).await;
        page.tap("button", "Unreadable").await;
        page.advance(1.0).await;
        let saved = page.tap_for_a_file("SAVE THE TEXT", stage.browser.profile()).await;
        assert_eq!(saved, long);
    });
}

#[test]
fn everything_else_works_beside_what_cannot_be_read() {
    run(async |stage| {
        let page = &stage.page;
        among_the_unreadable(page).await;
        page.lay_out().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + steps::DEVELOPER).await;
        let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 209.5);
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
        page.bath_is_out("Developer").await;
        page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
        page.wash_and_hang().await;
        page.open_the_roll().await;
        assert!(page.shows("Developer 3:30 3:30").await, "{}", page.words().await);
        let stored = page.eval("__clock.stored()").await;
        assert!(stored.to_string().contains("no entry either"), "what cannot be read stays");
    });
}

#[test]
fn an_entry_of_the_live_run_that_cannot_be_read_does_not_end_it() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        page.read_tub("400").await;
        let stored = page.eval("__clock.stored()").await;
        let entries = stored["sinkside"]["entries"].as_array().cloned().unwrap_or_default();
        let last = entries.last().and_then(|entry| entry[0].as_str()).expect("the reading");
        put(page, "entries", last, json!("scratched")).await;
        page.reload_to("Run: Developer").await;
        page.advance_to(zero + 80.0).await;
        assert_eq!(page.timer().await, "2:10");
        // What comes next has a place of its own in the log.
        page.touch_at(195.0, 60.0).await;
        page.read_tub("395").await;
        let stored = page.eval("__clock.stored()").await.to_string();
        assert!(stored.contains("scratched"), "what cannot be read stays: {stored}");
        assert!(stored.contains("39.5"), "{stored}");
    });
}

#[test]
fn habits_that_cannot_be_read_are_as_they_were_at_first() {
    run(async |stage| {
        let page = &stage.page;
        page.open_to("Bench").await;
        page.until_shows("offline").await;
        for (key, value) in [
            ("habits", json!("{\"fill_s\":\"many\"")),
            ("open", json!("no such run")),
            ("beat", json!({ "not": "a number" })),
            ("cautions", json!(7)),
        ] {
            put(page, "single", key, value).await;
        }
        page.reload_to("Bench").await;
        page.until_shows("DEVELOP A ROLL").await;
        page.advance(1.0).await;
        page.press("Settings").await;
        let value = "document.querySelector('input[aria-label^=\"Pouring in\"]').value";
        assert_eq!(page.eval(value).await, "10");
        page.press("Bench").await;
        page.advance(1.0).await;
        page.lay_out().await;
        page.start_to_developer().await;
    });
}
