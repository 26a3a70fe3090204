//! How many taps a thing takes, counted by the presses that the page was given.

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
