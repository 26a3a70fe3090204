//! How many taps a thing takes, counted by the presses that the page was given.

use super::rolls::new_roll;
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::Steps;

/// Presses since the last look.
async fn taps(page: &Page, before: usize) -> usize {
    let heard = page.heard().await;
    heard.presses().iter().filter(|press| press.what.what == "click").count() - before
}

/// Does these presses from the Bench and says how many taps that took.
async fn from_the_bench(page: &Page, presses: &[&str]) -> usize {
    page.press("Bench").await;
    let before = taps(page, 0).await;
    for press in presses {
        page.press_with(press).await;
    }
    taps(page, before).await
}

#[test]
fn each_flow_takes_no_more_taps_than_promised() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        // A new exposed roll: three and words.
        assert!(from_the_bench(page, &["Rolls", "NEW ROLL"]).await <= 3);
        page.write("Film", "colour negative 400").await;
        // What happened to a roll: two.
        assert!(from_the_bench(page, &["Rolls", "ROLL 1"]).await <= 2);
        assert_eq!(page.heading().await, "Roll");
        // A roll put aside, and that undone: four. Causes and remedies of a fault: three and words.
        assert!(from_the_bench(page, &["Rolls", "ROLL 1", "PUT ASIDE", "UNDO"]).await <= 4);
        assert!(page.has("button", "EDIT").await, "{}", page.words().await);
        assert!(from_the_bench(page, &["Rolls", "ROLL 1", "FIND A FAULT"]).await <= 3);
        assert_eq!(page.heading().await, "Faults");
        // Two rolls side by side: four.
        page.press("Rolls").await;
        page.press("NEW ROLL").await;
        page.write("Film", "slide 100").await;
        assert!(from_the_bench(page, &["Rolls", "ROLL 1", "COMPARE", "ROLL 2"]).await <= 4);
        page.until_shows("Differs").await;
        // Another scale: two.
        assert!(from_the_bench(page, &["Settings", "°F"]).await <= 2);
        // A backup file: two.
        assert!(from_the_bench(page, &["Settings", "SAVE A FILE"]).await <= 2);
        page.until_shows("Downloaded. See that it is there.").await;
        // Another sheet: from the Bench to using it.
        assert!(from_the_bench(page, &["Sheets", "C-41", "USE THIS SHEET"]).await <= 4);
        assert!(page.shows("In use").await, "{}", page.words().await);
    });
}

#[test]
fn what_is_asked_of_the_notebook_between_sessions_is_never_further_than_three_taps() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        new_roll(page, "colour negative 400").await;
        for (presses, heading) in [
            (&["Rolls", "TRIALS", "NEW TRIAL"][..], "Trial"),
            (&["Rolls", "TRIALS", "LEARNING"], "Learning"),
            (&["Settings", "ROLLS AS A TABLE"], "Settings"),
            (&["Settings", "ON PAPER"], "Notebook"),
            (&["Rolls", "ROLL 1", "ADD PHOTOS"], "Roll"),
            (&["Rolls", "ROLL 1", "EDIT"], "Roll"),
            (&["Shelf", "MIX A SOLUTION", "Developer"], "Solution"),
            (&["Settings", "LOOK AT A DEMO"], "Bench"),
        ] {
            assert!(from_the_bench(page, presses).await <= 3, "{heading}");
            page.until_on(heading).await;
        }
        page.until_shows("Demo: every roll here is invented.").await;
    });
}
