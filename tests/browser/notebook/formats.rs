//! A film format of the person's own, and what it does to a bottle.

use serde_json::json;

use super::rolls::{open_a_new_roll, records};
use super::shelf::new_bottle;
use crate::harness::run;
use crate::steps::Steps;

#[test]
fn a_format_of_ones_own_has_words_and_counts_as_the_person_says() {
    run(async |stage| {
        let page = &stage.page;
        open_a_new_roll(page).await;
        page.write("Film", "colour negative 160").await;
        assert!(!page.has("textbox", "It counts as").await, "a box names its format");
        page.write("Another format", "half a sheet of 4x5").await;
        page.until_shows("1 until you say").await;
        for (typed, rolls) in [("0.25", json!(0.25)), ("", json!(null)), ("2", json!(2.0))] {
            page.write("It counts as", typed).await;
            let roll = records(page, "roll").await.remove(0);
            assert_eq!(roll["counts_as_rolls"], rolls, "{typed}");
        }
        for (typed, says) in [
            ("21", "0.01 to 20 rolls, or nothing."),
            ("0", "0.01 to 20 rolls, or nothing."),
            ("lots", "A number, such as 15."),
            ("-1", "A number, such as 15."),
        ] {
            page.write("It counts as", typed).await;
            page.until_shows(says).await;
            let roll = records(page, "roll").await.remove(0);
            assert_eq!(roll["counts_as_rolls"], json!(2.0), "{typed}");
        }
        page.press("DONE").await;
        page.until_shows("colour negative 160, half a sheet of 4x5").await;
        // A format that a box names takes its place.
        page.press("EDIT").await;
        page.press("120").await;
        assert!(!page.has("textbox", "It counts as").await);
        assert_eq!(records(page, "roll").await[0]["format"], "120");
    });
}

#[test]
fn a_bottle_is_worn_by_as_much_as_a_film_of_ones_own_counts() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.press("IT IS MIXED").await;
        page.press("Rolls").await;
        page.press("NEW ROLL").await;
        page.write("Film", "a cut film").await;
        page.write("Another format", "three sheets").await;
        page.write("It counts as", "3").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        // Clear of the key at the foot.
        page.eval("scrollTo(0, 400), 0").await;
        page.press_with("a cut film").await;
        page.lay_out_the_rest().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + crate::steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.press("DONE").await;
        let roll = records(page, "roll").await.remove(0);
        assert!(roll["run"].is_string() && roll["counts_as_rolls"] == json!(3.0), "{roll}");
        page.press("Shelf").await;
        page.until_shows("3 rolls").await;
    });
}
