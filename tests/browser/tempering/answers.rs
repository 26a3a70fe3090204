//! A run that answers to the thermometer, to faults, and to a phone that was dead.

use serde_json::json;

use crate::harness::page::Page;
use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::steps::{self, Steps};

#[test]
fn a_reading_in_the_tank_offers_two_equal_choices_and_the_cues_move_with_them() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 62.0).await;
        read_in_the_tank(page, "372").await;
        page.until_shows("KEEP 3:30").await;
        assert!(page.shows("estimate").await && page.has("button", "USE 3:").await);
        page.press("USE 3:").await;
        let log = page.log().await;
        let chosen = log.last().expect("an entry")["ms"].as_f64();
        let chosen = chosen.unwrap_or_else(|| panic!("no time in {log:?}"));
        assert!((215_000.0..=240_000.0).contains(&chosen), "{chosen}");
        page.advance_to(zero + chosen / 1000.0 - 11.0).await;
        assert_eq!(page.state_word().await, "REST");
        page.advance_to(zero + chosen / 1000.0 - 9.0).await;
        assert_eq!(page.state_word().await, "POUR");
    });
}

#[test]
fn whoever_does_nothing_about_a_reading_keeps_the_time() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 62.0).await;
        read_in_the_tank(page, "372").await;
        assert!(page.has("button", "KEEP 3:30").await);
        page.advance_to(zero + 201.0).await;
        assert_eq!(page.state_word().await, "POUR");
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.open_the_roll().await;
        page.until_shows("it developed as much as 3:").await;
        page.until_shows("from one reading in the tank").await;
    });
}

async fn read_in_the_tank(page: &Page, digits: &str) {
    page.press("TEMP").await;
    page.press("in the tank").await;
    page.touch_digits(digits).await;
    page.advance(0.8).await;
}

#[test]
fn a_reading_of_the_tub_in_a_run_asks_for_five_seconds_what_was_done() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        page.read_tub("385").await;
        assert!(page.has("button", "ADDED HOT").await && page.has("button", "SWAPPED").await);
        page.press("ADDED HOT").await;
        let log = page.log().await;
        assert_eq!(log.last().expect("an entry")["event"], json!("water_swapped"));
        page.advance_to(zero + 70.0).await;
        page.read_tub("390").await;
        assert!(page.has("button", "SWAPPED").await);
        page.advance(6.0).await;
        assert!(!page.has("button", "SWAPPED").await);
        assert_eq!(page.heading().await, "Run: Developer");
    });
}

#[test]
fn a_developer_that_nobody_has_read_invites_to_a_reading_for_half_a_minute_or_so() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 50.0).await;
        assert!(!page.shows("read in the tank?").await);
        page.advance_to(zero + 72.0).await;
        page.until_shows("read in the tank?").await;
        read_in_the_tank(page, "386").await;
        page.advance_to(zero + 82.0).await;
        assert!(!page.shows("read in the tank?").await);
    });
}

#[test]
fn after_a_phone_that_was_dead_for_minutes_three_touches_say_what_happened() {
    run(async |stage| {
        let zero = steps::to_developer(&stage.page).await;
        stage.page.advance_to(zero + 100.0).await;
        stage.kill();
        stage.start_again(360.0).await;
        let page = &stage.page;
        page.open("").await;
        page.until_shows("In the tank now?").await;
        page.advance(1.0).await;
        assert!(page.has("button", "STILL Developer").await);
        page.press("Bleach-fix").await;
        page.press("2 min").await;
        assert_eq!(page.heading().await, "Run: Bleach-fix");
        let left = page.timer().await;
        assert!(["5:58", "5:59", "6:00"].contains(&left.as_str()), "{left}");
        page.press("UNDO").await;
        assert_eq!(page.heading().await, "Run: Developer");
    });
}

#[test]
fn a_spill_asks_how_much_is_left_and_a_wrong_bath_which_in_words_that_open_no_tank() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        for (fault, which, answer) in [
            ("Spilled", "½ left", "invert without stopping"),
            ("Wrong bath", "Bleach-fix in developer bottle", "Do not use that developer again"),
        ] {
            page.press("FAULT").await;
            page.press(fault).await;
            page.press(which).await;
            page.until_shows(answer).await;
            page.press("BACK TO THE RUN").await;
        }
        let log = page.log().await;
        let faults: Vec<_> = log.iter().filter_map(|entry| entry["choice"].as_str()).collect();
        let noted =
            ["spilled", "spilled_half_left", "wrong_bath", "bleach_fix_in_developer_bottle"];
        assert_eq!(faults, noted);
    });
}

#[test]
fn a_developer_that_bleach_fix_got_into_is_blocked_until_it_is_mixed_anew() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        page.press("FAULT").await;
        page.press("Wrong bath").await;
        page.press("Bleach-fix in developer bottle").await;
        page.press("BACK TO THE RUN").await;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.press("DONE").await;
        page.press("Bench").await;
        page.until_shows("Developer is blocked: mix it anew").await;
        page.press("DEVELOP A ROLL").await;
        assert_eq!(page.heading().await, "Shelf");
        page.press("MIXED ANEW").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        assert_eq!(page.heading().await, "Lay out");
    });
}

#[test]
fn a_bleach_fix_that_is_cool_is_told_to_take_longer_and_is_offered_no_time() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_bleach_fix(page).await;
        page.advance_to(zero + 100.0).await;
        read_in_the_tank(page, "215").await;
        if page.has("button", "AS READ").await {
            page.press("AS READ").await;
        }
        assert!(!page.has("button", "USE").await, "{}", page.words().await);
        page.advance_to(zero + 145.0).await;
        read_in_the_tank(page, "218").await;
        page.until_shows("longer, never shorter.").await;
    });
}

#[test]
fn a_phone_that_is_turned_in_the_middle_of_a_spell_shows_and_says_the_same() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 62.0).await;
        let upright = page.look().await;
        assert_eq!(upright.state.as_deref(), Some("AGITATE"));
        for size in [Viewport::LANDSCAPE, Viewport::PORTRAIT] {
            page.size(size).await;
            page.settle().await;
            assert_eq!(page.look().await, upright);
        }
        page.advance_to(zero + steps::DEVELOPER).await;
        let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 209.5);
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
    });
}
