//! Letters, commas and slips of the finger.

use serde_json::Value;

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// What is answered to anything that is no temperature.
const ONLY_DIGITS: &str = "Digits only, such as 38.9.";

/// In the developer with the keypad open.
async fn to_keypad(page: &Page) -> f64 {
    let zero = steps::to_developer(page).await;
    page.advance_to(zero + 36.0).await;
    page.key("t").await;
    page.advance(1.0).await;
    assert_eq!(page.heading().await, "Tub");
    zero
}

/// The readings in the log.
async fn readings(page: &Page) -> Vec<f64> {
    let log = page.log().await;
    let read = log.iter().filter(|entry| entry["event"] == "read");
    read.map(|entry| entry["celsius"].as_f64().expect("a temperature")).collect()
}

/// The sentence that reads a value back has gone, and the value itself stands there.
async fn reading_stands(page: &Page, words: &str) {
    page.advance(7.0).await;
    assert!(page.shows(words).await, "{words} is not in: {}", page.words().await);
}

/// The run has gone on meanwhile: it is where it should be.
async fn the_run_went_on(page: &Page, zero: f64) {
    page.advance_to(zero + 126.0).await;
    assert_eq!(page.heading().await, "Run: Developer");
    assert_eq!(page.timer().await, "1:24");
    let heard = page.heard().await;
    let tones = |from: f64| {
        let all = heard.tones().into_iter().filter(move |tone| tone.at >= zero + from);
        all.map(|tone| (tone.at - zero).round()).collect::<Vec<_>>()
    };
    assert_eq!(tones(36.0), [60.0, 65.0, 90.0, 95.0, 120.0, 125.0]);
}

#[test]
fn three_digits_of_a_keyboard_are_a_reading() {
    run(async |stage| {
        let page = &stage.page;
        let zero = to_keypad(page).await;
        page.type_text("389").await;
        page.advance(1.0).await;
        assert_eq!(readings(page).await, [38.9]);
        reading_stands(page, "38.9 °C").await;
        the_run_went_on(page, zero).await;
    });
}

#[test]
fn a_point_or_a_comma_that_is_typed_does_no_harm() {
    run(async |stage| {
        let page = &stage.page;
        to_keypad(page).await;
        page.type_text("38,9").await;
        page.advance(1.0).await;
        page.key("t").await;
        page.advance(1.0).await;
        page.type_text("39.1").await;
        page.advance(1.0).await;
        assert_eq!(readings(page).await, [38.9, 39.1]);
    });
}

#[test]
fn a_temperature_that_is_pasted_is_a_reading_in_any_spelling() {
    run(async |stage| {
        let page = &stage.page;
        let zero = to_keypad(page).await;
        for (nth, text) in ["38,9", "38.9", "389", " 38.9 °C"].into_iter().enumerate() {
            if nth > 0 {
                page.key("t").await;
                page.advance(1.0).await;
            }
            page.paste(text).await;
            page.advance(1.0).await;
            assert_eq!(readings(page).await.len(), nth + 1, "{text}");
        }
        assert_eq!(readings(page).await, [38.9; 4]);
        the_run_went_on(page, zero).await;
    });
}

#[test]
fn letters_are_answered_with_a_sentence() {
    run(async |stage| {
        let page = &stage.page;
        let zero = to_keypad(page).await;
        page.type_text("warm").await;
        assert!(page.shows(ONLY_DIGITS).await, "typed: {}", page.words().await);
        page.type_text("3").await;
        assert!(!page.shows(ONLY_DIGITS).await, "a digit puts it right");
        for text in ["warm", "38.9.1", "-3", "1e1", "<b>38</b>", "3890", ""] {
            page.paste(text).await;
            let pasted = page.words().await;
            assert!(pasted.contains(ONLY_DIGITS) || text.is_empty(), "{text:?}: {pasted}");
            assert_eq!(page.heading().await, "Tub", "{text:?}");
        }
        assert_eq!(readings(page).await, [0.0; 0]);
        page.key("Escape").await;
        the_run_went_on(page, zero).await;
    });
}

/// Types a reading of the tub that cannot be, and sees it asked back.
async fn to_doubt(page: &Page) -> f64 {
    let zero = to_keypad(page).await;
    page.touch_digits("938").await;
    page.advance(1.0).await;
    assert_eq!(page.status_text().await, "Tub 93.8? Expected near 38.9–43.3.");
    assert!(page.shows("93.8").await, "{}", page.words().await);
    assert_eq!(readings(page).await, [93.8], "it is kept at once");
    zero
}

/// What the log says of the reading that was doubted.
async fn doubted(page: &Page) -> Value {
    let log = page.log().await;
    log.into_iter().find(|entry| entry["event"] == "read").expect("the reading is kept")
}

#[test]
fn a_reading_that_cannot_be_is_kept_and_put_right_with_one_tap() {
    run(async |stage| {
        let page = &stage.page;
        let zero = to_doubt(page).await;
        assert_eq!(doubted(page).await["so"], true, "flagged: {}", doubted(page).await);
        page.tap("button", "USE 39.8").await;
        page.advance(1.0).await;
        reading_stands(page, "39.8 °C").await;
        assert_eq!(readings(page).await, [93.8], "what was typed stays in the log");
        the_run_went_on(page, zero).await;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
        page.wash_and_hang().await;
        page.open_the_roll().await;
        let roll = page.words().await;
        assert!(roll.contains("Tub 39.8 °C") && !roll.contains("doubted"), "{roll}");
    });
}

#[test]
fn a_reading_that_cannot_be_stays_as_read_if_the_person_says_so() {
    run(async |stage| {
        let page = &stage.page;
        let zero = to_doubt(page).await;
        page.tap("button", "AS READ").await;
        page.advance(1.0).await;
        reading_stands(page, "93.8 °C").await;
        the_run_went_on(page, zero).await;
    });
}

#[test]
fn a_reading_that_cannot_be_may_be_typed_anew() {
    run(async |stage| {
        let page = &stage.page;
        let zero = to_doubt(page).await;
        page.tap("button", "AGAIN").await;
        page.advance(1.0).await;
        assert_eq!(page.heading().await, "Tub");
        page.touch_digits("398").await;
        page.advance(1.0).await;
        reading_stands(page, "39.8 °C").await;
        the_run_went_on(page, zero).await;
    });
}

#[test]
fn a_doubt_that_nobody_answers_does_not_stop_the_run() {
    run(async |stage| {
        let page = &stage.page;
        let zero = to_doubt(page).await;
        page.advance_to(zero + 192.0).await;
        assert!(page.has("button", "Developer is out").await, "{}", page.words().await);
        let tones = page.heard().await.tones();
        assert!(tones.iter().any(|tone| (tone.at - zero - 180.0).abs() < 0.05));
    });
}

#[test]
fn a_bottle_may_be_cold_when_it_is_read_first() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_last_check(page).await;
        page.read("Developer", "180").await;
        assert_eq!(page.heading().await, "Last check");
        assert!(page.shows("Developer 18.0").await, "{}", page.words().await);
        page.read("Developer", "811").await;
        assert_eq!(page.status_text().await, "Developer 81.1? Expected near 18.");
        page.tap("button", "AS READ").await;
        page.advance(1.0).await;
        assert!(page.has("button", "START ANYWAY").await);
    });
}

#[test]
fn nonsense_in_yours_is_answered_with_a_sentence_and_the_old_value_stays() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/settings").await;
        page.advance(1.0).await;
        for nonsense in ["abc", "", "0", "999", "-10", "1e3", "12.5"] {
            page.tap("textbox", "Pouring in").await;
            page.eval("document.activeElement.select(), 0").await;
            page.key("Backspace").await;
            page.type_text(nonsense).await;
            page.key("Tab").await;
            page.advance(1.0).await;
            assert!(page.shows("From 2 to 40 s.").await, "{nonsense:?}: {}", page.words().await);
        }
        page.tap("button", "Bench").await;
        page.advance(1.0).await;
        page.tap("button", "Settings").await;
        page.advance(1.0).await;
        let value = page.eval("document.querySelector('input[aria-label^=\"Pouring in\"]').value");
        assert_eq!(value.await, "10");
        page.tap("textbox", "Pouring in").await;
        page.eval("document.activeElement.select(), 0").await;
        page.type_text("14").await;
        page.key("Tab").await;
        page.advance(1.0).await;
        assert!(!page.shows("From 2 to 40 s.").await);
        page.reload_to("Settings").await;
        let value = page.eval("document.querySelector('input[aria-label^=\"Pouring in\"]').value");
        assert_eq!(value.await, "14");
    });
}
