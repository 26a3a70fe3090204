//! A roll and what is done with it: its fields, putting aside, faults, another beside it, its chart.

use serde_json::json;

use super::rolls::{new_roll, records};
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// Opens the page and writes down rolls of these films.
async fn rolls(page: &Page, films: &[&str]) {
    page.open("").await;
    page.advance(1.0).await;
    for film in films {
        new_roll(page, film).await;
    }
    page.press("Rolls").await;
}

#[test]
fn every_field_of_a_roll_is_written_and_read_back() {
    run(async |stage| {
        let page = &stage.page;
        rolls(page, &["colour negative 400"]).await;
        page.press_with("ROLL 1").await;
        page.press("EDIT").await;
        for (field, text) in [
            ("Box speed", "400"),
            ("Rated, ISO", "200"),
            ("Lens", "50 mm"),
            ("Frames", "36"),
            ("Camera", "the old one"),
        ] {
            page.write(field, text).await;
        }
        page.press("120").await;
        page.press("push 1").await;
        page.press("DONE").await;
        let words = "colour negative 400, 120, 36 frames, rated 200, push 1, the old one, 50 mm";
        page.until_shows(words).await;
        let roll = records(page, "roll").await.remove(0);
        for (field, value) in
            [("frames", json!(36)), ("push_stops", json!(1.0)), ("lens", json!("50 mm"))]
        {
            assert_eq!(roll[field], value, "{roll}");
        }
        page.press("EDIT").await;
        page.press("normal").await;
        let roll = records(page, "roll").await.remove(0);
        assert!(roll["push_stops"].is_null(), "{roll}");
    });
}

#[test]
fn a_roll_that_was_put_aside_comes_back_by_one_tap() {
    run(async |stage| {
        let page = &stage.page;
        rolls(page, &["the beach", "the hill"]).await;
        page.press_with("the beach").await;
        page.press("PUT ASIDE").await;
        page.until_shows("It can be brought back for 30 days.").await;
        // Undone at once.
        page.press("UNDO").await;
        assert!(page.has("button", "EDIT").await, "{}", page.words().await);
        page.press("PUT ASIDE").await;
        page.press("All rolls").await;
        assert!(!page.shows("the beach").await, "{}", page.words().await);
        // Undone days later.
        page.shift_wall(10.0 * 86_400.0).await;
        page.reload_to("Rolls").await;
        page.until_shows("the hill").await;
        page.press_with("PUT ASIDE").await;
        page.until_shows("20 days left").await;
        page.press_with("BRING ROLL 1 BACK").await;
        page.until_shows("Nothing is put aside.").await;
        page.press("All rolls").await;
        page.until_shows("the beach").await;
    });
}

#[test]
fn a_roll_that_was_put_aside_is_gone_after_thirty_days_and_its_mark_is_kept() {
    run(async |stage| {
        let page = &stage.page;
        rolls(page, &["the beach", "the hill"]).await;
        page.press_with("the beach").await;
        page.press("PUT ASIDE").await;
        page.press("All rolls").await;
        page.until_shows("Put aside").await;
        page.shift_wall(30.0 * 86_400.0 + 60.0).await;
        page.reload_to("Rolls").await;
        page.until_shows("the hill").await;
        assert!(!page.shows("Put aside").await, "{}", page.words().await);
        let kept = records(page, "roll").await;
        assert_eq!(kept.iter().filter(|roll| roll["deleted"] == true).count(), 1, "{kept:?}");
    });
}

#[test]
fn rolls_are_found_by_words_while_they_are_typed() {
    run(async |stage| {
        let page = &stage.page;
        rolls(page, &["the beach", "the hill", "the old beach"]).await;
        page.press_with("the hill").await;
        page.press("Filed").await;
        page.press("All rolls").await;
        page.tap("textbox", "Find").await;
        page.type_text("BEA").await;
        page.until_shows("2 found").await;
        assert!(page.shows("the old beach").await && !page.shows("the hill").await);
        page.type_text("ch old").await;
        page.until_shows("1 found").await;
        // Going to a roll and back leaves what was typed.
        page.press_with("the old beach").await;
        page.press("All rolls").await;
        page.until_shows("1 found").await;
        page.write("Find", "march 2026 nothing").await;
        page.until_shows("0 found").await;
        page.write("Find", "h").await;
        page.press("Done").await;
        page.until_shows("1 found").await;
        assert!(page.shows("the hill").await && !page.shows("the beach").await);
    });
}

#[test]
fn of_two_rolls_only_what_differs_is_shown() {
    run(async |stage| {
        let page = &stage.page;
        rolls(page, &["colour negative 400", "colour negative 400"]).await;
        page.press_with("ROLL 1").await;
        page.press("EDIT").await;
        page.write("Camera", "the old one").await;
        page.press("DONE").await;
        page.press_with("COMPARE").await;
        page.press_with("ROLL 2").await;
        page.until_shows("The same in both").await;
        assert!(page.shows("the old one").await && page.shows("Differs").await);
        assert!(!page.shows("colour negative 400").await, "{}", page.words().await);
        // From the roll: two taps.
        assert!(page.fragment().await.contains("/compare/"));
    });
}

#[test]
fn a_fault_is_found_by_what_is_seen_and_stays_on_the_roll_with_its_remedy() {
    run(async |stage| {
        let page = &stage.page;
        rolls(page, &["the beach", "the hill"]).await;
        page.press_with("the beach").await;
        page.press_with("FIND A FAULT").await;
        page.until_shows("48 found").await;
        page.tap("textbox", "What is seen").await;
        page.type_text("milky").await;
        for words in ["1 found", "Under-fixed", "re-fix then full wash", "NAVEDTRA 14209"] {
            page.until_shows(words).await;
        }
        page.press_with("Milky").await;
        page.press("The roll").await;
        for words in ["Faults seen on it", "Milky", "For this film: re-fix", "Source: NAVEDTRA"] {
            page.until_shows(words).await;
        }
        let kept = records(page, "roll").await;
        assert!(kept.iter().any(|roll| roll["faults"] == json!(["D19"])), "{kept:?}");
        page.press("All rolls").await;
        page.press("Faults").await;
        page.until_shows("1 found").await;
        assert!(page.shows("the beach").await && !page.shows("the hill").await);
    });
}

#[test]
fn the_temperatures_of_a_run_are_a_chart_and_a_table() {
    run(async |stage| {
        let page = &stage.page;
        steps::read_and_stopped_after_the_developer(page).await;
        page.press("DONE").await;
        page.press("Rolls").await;
        page.press_with("colour negative").await;
        page.until_shows("Dashes: the tub.").await;
        page.until_shows("40.1–41.5 °C").await;
        assert_eq!(page.eval("document.querySelectorAll('svg.chart').length").await, 1);
        let rows = "[...document.querySelectorAll('.unseen table tr')].map((row) => row.innerText)";
        let rows = page.eval(&format!("{rows}.join('; ')")).await.to_string();
        assert!(rows.contains("40.1") && rows.contains("41.5") && rows.contains("Tub"), "{rows}");
    });
}
