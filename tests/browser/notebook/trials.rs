//! Trials, and what the Bench says is next.

use super::rolls::open_a_new_roll;
use crate::harness::environment;
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// A year and a day, in seconds.
const A_YEAR: f64 = 366.0 * 86_400.0;

/// A trial with a question; it is on the screen.
async fn a_trial(page: &Page) {
    open_a_new_roll(page).await;
    page.write("Film", "colour negative 400").await;
    page.press("All rolls").await;
    page.press("TRIALS").await;
    page.until_shows("No trial yet.").await;
    page.press("NEW TRIAL").await;
    page.write("Question", "Does it fade without stabiliser?").await;
    page.write("What differs", "the last bath").await;
}

#[test]
fn a_trial_is_due_after_a_year_and_until_it_is_answered() {
    run(async |stage| {
        a_trial(&stage.page).await;
        stage.page.press("IN A YEAR").await;
        // A second touch adds no second day.
        stage.page.press("IN A YEAR").await;
        let days = stage.page.words().await.matches("2027-03-14").count();
        assert_eq!(days, 1, "{}", stage.page.words().await);
        stage.page.press("Roll 1").await;
        stage.page.picture("trial").await;
        stage.page.press("Bench").await;
        assert!(!stage.page.shows("Look again").await, "it is not due yet");
        stage.kill();
        stage.start_again(A_YEAR).await;
        let page = &stage.page;
        page.open("").await;
        page.until_shows("Look again").await;
        page.press_with("Does it fade").await;
        assert_eq!(page.heading().await, "Trial");
        page.write("What do you see today?", "a little magenta").await;
        page.until_shows("2027-03-15").await;
        page.until_shows("a little magenta").await;
        page.press("Bench").await;
        page.advance(1.0).await;
        assert!(!page.shows("Look again").await, "{}", page.words().await);
    });
}

#[test]
fn the_days_of_a_trial_are_handed_over_as_a_calendar() {
    run(async |stage| {
        a_trial(&stage.page).await;
        stage.page.press("IN A MONTH").await;
        stage.page.press("IN 5 YEARS").await;
        let profile = stage.browser.profile();
        let file = stage.page.tap_for_a_file("CALENDAR FILE", profile).await;
        assert!(file.starts_with("BEGIN:VCALENDAR\r\n"), "{file}");
        assert!(file.contains("DTSTART;VALUE=DATE:20260413"), "{file}");
        assert!(file.contains("DTSTART;VALUE=DATE:20310314"), "{file}");
        stage.page.until_shows("Downloaded. See that it is there.").await;
        // A day that was touched is taken away.
        stage.page.advance(1.0).await;
        stage.page.press("2026-04-13").await;
        assert!(!stage.page.shows("2026-04-13").await && stage.page.shows("2031-03-14").await);
    });
}

#[test]
fn rolls_are_handed_over_as_a_table() {
    run(async |stage| {
        a_trial(&stage.page).await;
        stage.page.press("Bench").await;
        stage.page.press("Settings").await;
        let profile = stage.browser.profile();
        let table = stage.page.tap_for_a_file("ROLLS AS A TABLE", profile).await;
        let lines: Vec<_> = table.split("\r\n").collect();
        assert!(lines[0].starts_with("\"kind\",\"id\""), "{table}");
        assert!(lines[1].contains("\"colour negative 400\""), "{table}");
    });
}

#[test]
fn the_bench_says_what_is_next_and_the_same_again_takes_one_touch_to_tempering() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_bleach_fix(page).await;
        page.stop_here().await;
        page.press("DONE").await;
        page.write("Anything to change next time?", "warmer tub").await;
        page.press("ADD A ROLL").await;
        page.write("Film", "a film").await;
        page.press("DONE").await;
        page.press("All rolls").await;
        page.press("NEW ROLL").await;
        page.write("Film", "another film").await;
        page.write("Out of the camera", "2026-03-01").await;
        page.press("Bench").await;
        for words in ["You wrote: warmer tub", "1 roll, oldest 13 days", "1 run, last"] {
            page.until_shows(words).await;
        }
        page.picture("bench-next").await;
        page.press("Same as last time").await;
        assert_eq!(page.heading().await, "Tempering");
    });
}

#[test]
fn a_film_that_hangs_and_one_that_is_dry_stand_on_the_bench() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_bleach_fix(page).await;
        page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
        page.wash_and_hang().await;
        page.press("DONE").await;
        page.press("ADD A ROLL").await;
        page.write("Film", "a film").await;
        page.press("Bench").await;
        page.until_shows("Roll 1, hung 0 h").await;
        page.press_with("hung").await;
        page.press("Dry").await;
        page.press("Bench").await;
        page.until_shows("To scan").await;
        page.press_with("Roll 1").await;
        assert_eq!(page.heading().await, "Roll");
    });
}

#[test]
fn the_same_again_shows_the_cautions_to_whoever_has_not_read_them_here() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        // A notebook with runs, on a phone that nobody has developed with.
        let demo = environment::bundle().join("demo-notebook.json");
        let demo = std::fs::read_to_string(demo).expect("the demonstration is published");
        page.press("Settings").await;
        page.press("READ A FILE").await;
        page.eval(&format!("(__clock.pick({}), 0)", serde_json::json!(demo))).await;
        page.advance(1.0).await;
        page.press("READ IT IN").await;
        page.advance(1.0).await;
        page.press("Bench").await;
        page.press("Same as last time").await;
        assert!(page.has("button", "ALL OF THIS IS SO").await, "{}", page.words().await);
    });
}
