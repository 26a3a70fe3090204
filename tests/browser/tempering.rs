//! Bottles and tub brought to temperature, the dark, and a run that answers to the thermometer.

use serde_json::json;

use crate::harness::page::Page;
use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::steps::{self, Steps};

/// Everything read once: the tub, and both bottles from the shelf.
async fn read_all(page: &Page) {
    page.read("MEASURE TUB", "420").await;
    page.read("MEASURE DEVELOPER", "203").await;
    page.read("MEASURE BLEACH-FIX", "198").await;
}

#[test]
fn tempering_says_what_to_measure_next_and_takes_four_touches_a_reading() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        let touches = async || {
            let heard = page.heard().await;
            heard.presses().iter().filter(|press| press.what.what == "click").count()
        };
        let before = touches().await;
        read_all(page).await;
        let touches = touches().await - before;
        assert!(touches <= 3 * 4, "{touches} touches for three readings");
        assert!(page.shows("20.3").await && page.shows("42.0").await);
        // Two cold litres in eight of 42 °C: more water is needed, or a while.
        assert!(!page.shows("GO TO THE DARK").await, "{}", page.words().await);
        page.advance(200.0).await;
        assert!(page.shows("MEASURE").await, "{}", page.words().await);
        assert!(page.shows("expect").await, "{}", page.words().await);
    });
}

#[test]
fn a_second_reading_gives_an_arrival_with_its_interval_or_the_peak() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        read_all(page).await;
        page.advance(180.0).await;
        page.read("Developer", "247").await;
        let words = page.words().await;
        assert!(words.contains(" ±") || words.contains("peaks"), "{words}");
        page.press("Developer").await;
        page.press("chart").await;
        let words = page.words().await;
        assert!(words.contains("±") || words.contains("Peaks at"), "{words}");
        assert!(words.contains("Estimate"), "{words}");
        // The same as a table, for those who cannot see the chart.
        assert!(page.has("cell", "20.3").await && page.has("cell", "24.7").await);
    });
}

#[test]
fn water_is_written_down_in_two_touches_and_the_tub_is_asked_for_again() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        read_all(page).await;
        page.press("WATER").await;
        assert!(page.shows("thermometer before hands").await);
        page.press("SWAPPED").await;
        let log = page.log().await;
        let swap = log.last().expect("an entry");
        assert_eq!(swap["event"], json!("water_swapped"), "{log:?}");
        assert!(swap["add_ml"].as_f64().is_some_and(|ml| ml >= 500.0), "{swap}");
        page.advance(40.0).await;
        assert!(page.shows("MEASURE TUB").await, "{}", page.words().await);
    });
}

#[test]
fn advice_never_plans_a_tub_that_burns_unless_no_hands_go_in() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        read_all(page).await;
        page.press("WATER").await;
        assert!(page.shows("at most 45").await, "{}", page.words().await);
        page.press("HANDS GO IN").await;
        assert!(page.shows("NO HANDS IN IT").await && page.shows("at most 49").await);
    });
}

#[test]
fn a_reading_can_be_taken_away_and_the_estimate_is_made_anew() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        read_all(page).await;
        page.advance(60.0).await;
        page.read("Bleach-fix", "254").await;
        page.press("Bleach-fix").await;
        page.press("chart").await;
        page.press("TAKE AWAY").await;
        page.press("BACK").await;
        assert!(page.shows("19.8").await && !page.shows("25.4").await, "{}", page.words().await);
        page.press("UNDO").await;
        assert!(page.shows("25.4").await, "{}", page.words().await);
    });
}

#[test]
fn an_overshoot_says_so_in_words() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        page.read("MEASURE TUB", "450").await;
        page.read("MEASURE DEVELOPER", "428").await;
        page.read("MEASURE BLEACH-FIX", "350").await;
        assert!(page.shows("OVER by").await, "{}", page.words().await);
        page.press("Developer").await;
        page.press("chart").await;
        assert!(page.shows("Cool water").await, "{}", page.words().await);
    });
}

#[test]
fn fahrenheit_is_typed_without_a_fourth_digit_and_kept_in_celsius() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("Settings").await;
        page.press("°F").await;
        page.press("Bench").await;
        page.lay_out_to_tempering().await;
        for (digits, celsius) in [("102", 38.9), ("40", 4.4), ("102", 38.9)] {
            page.press("Tub").await;
            page.touch_digits(digits).await;
            page.advance(4.0).await;
            if page.has("button", "AS READ").await {
                page.press("AS READ").await;
            }
            let log = page.log().await;
            let kept = log.last().expect("an entry")["celsius"].as_f64().expect("a reading");
            assert!((kept - celsius).abs() <= 0.05, "{digits} °F is kept as {kept} °C");
        }
    });
}

#[test]
fn the_screen_is_black_in_the_dark_and_stays_black_over_a_reload() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        read_all(page).await;
        page.press("DARK").await;
        assert!(page.shows("This phone is a lamp.").await);
        page.press("LIGHTS OUT").await;
        assert!(page.brightest_pixel().await <= 2);
        // A touch shows nothing; nor does a reload, before or after the page has begun.
        page.touch_at(200.0, 300.0).await;
        page.advance(3.0).await;
        assert!(page.brightest_pixel().await <= 2);
        page.reload().await;
        assert_eq!(page.heading().await, "Dark");
        assert!(page.brightest_pixel().await <= 2);
        for size in [Viewport::LANDSCAPE, Viewport::PORTRAIT] {
            page.size(size).await;
            page.settle().await;
            assert!(page.brightest_pixel().await <= 2);
        }
    });
}

#[test]
fn a_long_touch_or_any_key_brings_the_question_and_then_last_check() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        read_all(page).await;
        page.press("DARK").await;
        page.press("LIGHTS OUT").await;
        page.advance(540.0).await;
        page.hold("main", "", 1.6).await;
        page.advance(1.0).await;
        assert!(page.shows("Column in? Lid locked?").await, "{}", page.words().await);
        page.press("NOT YET").await;
        assert!(page.brightest_pixel().await <= 2);
        page.advance(20.0).await;
        page.key("x").await;
        page.advance(1.0).await;
        page.press("LIGHT IS ON").await;
        assert_eq!(page.heading().await, "Last check");
        assert!(page.shows("dark for 9:2").await, "{}", page.words().await);
        // What was read before counts no more; what to expect is said.
        assert!(page.shows("read it").await && page.shows("expect").await);
        let said = page.heard().await.said();
        let minutes = said.iter().any(|said| said.what.text.starts_with("Nine minutes."));
        assert!(minutes, "{said:?}");
    });
}

#[test]
fn each_screen_before_the_start_is_found_again_after_a_reload() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        read_all(page).await;
        page.reload_to("Tempering").await;
        page.until_shows("20.3").await;
        page.advance(1.0).await;
        page.press("DARK").await;
        page.reload_to("Dark").await;
        page.advance(1.0).await;
        page.press("FILM IS IN").await;
        page.until_shows("20.3").await;
        page.reload_to("Last check").await;
        page.until_shows("20.3").await;
    });
}

#[test]
fn a_reading_in_the_tank_offers_two_equal_choices_and_the_cues_move_with_them() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 62.0).await;
        read_in_the_tank(page, "372").await;
        assert!(page.shows("KEEP 3:30").await, "{}", page.words().await);
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
        assert!(page.shows("the developer amounts to 3:").await, "{}", page.words().await);
        assert!(page.shows("from one reading in the tank").await, "{}", page.words().await);
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
fn a_thermometer_that_reads_low_is_corrected_for_and_says_since_when() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("Settings").await;
        page.press("Vessels").await;
        page.write("In ice water it shows", "cold").await;
        assert!(page.shows("such as −0.3").await, "{}", page.words().await);
        page.write("In ice water it shows", "−0.3").await;
        assert!(page.shows("reads 0.3 low").await, "{}", page.words().await);
        page.write("Beside one you trust", "39.4 38.9").await;
        assert!(page.shows("reads 0.5 high").await, "{}", page.words().await);
    });
}

#[test]
fn a_bottle_is_set_up_once_and_found_again() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("Settings").await;
        page.press("Vessels").await;
        page.press_last("glass").await;
        page.write("Hot tap", "60").await;
        assert!(page.shows("This water can burn. Cold first, then hot.").await);
        page.press("no tub").await;
        page.reload_to("Vessels").await;
        assert!(page.shows("This water can burn.").await, "{}", page.words().await);
        page.advance(1.0).await;
        page.press("Bench").await;
        page.lay_out_to_tempering().await;
        // Without a tub there is nothing to estimate; readings are judged as they are.
        assert!(!page.has("button", "Tub").await && page.shows("MEASURE DEVELOPER").await);
    });
}

#[test]
fn the_amounts_of_hot_and_cold_water_for_the_pre_soak_are_said_before_it_is_read() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        page.press("Pre-soak").await;
        assert!(page.shows("mL hot").await && page.shows("mL cold").await);
        page.touch_digits("3").await;
        assert!(!page.shows("mL hot").await, "digits go first");
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
        assert!(page.shows("read in the tank?").await, "{}", page.words().await);
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
            assert!(page.shows(answer).await, "{}", page.words().await);
            page.press("BACK TO THE RUN").await;
        }
        let log = page.log().await;
        let faults: Vec<_> = log.iter().filter_map(|entry| entry["choice"].as_str()).collect();
        let noted =
            ["spilled", "spilled_half_left", "wrong_bath", "bleach_fix_in_developer_bottle"];
        assert_eq!(faults, noted);
    });
}
