//! The demonstration: a notebook of invented rolls that never meets the person's own.

use super::rolls::new_roll;
use crate::harness::run;
use crate::steps::Steps;

#[test]
fn the_demonstration_is_marked_and_keeps_apart_from_what_is_real() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        new_roll(page, "a film of my own").await;
        page.press("Settings").await;
        page.press("LOOK AT A DEMO").await;
        page.until_shows("every roll here is invented").await;
        page.press("Bench").await;
        page.until_shows("You wrote: Hang the film away from the stove").await;
        page.picture("demo-bench").await;
        // A real film is not put into an invented notebook.
        page.press("DEVELOP A ROLL").await;
        assert_eq!(page.heading().await, "Practise");
        page.press("Bench").await;
        page.press("Rolls").await;
        page.until_shows("Engine room by lamp").await;
        assert!(!page.shows("a film of my own").await, "{}", page.words().await);
        page.picture("demo-rolls").await;
        page.press_with("Engine room by lamp").await;
        page.until_shows("Estimate: it developed as much as").await;
        page.picture("demo-roll").await;
        page.eval("scrollTo(0, 560), 0").await;
        page.picture("demo-roll-chart").await;
        page.eval("scrollTo(0, 0), 0").await;
        page.press("Bench").await;
        page.press("Settings").await;
        page.press("LEAVE THE DEMO").await;
        page.until_shows("1 roll").await;
        page.press("Rolls").await;
        page.until_shows("a film of my own").await;
        assert!(!page.shows("Engine room by lamp").await, "{}", page.words().await);
    });
}

#[test]
fn the_demonstration_opens_without_a_network() {
    run(async |stage| {
        stage.page.open_to("Bench").await;
        stage.page.until_shows("Ready offline.").await;
        stage.server.down();
        stage.page.open("?demo").await;
        stage.page.until_shows("every roll here is invented").await;
        stage.page.until_shows("5 runs").await;
    });
}

#[test]
fn what_rolls_were_given_stands_beside_how_they_came_out_with_its_count() {
    run(async |stage| {
        let page = &stage.page;
        page.open("?demo").await;
        page.until_shows("every roll here is invented").await;
        page.until_shows("5 runs").await;
        page.advance(1.0).await;
        page.press("Rolls").await;
        page.press_with("TRIALS").await;
        page.press_with("LEARNING").await;
        page.until_shows("2 thin, 3 right, 1 dense").await;
        for measure in ["time at the aim", "mean temperature", "Age of", "Rolls through"] {
            assert!(page.shows(measure).await, "{measure}");
        }
        assert!(!page.shows("No judged roll has this").await, "{}", page.words().await);
        assert!(page.shows("6 rolls.").await && page.shows("A few show a trend").await);
        page.picture("learning").await;
        // Another judgement moves a dot, and one that is touched again takes it away.
        page.press("Rolls").await;
        page.press_with("Paint day").await;
        page.press("EDIT").await;
        page.press("dense").await;
        page.press("Rolls").await;
        page.press_with("TRIALS").await;
        page.press_with("LEARNING").await;
        page.until_shows("2 thin, 3 right, 0 dense").await;
        page.until_shows("5 rolls.").await;
    });
}
