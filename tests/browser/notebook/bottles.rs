//! Bottles as they really are: in use before they were written down, blocked or doubted by mistake,
//! emptier than was reckoned, two for one bath.

use super::rolls::{records, written_down};
use super::shelf::new_bottle;
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// A bottle of this bath, mixed today, beside what is on the Shelf; its page is open.
async fn another(page: &Page, bath: &str) {
    page.press("Shelf").await;
    if page.has("button", "MIX A SOLUTION").await {
        page.press("MIX A SOLUTION").await;
    } else {
        page.press("Mix").await;
    }
    page.press(bath).await;
    page.press("IT IS MIXED").await;
}

/// A run that poured the developer, and was stopped after it; the Bench is on the screen.
async fn through_the_developer(page: &Page) {
    page.press("Bench").await;
    page.press("DEVELOP A ROLL").await;
    if page.has("button", "ALL OF THIS IS SO").await {
        page.press("ALL OF THIS IS SO").await;
    }
    page.lay_out_the_rest().await;
    let zero = page.start_to_developer().await;
    page.advance_to(zero + steps::DEVELOPER).await;
    page.bath_is_out("Developer").await;
    page.stop_here().await;
    page.press("DONE").await;
    page.press("Bench").await;
}

#[test]
fn a_bottle_that_was_in_use_before_is_as_old_and_as_worn_as_its_owner_says() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.write("Good for", "16").await;
        page.write("Add for each roll", "5").await;
        page.press("IT IS MIXED").await;
        page.write("Mixed on", "2026-02-19").await;
        page.write("Rolls before", "6").await;
        page.until_shows("6 rolls before").await;
        page.write("Mixed on", "2031-01-01").await;
        page.until_shows("A day that has been, such as 2026-03-14").await;
        page.press("Shelf").await;
        page.until_shows("23 days").await;
        page.press("Bench").await;
        page.until_shows("23 days, 6 of 16 rolls, next roll 4:00 (estimate)").await;
    });
}

#[test]
fn what_was_blocked_by_mistake_is_poured_again_and_is_no_fresher_for_it() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.press("IT IS MIXED").await;
        page.write("Rolls before", "3").await;
        page.press("BLOCK").await;
        page.until_shows("Blocked. Do not use it for another roll.").await;
        page.press("Bench").await;
        page.until_shows("Developer is blocked: mix it anew").await;
        page.press("Shelf").await;
        page.press("NOT SO").await;
        page.advance(1.0).await;
        page.press("Bench").await;
        page.until_shows("Developer 1000 mL, mixed today, 3 rolls").await;
        assert!(!page.shows("blocked").await, "{}", page.words().await);
        page.press("DEVELOP A ROLL").await;
        assert_eq!(page.heading().await, "Lay out");
    });
}

#[test]
fn a_doubt_ends_when_it_is_settled_and_the_short_way_is_open_again() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.press("IT IS MIXED").await;
        through_the_developer(page).await;
        page.press("Shelf").await;
        page.press("Suspect").await;
        page.press("Bench").await;
        page.press("Same as last time").await;
        assert_eq!(page.heading().await, "Lay out");
        page.press("Back").await;
        page.press("Back").await;
        page.press("Shelf").await;
        page.press("FINE AFTER ALL").await;
        page.advance(1.0).await;
        page.press("Bench").await;
        assert!(!page.shows("Suspect").await, "{}", page.words().await);
        page.until_shows("1 roll").await;
        page.press("Same as last time").await;
        assert_eq!(page.heading().await, "Tempering");
    });
}

#[test]
fn a_wrong_bath_that_was_a_slip_takes_its_block_off_the_bottle_again() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.press("IT IS MIXED").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.lay_out_the_rest().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + 40.0).await;
        page.press("FAULT").await;
        page.press("Wrong bath").await;
        page.press("Bleach-fix in developer bottle").await;
        page.press("BACK TO THE RUN").await;
        let blocked = |solution: &serde_json::Value| solution.to_string().contains("blocked");
        assert!(records(page, "solution").await.iter().any(blocked));
        page.press("UNDO").await;
        page.advance(1.0).await;
        assert!(!records(page, "solution").await.iter().any(blocked));
        page.press("REDO").await;
        page.advance(1.0).await;
        assert!(records(page, "solution").await.iter().any(blocked));
    });
}

#[test]
fn of_two_bottles_for_one_bath_the_short_way_asks_which_is_poured() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.press("IT IS MIXED").await;
        through_the_developer(page).await;
        another(page, "Developer").await;
        page.write("Name", "Developer of the other kind").await;
        page.press("Bench").await;
        // The one that goes with this sheet is taken for it, though it is the older.
        page.until_shows("Developer 985 mL, mixed today, 1 roll").await;
        assert!(!page.shows("Developer of the other kind").await, "{}", page.words().await);
        page.press("Same as last time").await;
        assert_eq!(page.heading().await, "Lay out");
        page.until_shows("Developer of the other kind").await;
        // One that may not be poured is no choice.
        page.press("Back").await;
        page.press("Back").await;
        page.press("Shelf").await;
        page.press_with("OF THE OTHER KIND").await;
        page.press("BLOCK").await;
        page.press("Bench").await;
        page.press("Same as last time").await;
        assert_eq!(page.heading().await, "Tempering");
    });
}

#[test]
fn how_much_is_left_is_what_the_person_found() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Bleach-fix").await;
        page.press("IT IS MIXED").await;
        page.write("Left in it", "640").await;
        page.until_shows("looked at, 640 mL").await;
        page.press("Shelf").await;
        page.until_shows("640 mL, mixed today").await;
        page.press_with("BLEACH-FIX").await;
        page.press("TAKE BACK").await;
        page.until_shows("1000 mL, mixed today").await;
    });
}

#[test]
fn a_bottle_that_was_thrown_away_stays_so_and_offers_nothing() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        assert!(!page.has("button", "CLIP TEST").await, "nothing is mixed yet");
        page.press("IT IS MIXED").await;
        page.press("Shelf").await;
        page.press("Discarded").await;
        page.until_shows("One labelled jug for each, never two together.").await;
        page.press("Bench").await;
        page.press("Shelf").await;
        page.press_with("was discarded").await;
        for key in ["Looked at", "Suspect", "Discarded"] {
            assert!(!page.has("button", key).await, "{key}");
        }
    });
}

#[test]
fn more_rolls_than_a_leaflet_gives_are_told_before_the_tank_is_filled() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.write("Good for", "8").await;
        page.press("IT IS MIXED").await;
        page.write("Rolls before", "7").await;
        for stock in ["the beach", "the hill"] {
            written_down(page, stock).await;
        }
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        // From under the large key.
        page.eval("(scrollTo(0, 300), 0)").await;
        page.press_with("the beach").await;
        assert!(!page.shows("its leaflet gives").await, "{}", page.words().await);
        page.press_with("the hill").await;
        page.until_shows("Developer: this tank makes 9 rolls of the 8 its leaflet gives.").await;
        // A film of one's own: nobody knows what covers its reel.
        page.until_shows("How much covers a reel of this format is not known here").await;
    });
}

#[test]
fn what_a_spill_leaves_is_judged_by_the_rolls_in_the_tank() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        written_down(page, "the beach").await;
        page.press("135-36").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.press_with("the beach").await;
        page.lay_out_the_rest().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + 40.0).await;
        for (left, answer) in
            [("½ left", "Does not cover the reels."), ("¾ left", "Covers the reels. Carry on.")]
        {
            page.press("FAULT").await;
            page.press("Spilled").await;
            page.press(left).await;
            page.until_shows(answer).await;
            page.press("BACK TO THE RUN").await;
        }
    });
}

#[test]
fn the_screen_stays_lit_while_a_clip_is_timed_and_may_go_dark_after_it() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Bleach-fix").await;
        page.press("IT IS MIXED").await;
        page.press("CLIP TEST").await;
        assert_eq!(page.eval("__clock.awake()").await, true);
        page.press("BACK").await;
        assert_eq!(page.eval("__clock.awake()").await, false);
    });
}
