//! Rolls: written down, put into a tank, written up, marked.

use serde_json::Value;

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// Writes a new roll down, from the Bench.
pub async fn new_roll(page: &Page, stock: &str) {
    page.press("Rolls").await;
    page.press("NEW ROLL").await;
    page.write("Film", stock).await;
    page.press("Bench").await;
}

/// Opens the page, and the fields of a roll that is not there yet.
pub async fn open_a_new_roll(page: &Page) {
    page.open("").await;
    page.advance(1.0).await;
    page.press("Rolls").await;
    page.press("NEW ROLL").await;
}

/// Every record of a kind that is kept.
pub async fn records(page: &Page, kind: &str) -> Vec<Value> {
    let stored = page.eval("__clock.stored()").await;
    let records = stored["sinkside"]["records"].as_array().cloned().unwrap_or_default();
    let texts = records.iter().filter_map(|record| record[1].as_str());
    let read = texts.filter_map(|text| serde_json::from_str::<Value>(text).ok());
    read.filter(|record| record["kind"] == kind).collect()
}

/// Writes a roll down, from any desk screen; its fields are open.
pub async fn written_down(page: &Page, stock: &str) {
    page.press("Rolls").await;
    page.press("NEW ROLL").await;
    page.write("Film", stock).await;
}

#[test]
fn a_new_roll_takes_two_taps_and_words() {
    run(async |stage| {
        let page = &stage.page;
        open_a_new_roll(page).await;
        page.write("Film", "colour negative 400").await;
        page.write("On it", "the beach").await;
        page.reload_to("Roll").await;
        page.press("All rolls").await;
        page.until_shows("Waiting").await;
        page.until_shows("colour negative 400, the beach").await;
        let kept = records(page, "roll").await;
        assert_eq!(kept.len(), 1, "{kept:?}");
        assert_eq!(kept[0]["number"], 1);
    });
}

#[test]
fn what_is_being_typed_outlives_whatever_else_becomes_known_meanwhile() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        let other = page.another().await;
        other.open("").await;
        other.advance(1.0).await;
        page.press("Rolls").await;
        page.press("NEW ROLL").await;
        page.tap("textbox", "Film").await;
        page.type_text("colour").await;
        // Another window writes a roll, which this one hears of.
        new_roll(&other, "the other film").await;
        other.advance(1.0).await;
        page.advance(1.0).await;
        page.type_text(" negative 400").await;
        page.key("Tab").await;
        page.advance(1.0).await;
        let kept = records(page, "roll").await;
        let stocks: Vec<_> = kept.iter().map(|roll| roll["stock"].as_str()).collect();
        assert!(stocks.contains(&Some("colour negative 400")), "{stocks:?}");
        assert!(stocks.contains(&Some("the other film")), "{stocks:?}");
    });
}

#[test]
fn what_is_being_typed_is_kept_when_the_page_goes_out_of_view_or_back() {
    run(async |stage| {
        let page = &stage.page;
        open_a_new_roll(page).await;
        page.tap("textbox", "Film").await;
        page.type_text("colour negative 400").await;
        page.hide().await;
        page.advance(1.0).await;
        assert_eq!(records(page, "roll").await[0]["stock"], "colour negative 400");
        page.show().await;
        page.type_text(" 36").await;
        page.eval("(history.back(), 0)").await;
        page.until_shows("colour negative 400 36").await;
        assert_eq!(records(page, "roll").await[0]["stock"], "colour negative 400 36");
    });
}

#[test]
fn a_roll_that_nothing_was_written_about_is_not_kept() {
    run(async |stage| {
        let page = &stage.page;
        open_a_new_roll(page).await;
        page.press("All rolls").await;
        page.until_shows("No roll yet.").await;
    });
}

#[test]
fn two_rolls_in_one_tank_have_one_run_and_are_written_up() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        new_roll(page, "first film").await;
        new_roll(page, "second film").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.press_with("first film").await;
        page.press_with("second film").await;
        page.lay_out_the_rest().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.press("DONE").await;
        assert_eq!(page.heading().await, "Write-up");
        assert!(page.shows("first film").await && page.shows("second film").await);
        page.write("Anything to change next time?", "warmer tub").await;
        page.write("Colour of the pre-soak water", "pink").await;
        let rolls = records(page, "roll").await;
        assert_eq!(rolls.len(), 2);
        assert!(
            rolls.iter().all(|roll| roll["run"] == rolls[0]["run"] && roll["run"].is_string()),
            "{rolls:?}"
        );
        page.press("Rolls").await;
        page.until_shows("In hand").await;
        page.press_with("first film").await;
        for words in ["Next time: warmer tub", "Pre-soak water: pink", "Developer", "3:30"] {
            page.until_shows(words).await;
        }
    });
}

#[test]
fn what_became_of_a_roll_is_a_tap_and_a_tap_takes_it_back() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        new_roll(page, "a film").await;
        page.press("Rolls").await;
        page.press_with("a film").await;
        for mark in ["Dry", "Cut", "Filed", "Scanned"] {
            page.press(mark).await;
        }
        let roll = records(page, "roll").await.remove(0);
        for field in ["dry_at", "cut_at", "filed_at", "scanned_at"] {
            assert!(roll[field].as_str().is_some_and(|at| at.starts_with("2026-03-14T")), "{roll}");
        }
        page.press("Scanned").await;
        let roll = records(page, "roll").await.remove(0);
        assert!(roll["scanned_at"].is_null(), "{roll}");
        page.press("PUT ASIDE").await;
        page.press("All rolls").await;
        assert!(!page.shows("a film").await, "{}", page.words().await);
    });
}

#[test]
fn a_run_without_a_roll_is_listed_and_gets_one() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_bleach_fix(page).await;
        page.stop_here().await;
        page.press("DONE").await;
        page.press("Rolls").await;
        page.press_with("colour negative").await;
        page.press_with("ADD A ROLL").await;
        page.write("Film", "found film").await;
        page.press("DONE").await;
        assert!(page.shows("found film").await && page.shows("Developer").await);
        page.press("All rolls").await;
        assert!(page.shows("In hand").await && !page.shows("Runs").await);
    });
}

#[test]
fn odd_text_in_a_roll_is_shown_as_typed_and_kept() {
    run(async |stage| {
        let page = &stage.page;
        open_a_new_roll(page).await;
        page.tap("textbox", "Film").await;
        page.paste("<b>bold</b> & \"so\"").await;
        page.key("Tab").await;
        page.advance(1.0).await;
        page.press("DONE").await;
        page.until_shows("<b>bold</b> & \"so\"").await;
        page.press("EDIT").await;
        let long = "a word ".repeat(15_000);
        page.tap("textbox", "On it").await;
        page.paste(&format!("{long}\u{7}\u{202e}end")).await;
        page.key("Tab").await;
        page.advance(1.0).await;
        let roll = records(page, "roll").await.remove(0);
        assert!(
            roll["note"].as_str().is_some_and(|note| note.len() > 100_000 && note.ends_with("end"))
        );
        page.press("All rolls").await;
        assert!(page.shows("a word a word").await);
    });
}

#[test]
fn numbers_and_days_of_a_roll_are_asked_for_in_a_sentence() {
    run(async |stage| {
        let page = &stage.page;
        open_a_new_roll(page).await;
        for nonsense in ["fast", "0", "-400", "1e3", "99999999"] {
            page.write("Rated, ISO", nonsense).await;
            let sentence = "A whole number, such as 400, or nothing.";
            page.until_shows(sentence).await;
        }
        page.write("Rated, ISO", "200").await;
        for nonsense in ["2026-02-30", "yesterday", "14.3.2026", "2026-03-15"] {
            page.write("Out of the camera", nonsense).await;
            assert!(
                page.shows("A day that has been, such as 2026-03-14, or nothing.").await,
                "{nonsense}"
            );
        }
        page.write("Out of the camera", "2026-03-04").await;
        page.press("All rolls").await;
        assert!(
            page.shows("rated 200").await && page.shows("10 days").await,
            "{}",
            page.words().await
        );
    });
}
