//! Shelf and Mix: a solution from its first part to the day it is thrown away.

use serde_json::Value;

use super::rolls::records;
use crate::harness::heard::ToneKind;
use crate::harness::page::Page;
use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::steps::{self, Steps};

/// Opens the page and a new bottle of this bath.
pub async fn new_bottle(page: &Page, bath: &str) {
    page.open("").await;
    page.advance(1.0).await;
    page.press("Shelf").await;
    page.press("MIX A SOLUTION").await;
    page.press(bath).await;
    assert_eq!(page.heading().await, "Solution");
}

/// Presses since the page was opened.
async fn taps(page: &Page) -> usize {
    let heard = page.heard().await;
    heard.presses().iter().filter(|press| press.what.what == "click").count()
}

/// Looks at a screen at three sizes: no rule broken, nothing cut off, pictures kept.
async fn look_at(page: &Page, name: &str) {
    for size in [Viewport::PORTRAIT, Viewport::LANDSCAPE, Viewport::DESK] {
        page.size(size).await;
        page.settle().await;
        page.picture(name).await;
        let broken = page.axe_violations().await;
        assert!(broken.is_empty(), "{name} {}: {broken:?}", size.width);
        let clipped = page.clipped_text().await;
        assert!(clipped.is_empty(), "{name} {}: {clipped:?}", size.width);
        assert!(page.scrolls().await.0 <= 0.5, "{name} scrolls sideways at {}", size.width);
    }
    page.size(Viewport::PORTRAIT).await;
    page.settle().await;
}

#[test]
fn a_bottle_that_is_mixed_already_stands_on_the_shelf_after_four_taps() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.press("IT IS MIXED").await;
        assert_eq!(taps(page).await, 4);
        page.reload_to("Solution").await;
        page.press("Shelf").await;
        page.until_shows("1000 mL, mixed today").await;
        assert!(page.shows("0 rolls").await);
        look_at(page, "60-shelf").await;
        page.press("Bench").await;
        page.until_shows("Developer 1000 mL, mixed today").await;
    });
}

#[test]
fn what_is_done_with_a_bottle_is_one_tap_and_one_more_takes_it_back() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Bleach-fix").await;
        page.press("IT IS MIXED").await;
        page.press("Shelf").await;
        let before = taps(page).await;
        page.press("Looked at").await;
        assert!(page.shows("Noted: looked at.").await);
        assert_eq!(taps(page).await, before + 1);
        page.press("UNDO").await;
        assert_eq!(records(page, "solution").await[0]["events"].as_array().map(Vec::len), Some(1));
        page.press("Suspect").await;
        page.until_shows("Suspect since").await;
        page.press("UNDO").await;
        assert!(!page.shows("Suspect since").await);
        page.press("Discarded").await;
        page.until_shows("Not down the drain: a hazardous-waste day").await;
        page.press("UNDO").await;
        page.press("Discarded").await;
        page.press("Bench").await;
        assert!(!page.shows("1000 mL").await, "{}", page.words().await);
        page.press("Shelf").await;
        page.until_shows("Bleach-fix was discarded").await;
    });
}

#[test]
fn after_a_run_the_counts_follow_and_a_longer_time_is_offered_and_never_applied_by_itself() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.write("Good for", "16").await;
        page.write("Add for each roll", "30").await;
        page.press("IT IS MIXED").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        assert!(page.shows("Poured from the Shelf").await && !page.has("button", "USE").await);
        page.lay_out_the_rest().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.press("DONE").await;
        page.press("Bench").await;
        page.until_shows("1 of 16 rolls, next roll 4:00 (estimate)").await;
        page.press("Shelf").await;
        page.until_shows("985 mL").await;
        page.press("Bench").await;
        page.press("DEVELOP A ROLL").await;
        assert!(page.has("button", "KEEP 3:30").await && page.has("button", "USE 4:00").await);
        look_at(page, "61-lay-out-shelf").await;
        page.press("USE 4:00").await;
        page.press("KEEP 3:30").await;
        page.lay_out_the_rest().await;
        assert_eq!(planned(page).await, 210_000);
        page.eval("(location.hash = '#/lay-out/1', true)").await;
        page.advance(1.0).await;
        page.press("USE 4:00").await;
        page.check_the_rest().await;
        page.pass_the_dark().await;
        assert_eq!(planned(page).await, 240_000);
        let zero = page.start_to_developer().await;
        page.advance_to(zero + 229.0).await;
        assert_ne!(page.state_word().await, "OVER");
        page.advance_to(zero + 240.0).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.press("DONE").await;
        page.press("Bench").await;
        page.until_shows("2 of 16 rolls, next roll 4:30 (estimate)").await;
        // The same again offers the longer time, too, before it goes to Tempering.
        page.press("Same as last time").await;
        page.press("USE 4:30").await;
        page.check_the_rest().await;
        page.pass_the_dark().await;
        assert_eq!(planned(page).await, 270_000);
    });
}

/// The developer's time in the plan that was kept last, in milliseconds.
async fn planned(page: &Page) -> u64 {
    let stored = page.eval("__clock.stored()").await;
    let runs = stored["sinkside"]["runs"].as_array().cloned().unwrap_or_default();
    let texts = runs.iter().filter_map(|run| run[1].as_str());
    let read: Vec<Value> = texts.filter_map(|text| serde_json::from_str(text).ok()).collect();
    let latest = read.iter().max_by_key(|run| run["edited_at"].as_str().map(str::to_owned));
    let steps = latest.and_then(|run| run["plan"]["steps"].as_array()).expect("a plan");
    let developer = steps.iter().find(|step| step["bath"] == "developer").expect("a developer");
    developer["time_ms"].as_u64().expect("a time")
}

#[test]
fn a_kit_is_mixed_one_part_a_screen_and_its_label_is_there_to_copy() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.write("I make", "600").await;
        page.write("The kit makes", "1000").await;
        page.write("Water first", "700").await;
        page.write("Water at", "40").await;
        page.write("Its parts, in order", "A 142.5, B 47").await;
        look_at(page, "62-solution").await;
        let before = taps(page).await;
        page.press("MIX IT").await;
        page.until_shows("Gloves, goggles, fresh air").await;
        look_at(page, "63-mix-before").await;
        page.press("READY").await;
        for words in ["First water", "420 mL", "At 40.0 °C.", "cold 100 mL, hot 320 mL.", "2 of 5"]
        {
            page.until_shows(words).await;
        }
        look_at(page, "64-mix-water").await;
        for key in page.buttons().await {
            assert!(key.rect.height >= 114.0, "{} is {} high", key.name, key.rect.height);
        }
        page.press("WATER IS IN").await;
        page.until_shows("86 mL").await;
        page.press("A IS IN").await;
        page.until_shows("28 mL").await;
        page.press("UNDO").await;
        page.until_shows("86 mL").await;
        page.reload_to("Mix developer").await;
        page.advance(1.0).await;
        page.press("A IS IN").await;
        page.press("B IS IN").await;
        page.until_shows("600 mL").await;
        page.press("IT IS MIXED").await;
        assert_eq!(page.heading().await, "Label");
        assert!(taps(page).await <= before + 8, "undone once");
        page.until_shows("600 mL, mixed 14 Mar 2026").await;
        page.until_shows("NOT A DRINK").await;
        look_at(page, "65-label").await;
        page.press("COPY").await;
        page.press("Solution").await;
        page.until_shows("600 mL, mixed today").await;
    });
}

#[test]
fn a_dilution_names_its_other_reading_and_a_split_powder_is_warned_of() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Stabiliser").await;
        page.write("One concentrate", "4").await;
        page.until_shows("1+4: 200 mL and 800 mL of water.").await;
        page.until_shows("Written 1:4, some mean one part in so many: 250 mL and 750 mL").await;
        page.write("One concentrate", "-4").await;
        page.until_shows("A number, such as 15.").await;
        page.write("One concentrate", "0").await;
        page.until_shows("More than 0, at most 1000; or nothing.").await;
        page.write("One concentrate", "").await;
        page.write("The kit makes", "1000").await;
        page.write("Its parts, in order", "powder").await;
        page.until_shows("Each part with its amount").await;
        page.write("Its parts, in order", "powder 90 g").await;
        assert!(!page.shows("grains separate").await);
        page.write("I make", "500").await;
        page.until_shows("grains separate").await;
        page.press("MIX IT").await;
        page.until_shows("Split: grains separate").await;
        look_at(page, "67-mix-powder").await;
        page.press("BACK").await;
        page.write("Its parts, in order", "A 900, B 300").await;
        page.until_shows("more than the whole").await;
    });
}

#[test]
fn a_clip_is_timed_with_two_touches_and_twice_its_first_time_is_the_end() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Bleach-fix").await;
        page.press("IT IS MIXED").await;
        page.press("CLIP TEST").await;
        for seconds in [20.0, 45.0] {
            page.press("IT IS IN").await;
            page.advance(10.0).await;
            page.until_shows("0:10").await;
            page.advance(seconds - 10.8).await;
            page.press("IT IS CLEAR").await;
        }
        for words in [
            "Cleared in 0:45",
            "Keep its sheet's time.",
            "Fixer alone: 1:30.",
            "Tabular grain: 2:15.",
            "NAVEDTRA 14209",
        ] {
            page.until_shows(words).await;
        }
        look_at(page, "66-clip").await;
        page.press("BACK").await;
        page.until_shows("twice as long to clear as at first: replace it").await;
        page.until_shows("a clip cleared in 0:20").await;
    });
}

#[test]
fn each_part_is_stirred_for_as_long_as_its_leaflet_says_and_a_tone_ends_it() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.write("The kit makes", "1000").await;
        page.write("Stir each part", "90").await;
        page.write("Its parts, in order", "A 142.5, B 47").await;
        page.press("MIX IT").await;
        page.press("READY").await;
        page.press("WATER IS IN").await;
        assert!(!page.shows("is stirred").await, "nothing to stir in water");
        page.press("A IS IN").await;
        let from = page.heard().await.tones().len();
        page.advance(30.0).await;
        page.until_shows("Stir A: 1:00").await;
        look_at(page, "68-mix-stir").await;
        page.advance(70.0).await;
        page.until_shows("A is stirred.").await;
        let tones = page.heard().await.tones();
        let after: Vec<_> = tones[from..].iter().map(|tone| tone.kind).collect();
        assert_eq!(after, [ToneKind::E1]);
        page.press("B IS IN").await;
        page.advance(10.0).await;
        page.press("UNDO").await;
        page.advance(120.0).await;
        assert_eq!(page.heard().await.tones().len(), from + 1, "what is undone is not sounded");
    });
}

#[test]
fn a_bottle_without_a_leaflet_is_old_after_what_is_usual() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Developer").await;
        page.write("Good for", "16").await;
        page.press("IT IS MIXED").await;
        page.shift_wall(41.0 * 86_400.0).await;
        page.reload_to("Solution").await;
        page.press("Shelf").await;
        page.until_shows("41 days").await;
        assert!(!page.shows("usual for it").await, "{}", page.words().await);
        page.shift_wall(3.0 * 86_400.0).await;
        page.reload_to("Shelf").await;
        page.until_shows("Older than the 42 days usual for it").await;
        look_at(page, "69-shelf-old").await;
    });
}
