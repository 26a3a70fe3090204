//! The first ten minutes: the doors, practice, and what practice teaches.

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// Words a second of somebody who reads carefully: 200 a minute.
const READING: f64 = 200.0 / 60.0;

/// Reads everything on the screen before anything is touched.
async fn read_all(page: &Page) {
    let words = page.words().await.split_whitespace().count();
    page.advance(f64::from(u32::try_from(words).expect("few words")) / READING).await;
}

#[test]
fn the_first_start_shows_one_sentence_and_three_doors() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        let sentence = "Sinkside keeps the time, aloud, while you develop colour film at a sink.";
        assert!(page.shows(sentence).await, "{}", page.words().await);
        let names = page.button_names().await;
        let doors: Vec<_> = names.iter().filter(|name| !PLACES.contains(&name.as_str())).collect();
        let begin =
            ["DEVELOP A ROLL", "Practise", "I only want to write down a roll", "First time"];
        assert_eq!(doors.len(), begin.len(), "{doors:?}");
        for (door, begin) in doors.iter().zip(begin) {
            assert!(door.to_lowercase().starts_with(&begin.to_lowercase()), "{doors:?}");
        }
        page.press("I only want to write down a roll").await;
        page.write("Film", "the first one").await;
        page.press("Bench").await;
        page.until_shows("1 roll").await;
    });
}

/// The bar.
const PLACES: [&str; 5] = ["Bench", "Rolls", "Shelf", "Sheets", "Settings"];

#[test]
fn a_newcomer_who_reads_everything_hears_the_first_tone_in_time() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        let began = page.since().await;
        read_all(page).await;
        page.press("Practise").await;
        read_all(page).await;
        page.tap("button", "START PRACTICE").await;
        page.advance(steps::FIRST_LEAD_IN + 0.5).await;
        let heard = page.heard().await;
        let tone = heard.tones().first().expect("a tone").at;
        let taps = heard.presses().iter().filter(|press| press.what.what == "click").count();
        assert!(taps <= 5, "{taps} taps");
        assert!(tone - began <= 90.0, "{} s", tone - began);
        assert_eq!(page.state_word().await, "POUR");
    });
}

#[test]
fn the_first_roll_offers_practice_before_anything_is_laid_out() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("DEVELOP A ROLL").await;
        page.press("Practise with water").await;
        assert_eq!(page.heading().await, "Practise");
    });
}

/// The lines that are seen in so many seconds, of those that practice can show.
async fn lines_seen(page: &Page, seconds: u32) -> Vec<&'static str> {
    let mut seen: Vec<&str> = Vec::new();
    for _ in 0..seconds {
        page.advance(1.0).await;
        let words = page.words().await;
        for line in LINES {
            if words.contains(line) && !seen.contains(&line) {
                seen.push(line);
            }
        }
    }
    seen
}

const LINES: [&str; 8] = [
    "Touch when it is full.",
    "Over and back, evenly.",
    "Let it stand. It calls.",
    "Last 20 s: end key.",
    "Pour out. Then touch.",
    "Empty? Touch the key.",
    "Too early? UNDO.",
    "Late? Say by how much.",
];

#[test]
fn practice_teaches_one_line_at_a_time_when_it_matters() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/practise").await;
        page.advance(1.0).await;
        page.tap("button", "START PRACTICE").await;
        page.advance(steps::FIRST_LEAD_IN + 2.0).await;
        assert!(page.shows(LINES[0]).await, "{}", page.words().await);
        page.advance(8.0).await;
        page.tap("button", "TANK IS FULL").await;
        let pre_soak = lines_seen(page, 62).await;
        for line in &LINES[2..6] {
            assert!(pre_soak.contains(line), "{line}: {pre_soak:?}");
        }
        page.bath_is_out("Pre-soak").await;
        let after = lines_seen(page, 7).await;
        assert_eq!(after, ["Too early? UNDO.", "Late? Say by how much."]);
        page.advance(2.0).await;
        // Both do what was said of them.
        page.press("5\u{a0}s ago").await;
        page.press("UNDO").await;
        page.press("UNDO").await;
        assert!(page.has("button", "Pre-soak is out").await, "{}", page.words().await);
        page.press("REDO").await;
        let developer = lines_seen(page, 90).await;
        assert!(developer.contains(&"Over and back, evenly."), "{developer:?}");
    });
}

#[test]
fn a_real_run_teaches_nothing() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_pre_soak(page).await;
        assert!(lines_seen(page, 75).await.is_empty());
    });
}
