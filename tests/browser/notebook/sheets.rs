//! Sheets: compared with a leaflet, copied, edited, used.

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

async fn to_sheet(page: &Page, name: &str) {
    page.open("#/sheets").await;
    page.advance(1.0).await;
    page.press_with(name).await;
}

#[test]
fn a_sheet_from_memory_starts_only_after_it_was_compared_with_a_leaflet() {
    run(async |stage| {
        let page = &stage.page;
        to_sheet(page, "negative, 37.8").await;
        page.until_shows("from memory").await;
        assert!(!page.has("button", "USE THIS SHEET").await);
        page.press("My leaflet says the same").await;
        assert!(!page.has("button", "USE THIS SHEET").await, "one step is doubtful");
        page.press("Bleach-fix: my leaflet says 8:00 too").await;
        page.press("USE THIS SHEET").await;
        page.press("Bench").await;
        page.until_shows("37.8 °C").await;
        page.lay_out().await;
        page.start().await;
        page.advance(70.0).await;
        page.bath_is_out("Pre-soak").await;
        page.advance(10.0).await;
        page.until_shows("3:1").await;
    });
}

#[test]
fn bottles_are_laid_out_by_the_sheet() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/lay-out/1").await;
        page.advance(1.0).await;
        page.until_shows("Bleach-fix").await;
        assert!(!page.shows("Its other bottles").await, "{}", page.words().await);
        to_sheet(page, "C-41").await;
        page.press("USE THIS SHEET").await;
        page.open("#/lay-out/1").await;
        page.advance(1.0).await;
        page.until_shows("Its other bottles").await;
        assert!(!page.shows("Bleach-fix").await, "{}", page.words().await);
    });
}

#[test]
fn every_value_of_a_sheet_says_where_it_is_from() {
    run(async |stage| {
        let page = &stage.page;
        to_sheet(page, "C-41").await;
        for words in ["Z-131", "from memory", "first 30 s, then 2 s every 15 s"] {
            page.until_shows(words).await;
        }
    });
}

#[test]
fn the_sheet_of_a_rotary_tank_says_what_to_do_where_it_is_warmed_dry() {
    run(async |stage| {
        let page = &stage.page;
        to_sheet(page, "rotary").await;
        page.until_shows("turn the loaded tank dry in the tub instead").await;
    });
}

#[test]
fn a_copy_is_edited_and_old_rolls_keep_their_sheet() {
    run(async |stage| {
        let page = &stage.page;
        to_sheet(page, "negative, 38.9").await;
        page.press("EDIT A COPY").await;
        page.write("Name", "my kit").await;
        page.write("2 Developer, time", "3:45").await;
        page.write("Add for each roll", "15").await;
        page.press("DONE").await;
        for words in
            ["my kit", "3:45", "Add 15 s to the developer for each roll before, in 1000 mL"]
        {
            page.until_shows(words).await;
        }
        page.press("USE THIS SHEET").await;
        page.press("Bench").await;
        page.lay_out().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + 225.0).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.press("DONE").await;
        page.press("Sheets").await;
        page.press_with("my kit").await;
        page.press("EDIT").await;
        page.write("2 Developer, time", "4:00").await;
        page.press("DONE").await;
        page.until_shows("Earlier versions").await;
        page.press("Rolls").await;
        page.press_with("my kit").await;
        assert!(page.shows("3:45").await && !page.shows("4:00").await, "{}", page.words().await);
    });
}

#[test]
fn impossible_values_are_answered_with_a_sentence_and_the_old_value_stays() {
    run(async |stage| {
        let page = &stage.page;
        to_sheet(page, "negative, 38.9").await;
        page.press("EDIT A COPY").await;
        for (field, typed, sentence) in [
            ("2 Developer, time", "0", "The time must be more than zero."),
            ("2 Developer, time", "-3:30", "A time, such as 3:30."),
            ("2 Developer, time", "soon", "A time, such as 3:30."),
            ("2 Developer, coolest", "45", "The coolest must not be warmer than the warmest."),
            ("2 Developer, warmest", "99", "Temperatures of a bath lie between 0 and 60 °C."),
            ("2 Developer, each later", "40", "Agitation must be shorter than its interval"),
            ("2 Developer, first", "many", "A number, such as 15."),
        ] {
            page.write(field, typed).await;
            assert!(page.shows(sentence).await, "{field} {typed}: {}", page.words().await);
        }
        page.press("DONE").await;
        for words in ["3:30", "38.9", "first 10 s, then 5 s every 30 s"] {
            page.until_shows(words).await;
        }
    });
}

#[test]
fn steps_are_put_in_moved_and_taken_out() {
    run(async |stage| {
        let page = &stage.page;
        to_sheet(page, "negative, 38.9").await;
        page.press("EDIT A COPY").await;
        page.press("Fixer").await;
        page.until_shows("8 Fixer").await;
        page.press_last("MOVE UP").await;
        page.until_shows("7 Fixer").await;
        page.press_last("REMOVE").await;
        page.press("DONE").await;
        assert!(
            page.shows("Fixer").await && !page.shows("Stabiliser").await,
            "{}",
            page.words().await
        );
    });
}

#[test]
fn a_sheet_can_be_carried_to_another_phone() {
    run(async |stage| {
        let page = &stage.page;
        to_sheet(page, "negative, 38.9").await;
        page.press("EDIT A COPY").await;
        page.write("Name", "carried").await;
        page.press("DONE").await;
        let file = page.tap_for_a_file("SAVE A FILE", stage.browser.profile()).await;
        page.advance(1.0).await;
        page.press("PUT ASIDE").await;
        assert!(!page.shows("carried").await);
        let file = file.replace("\"deleted\":true", "\"deleted\":false");
        page.press("Settings").await;
        page.paste(&file).await;
        page.advance(steps::FIRST_LEAD_IN).await;
        page.until_shows("the same").await;
    });
}
