//! From one session to the next: which rolls were in it, what was poured, a file, and what can be
//! taken back.

use serde_json::json;
use session::notebook::{Kind, Record, file};
use session::timestamp::Timestamp;

use super::files::pick;
use super::rolls::{records, written_down};
use super::shelf::new_bottle;
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// Writes a roll down that waits.
async fn waits(page: &Page, film: &str, exposed_on: &str) {
    written_down(page, film).await;
    page.write("Out of the camera", exposed_on).await;
}

/// From the start of a run to its developer's end, stopped there.
async fn a_short_run(page: &Page) {
    let zero = page.start_to_developer().await;
    page.advance_to(zero + steps::DEVELOPER).await;
    page.bath_is_out("Developer").await;
    page.stop_here().await;
}

#[test]
fn a_roll_that_waits_is_joined_to_a_run_that_began_without_it_and_taken_out_again() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        waits(page, "slide 100", "").await;
        waits(page, "colour negative 400", "2026-03-13").await;
        page.press("Bench").await;
        // One of which nobody knows the day has no age, and hides that of no other.
        page.until_shows("2 rolls, oldest 1 day").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.lay_out_the_rest().await;
        a_short_run(page).await;
        page.press("DONE").await;
        let run_of = async |number: u64| {
            let rolls = records(page, "roll").await;
            let roll = rolls.iter().find(|roll| roll["number"] == number);
            roll.expect("the roll")["run"].clone()
        };
        assert!(run_of(1).await.is_null() && run_of(2).await.is_null());
        page.press_with("Roll 2 was in it").await;
        assert!(run_of(1).await.is_null() && run_of(2).await.is_string());
        page.press_with("Roll 2 was in it").await;
        assert!(run_of(2).await.is_null());
        // Later, too, from the run's own page.
        page.press("Rolls").await;
        page.press_with("colour negative, 38.9").await;
        page.press_with("Roll 1 was in it").await;
        assert!(run_of(1).await.is_string());
    });
}

#[test]
fn a_file_is_offered_once_where_the_film_hangs_and_the_bench_counts_sessions() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_bleach_fix(page).await;
        page.stop_here().await;
        page.press_with("SAVE A FILE").await;
        page.until_shows("Downloaded. See that it is there.").await;
        assert!(!page.has("button", "SAVE A FILE").await, "{}", page.words().await);
        page.press("DONE").await;
        page.press("Bench").await;
        page.until_shows("last file today").await;
        for _ in 0..2 {
            page.advance(13.0 * 3_600.0).await;
            page.press("DEVELOP A ROLL").await;
            page.lay_out_the_rest().await;
            a_short_run(page).await;
            assert!(page.has("button", "SAVE A FILE").await, "{}", page.words().await);
            page.press("DONE").await;
            page.press("Bench").await;
        }
        page.until_shows("2 sessions not in a file: last file 1 day ago").await;
    });
}

#[test]
fn a_bench_names_every_solution_in_use_and_the_roll_says_how_old_they_were() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.press("IT IS MIXED").await;
        page.press("Shelf").await;
        page.press("Mix").await;
        page.press("Bleach-fix").await;
        page.press("IT IS MIXED").await;
        page.advance(3.0 * 86_400.0).await;
        page.write("What you saw", "a little cloudy").await;
        page.until_shows("looked at, a little cloudy").await;
        page.press("TAKE BACK").await;
        assert!(!page.shows("a little cloudy").await, "{}", page.words().await);
        page.press("Shelf").await;
        page.press("Bench").await;
        page.until_shows("Developer 1000 mL, 3 days, 0 rolls").await;
        page.until_shows("Bleach-fix 1000 mL, 3 days, 0 rolls").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.lay_out_the_rest().await;
        a_short_run(page).await;
        page.press("DONE").await;
        // Clean up: what to write on each bottle.
        page.until_shows("Write on the bottles: Developer 1 roll; Bleach-fix 0 rolls.").await;
        page.until_shows("Developer: 3 days, 0 rolls before.").await;
        page.press("Shelf").await;
        page.press_with("DEVELOPER").await;
        page.press("ITS ROLLS").await;
        assert_eq!(page.heading().await, "Rolls");
    });
}

#[test]
fn a_suspect_bottle_stops_the_short_way_and_a_note_by_mistake_is_taken_back_later() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_bleach_fix(page).await;
        page.stop_here().await;
        page.press("DONE").await;
        page.press("Shelf").await;
        page.press("MIX A SOLUTION").await;
        page.press("Developer").await;
        page.press("IT IS MIXED").await;
        page.press("Shelf").await;
        page.press("Suspect").await;
        page.press("Bench").await;
        page.until_shows("Same as last time").await;
        page.press("Same as last time").await;
        assert_eq!(page.heading().await, "Lay out");
        page.until_shows("Suspect since").await;
        page.press("Back").await;
        page.press("Back").await;
        page.press("Shelf").await;
        page.press_with("DEVELOPER").await;
        page.press("TAKE BACK").await;
        page.press("Bench").await;
        page.press("Same as last time").await;
        assert_eq!(page.heading().await, "Tempering");
    });
}

#[test]
fn a_trial_a_recipe_and_a_sheet_that_were_put_aside_come_back() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Stabiliser").await;
        page.press("PUT ASIDE").await;
        page.press("Rolls").await;
        page.press("TRIALS").await;
        page.press("NEW TRIAL").await;
        page.write("Question", "does it fade?").await;
        page.press("PUT ASIDE").await;
        page.press("Rolls").await;
        page.press_with("2 things").await;
        page.until_shows("does it fade?").await;
        page.press_with("BRING STABILISER BACK").await;
        page.press_with("BRING TRIAL BACK").await;
        page.until_shows("Nothing is put aside.").await;
        for kind in ["solution", "trial"] {
            assert_eq!(records(page, kind).await[0]["deleted"], json!(false), "{kind}");
        }
    });
}

#[test]
fn reels_that_need_more_than_the_tank_or_a_bottle_holds_are_told_before_the_tank_is_filled() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        for film in ["first", "second"] {
            waits(page, film, "").await;
            page.press("120").await;
        }
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.press_with("first").await;
        assert!(page.shows("These reels need about 500 mL.").await, "{}", page.words().await);
        page.press_with("second").await;
        page.until_shows("need about 1000 mL. The figure on the tank goes first.").await;
        // Nobody has said yet how much the tank holds.
        assert!(!page.shows("your tank holds").await, "{}", page.words().await);
        page.press("Back").await;
        page.press("Back").await;
        page.press("Settings").await;
        let now = Timestamp::from_milliseconds(1_773_498_600_000);
        let tank = Record::new(Kind::Vessel, "tank", "phone", now)
            .with("vessel", "tank")
            .with("name", "Tank");
        pick(page, &file::write(vec![tank.with("volume_ml", 500.0)], now)).await;
        page.until_shows("READ IT IN").await;
        page.press("READ IT IN").await;
        page.advance(1.0).await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.until_shows("need about 1000 mL; your tank holds 500 mL: too many for it").await;
        // What the person has found with water goes before what is known of reels.
        page.press("Back").await;
        page.press("Back").await;
        page.press("Settings").await;
        page.press_with("VESSELS").await;
        page.write("Covers the reels", "480").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.until_shows("These reels need about 480 mL.").await;
        assert!(!page.shows("too many for it").await, "{}", page.words().await);
    });
}

#[test]
fn mixing_is_spoken_with_amount_warmth_and_caution_and_volumes_go_by_settings() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Bleach-fix").await;
        page.write("The kit makes", "1000").await;
        page.write("Its parts, in order", "A 142.5, B 47").await;
        page.write("Water at", "40").await;
        page.press("MIX IT").await;
        page.until_shows("It fumes: never lean over it.").await;
        page.press("READY").await;
        let said = page.heard().await.sentences().pop().expect("a sentence");
        assert_eq!(said, "First water. 700 mL. At 40.0 °C. Cold 170 mL, hot 530 mL.");
        page.press("UNDO").await;
        page.press("BACK").await;
        page.press("Settings").await;
        page.press("US fl oz").await;
        page.press("Shelf").await;
        page.press("Mix").await;
        page.press_with("its recipe is kept").await;
        page.press("MIX IT").await;
        page.press("READY").await;
        page.until_shows("23.7 fl oz").await;
    });
}
