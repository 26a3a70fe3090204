//! What happens to rolls, runs and sheets after the evening: put aside, stopped, judged, compared,
//! written up late, and on which day.

use serde_json::json;

use super::rolls::{records, written_down};
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// A run with one roll in it that was stopped after the developer, read in the tub so many times; the
/// roll's page is open.
async fn a_stopped_roll(page: &Page, stock: &str, tub: &[&str]) {
    page.press("DEVELOP A ROLL").await;
    if page.has("button", "ALL OF THIS IS SO").await {
        page.press("ALL OF THIS IS SO").await;
    }
    page.lay_out_the_rest().await;
    let zero = page.start_to_developer().await;
    for (nth, reading) in (1_u8..).zip(tub) {
        page.advance_to(zero + 30.0 * f64::from(nth)).await;
        page.read_tub(reading).await;
    }
    page.advance_to(zero + steps::DEVELOPER).await;
    page.bath_is_out("Developer").await;
    page.stop_here().await;
    page.press("DONE").await;
    page.press("ADD A ROLL").await;
    page.write("Film", stock).await;
    page.press("DONE").await;
}

#[test]
fn a_sheet_that_was_put_aside_is_not_gone_on_with_nor_another_in_its_place() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/sheets").await;
        page.advance(1.0).await;
        page.press_with("negative, 38.9").await;
        page.press("EDIT A COPY").await;
        page.write("Name", "My own process").await;
        page.press("DONE").await;
        page.press("USE THIS SHEET").await;
        page.press("Bench").await;
        page.until_shows("My own process").await;
        a_stopped_roll(page, "the beach", &[]).await;
        page.press("Sheets").await;
        page.press_with("My own process").await;
        page.press("PUT ASIDE").await;
        for key in ["DEVELOP A ROLL", "Same as last time"] {
            page.press("Bench").await;
            page.press(key).await;
            assert_eq!(page.heading().await, "Sheets", "{key}");
            page.until_shows("The sheet of last time was put aside.").await;
        }
        // What was run with it stays what it was.
        page.press("Rolls").await;
        page.press_with("the beach").await;
        page.until_shows("My own process").await;
        page.press("All rolls").await;
        page.press_with("PUT ASIDE").await;
        page.press("BRING MY OWN PROCESS BACK").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        assert_eq!(page.heading().await, "Lay out");
    });
}

#[test]
fn a_roll_of_a_stopped_run_is_not_to_scan_and_one_in_the_tank_is_not_either() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        written_down(page, "the beach").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.press_with("the beach").await;
        page.lay_out_the_rest().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + 20.0).await;
        page.eval("(location.hash = '#/bench', true)").await;
        page.until_shows("RUNNING").await;
        for words in ["To scan", "Waiting", "First time"] {
            assert!(!page.shows(words).await, "{words}: {}", page.words().await);
        }
        page.press_with("RETURN").await;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.press("DONE").await;
        page.press("Bench").await;
        page.until_shows("1 run, last").await;
        assert!(!page.shows("To scan").await, "{}", page.words().await);
        page.press("Rolls").await;
        page.until_shows("stopped 14 Mar 2026").await;
        // Once it was handled after all, it is.
        page.press_with("the beach").await;
        page.press("Dry").await;
        page.press("Bench").await;
        page.until_shows("To scan").await;
    });
}

#[test]
fn a_roll_that_was_put_aside_leaves_no_run_behind_in_the_list_or_on_paper() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        a_stopped_roll(page, "the beach", &[]).await;
        page.until_shows("the beach").await;
        page.press("PUT ASIDE").await;
        page.press("All rolls").await;
        page.until_shows("Put aside").await;
        assert!(!page.shows("38.9").await, "{}", page.words().await);
        page.eval("(location.hash = '#/paper', true)").await;
        page.until_shows("Rolls: 0.").await;
        assert!(!page.shows("Developer").await, "{}", page.words().await);
    });
}

#[test]
fn two_runs_are_compared_place_by_place_however_often_each_was_read() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        a_stopped_roll(page, "the beach", &["400"]).await;
        page.press("Bench").await;
        a_stopped_roll(page, "the hill", &["400", "392"]).await;
        page.press_with("COMPARE").await;
        // Nothing differs between a roll and itself: it is not taken for an answer.
        page.press_with("ROLL 2").await;
        page.until_shows("Roll 2 with which other roll?").await;
        page.press_with("ROLL 1").await;
        page.until_shows("The same in both").await;
        let tub = "Tub, read 40.0 °C, 39.2 °C 40.0 °C";
        assert!(page.shows(tub).await, "{}", page.words().await);
    });
}

#[test]
fn what_nobody_read_is_not_shown_as_what_film_was_given() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        a_stopped_roll(page, "the beach", &[]).await;
        assert!(!page.shows("Estimate: it developed as much as").await, "{}", page.words().await);
        page.press("Rolls").await;
        page.press("TRIALS").await;
        page.press_with("LEARNING").await;
        page.until_shows("No roll has been judged yet.").await;
        page.press("Rolls").await;
        page.press_with("the beach").await;
        page.press("EDIT").await;
        page.press("thin").await;
        page.write("How it came out", "a little flat").await;
        page.press("Rolls").await;
        page.until_shows("thin; a little flat; the beach").await;
        page.write("Find", "thin").await;
        page.until_shows("the beach").await;
        page.press("TRIALS").await;
        page.press_with("LEARNING").await;
        page.until_shows("1 thin, 0 right, 0 dense").await;
        page.until_shows("No judged roll has this yet.").await;
    });
}

#[test]
fn an_evening_is_written_up_later_and_what_was_wanted_stands_on_the_bench() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        a_stopped_roll(page, "the beach", &[]).await;
        // Words of the roll itself, where the evening has none.
        page.press("EDIT").await;
        page.write("Anything to change next time?", "rate it slower").await;
        page.press("Bench").await;
        page.until_shows("You wrote: rate it slower").await;
        page.press_with("You wrote").await;
        assert_eq!(page.heading().await, "Roll");
        page.press("WRITE-UP").await;
        page.write("Anything to change next time?", "warmer tub").await;
        page.press("Bench").await;
        page.until_shows("You wrote: warmer tub").await;
    });
}

#[test]
fn all_rolls_that_wait_can_be_put_into_a_tank() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        for nth in 1..=9 {
            written_down(page, &format!("film {nth}")).await;
            // Of the first nobody knows the day: it comes last.
            if nth > 1 {
                page.write("Out of the camera", &format!("2026-01-0{nth}")).await;
            }
        }
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.until_shows("film 8").await;
        assert!(!page.shows("film 9").await && !page.shows("film 1").await);
        page.press("ALL THAT WAIT").await;
        page.press_with("film 1").await;
        page.lay_out_the_rest().await;
        page.start().await;
        let rolls = records(page, "roll").await;
        let in_tank = rolls.iter().filter(|roll| roll["run"].is_string());
        assert_eq!(in_tank.map(|roll| &roll["stock"]).collect::<Vec<_>>(), [&json!("film 1")]);
    });
}

#[test]
fn days_are_those_on_the_persons_wall() {
    run(async |stage| {
        let page = &stage.page;
        // Half past two in the afternoon at Greenwich is the morning of the next day there.
        let zone = json!({ "timezoneId": "Pacific/Auckland" });
        page.cdp("Emulation.setTimezoneOverride", zone).await;
        page.open("").await;
        page.advance(1.0).await;
        written_down(page, "the beach").await;
        page.press("TODAY").await;
        let day = "document.querySelector('input[aria-label^=\"Out of the camera\"]').value";
        assert_eq!(page.eval(day).await, "2026-03-15");
        page.press("Bench").await;
        page.until_shows("1 roll, oldest today").await;
        page.press("Rolls").await;
        page.press("TRIALS").await;
        page.press("NEW TRIAL").await;
        page.write("Question", "Does it fade?").await;
        page.press("IN A MONTH").await;
        page.until_shows("2026-04-14").await;
        page.write("What do you see today?", "nothing").await;
        page.until_shows("2026-03-15").await;
        // A bottle of last night is a day old in the morning, whatever the hours.
        page.press("Shelf").await;
        page.press("MIX A SOLUTION").await;
        page.press("Developer").await;
        page.press("IT IS MIXED").await;
        page.until_shows("mixed today").await;
        // It is half past three in the morning: at ten in the evening of that day it is still today.
        page.shift_wall(18.5 * 3600.0).await;
        page.reload_to("Solution").await;
        page.until_shows("mixed today").await;
        page.shift_wall(3.0 * 3600.0).await;
        page.reload_to("Solution").await;
        page.until_shows("1000 mL, 1 day.").await;
    });
}
