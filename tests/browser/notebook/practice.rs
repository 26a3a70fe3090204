//! Practice with water: the real screens, and no roll.

use crate::harness::run;
use crate::steps::{self, Steps};

#[test]
fn practice_learns_the_persons_hands_and_makes_no_roll() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("Practise").await;
        page.tap("button", "START PRACTICE").await;
        let zero = page.since().await + steps::FIRST_LEAD_IN;
        assert!(page.shows("PRACTICE").await, "{}", page.words().await);
        page.advance_to(zero + 13.0).await;
        page.tap("button", "TANK IS FULL").await;
        page.advance_to(zero + 62.0).await;
        page.bath_is_out("Pre-soak").await;
        page.advance(1.0).await;
        page.stop_here().await;
        for words in ["Practice is over.", "13 s", "12 s"] {
            assert!(page.shows(words).await, "{words}: {}", page.words().await);
        }
        page.press("GO BY THESE").await;
        assert_eq!(page.heading().await, "Bench");
        assert!(page.shows("in 13 s, out 12 s").await, "{}", page.words().await);
        page.press("Rolls").await;
        assert!(page.shows("No roll yet.").await, "{}", page.words().await);
        let said = page.heard().await.sentences();
        assert_eq!(
            said.first().map(String::as_str),
            Some("Practice with water. Pour on the tone.")
        );
    });
}

#[test]
fn practice_by_keys_alone_reaches_its_first_tone_in_two_presses() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/practise").await;
        page.advance(1.0).await;
        page.tap("button", "START PRACTICE").await;
        page.advance(steps::FIRST_LEAD_IN + 4.0).await;
        page.key(" ").await;
        page.advance(1.0).await;
        assert!(!page.has("button", "TANK IS FULL").await);
        assert_eq!(page.log().await.len(), 2);
    });
}

#[test]
fn practice_survives_a_reload_as_practice() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/practise").await;
        page.advance(1.0).await;
        page.tap("button", "START PRACTICE").await;
        page.advance(20.0).await;
        page.reload_to("Run: Pre-soak").await;
        assert!(page.shows("PRACTICE").await, "{}", page.words().await);
    });
}
