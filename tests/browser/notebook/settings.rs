//! Settings: scales, voice, storage, and how to be rid of it all.

use super::rolls::open_a_new_roll;
use crate::harness::run;
use crate::steps::{self, Steps};

#[test]
fn changing_the_scale_ten_times_changes_no_number_that_is_kept() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_last_check(page).await;
        page.read("Developer", "401").await;
        let before = page.log().await;
        page.eval("(location.hash = '#/settings', 0)").await;
        page.advance(1.0).await;
        for _ in 0..5 {
            page.press("°F").await;
            page.press("°C").await;
        }
        page.press("°F").await;
        assert_eq!(page.log().await, before);
        page.eval("(location.hash = '#/last-check', 0)").await;
        page.advance(1.0).await;
        page.until_shows("104").await;
    });
}

#[test]
fn on_a_keypad_in_fahrenheit_three_digits_are_taken_after_a_one_and_two_otherwise() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/settings").await;
        page.advance(1.0).await;
        page.press("°F").await;
        page.press("Bench").await;
        page.lay_out().await;
        page.read("Developer", "104").await;
        assert!(page.has("button", "+½").await, "{}", page.words().await);
        page.advance(3.0).await;
        page.read("Bleach-fix", "75").await;
        page.press("+½").await;
        page.until_shows("104").await;
        page.until_shows("75.5").await;
        let kept: Vec<_> = page.log().await.iter().map(|entry| entry["celsius"].clone()).collect();
        let celsius = |index: usize| kept[index].as_f64().unwrap_or_default();
        assert!((celsius(0) - 40.0).abs() < 1e-9, "{kept:?}");
        assert!((celsius(1) - 23.888_888).abs() < 1e-5, "{kept:?}");
        assert!((celsius(2) - 24.166_666).abs() < 1e-5, "{kept:?}");
    });
}

#[test]
fn the_names_of_sheets_are_in_the_persons_scale() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/settings").await;
        page.advance(1.0).await;
        page.until_shows("Two-bath colour negative, 38.9 °C").await;
        page.press("°F").await;
        page.until_shows("Two-bath colour negative, 102 °F").await;
        for place in ["Sheets", "Bench"] {
            page.press(place).await;
            page.until_shows("Two-bath colour negative, 102 °F").await;
            assert!(!page.shows("°C").await, "{}", page.words().await);
        }
    });
}

#[test]
fn the_pour_temperature_is_spoken_in_the_persons_scale() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/settings").await;
        page.advance(1.0).await;
        page.press("°F").await;
        page.press("Bench").await;
        page.lay_out().await;
        page.start().await;
        page.advance(45.0).await;
        let said = page.heard().await.sentences();
        let expected = "Uncap developer. Should read one hundred four.";
        assert!(said.iter().any(|said| said == expected), "{said:?}");
    });
}

#[test]
fn erasing_everything_takes_one_word_and_leaves_nothing() {
    run(async |stage| {
        let page = &stage.page;
        open_a_new_roll(page).await;
        page.write("Film", "gone soon").await;
        page.press("Settings").await;
        page.write("Erase everything", "erase").await;
        page.until_shows("Nothing was erased.").await;
        let stored = page.eval("__clock.stored()").await;
        assert_eq!(stored["sinkside"]["records"].as_array().map(Vec::len), Some(1));
        page.write("Erase everything", "ERASE").await;
        page.until_on("Settings").await;
        page.open_to("Bench").await;
        page.press("Rolls").await;
        assert!(!page.shows("gone soon").await, "{}", page.words().await);
    });
}

#[test]
fn settings_say_where_the_notebook_is_kept_and_whether_it_is_durable() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/settings").await;
        page.advance(1.0).await;
        page.until_shows("The browser keeps it until you clear it.").await;
        page.until_shows("No file has been saved yet.").await;
        assert!(page.shows("On this device, in this browser, and nowhere else.").await);
    });
}
