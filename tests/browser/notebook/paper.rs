//! On paper: a sheet, a roll, the whole notebook, and a label, without anything that is pressed.

use serde_json::json;

use super::rolls::new_roll;
use super::shelf::new_bottle;
use crate::harness::page::Page;
use crate::harness::pictures::keep;
use crate::harness::run;
use crate::steps::{self, Steps};

/// Shows the page as it is printed, does something, and shows it as a screen again.
async fn printed(page: &Page) -> String {
    page.cdp("Emulation.setEmulatedMedia", json!({ "media": "print" })).await;
    let words = page.words().await;
    let pressed = "[...document.querySelectorAll('.key, .bar__place, .head__act, input')]
        .filter(__clock.eyes.visible).map((key) => key.innerText)";
    assert_eq!(page.eval(pressed).await, json!([]), "nothing is pressed on paper");
    let ground =
        "getComputedStyle(document.body).backgroundColor + getComputedStyle(document.body).color";
    assert_eq!(page.eval(ground).await, "rgb(255, 255, 255)rgb(0, 0, 0)");
    page.cdp("Emulation.setEmulatedMedia", json!({ "media": "" })).await;
    words
}

/// How many sheets of paper a screen is. What is printed is kept where pictures are asked for.
async fn sheets(page: &Page, name: &str) -> usize {
    let pdf = page.pdf().await;
    assert!(pdf.starts_with(b"%PDF-"));
    keep(&pdf, &format!("{name}.pdf"));
    String::from_utf8_lossy(&pdf).matches("/Type /Page\n").count()
}

/// How often the page asked the browser to print, and the words on the paper then.
async fn press_print(page: &Page) -> String {
    page.eval("(window.print = () => { __clock.prints = (__clock.prints ?? 0) + 1; }, 0)").await;
    page.press("PRINT").await;
    assert_eq!(page.eval("__clock.prints").await, 1);
    printed(page).await
}

fn has(words: &str, all: &[&str]) {
    let words = words.to_lowercase();
    for one in all {
        assert!(words.contains(&one.to_lowercase()), "{one} is not in: {words}");
    }
}

fn has_not(words: &str, none: &[&str]) {
    for one in none {
        assert!(!words.contains(one), "{one} is in: {words}");
    }
}

#[test]
fn a_label_is_printed_alone() {
    run(async |stage| {
        let page = &stage.page;
        new_bottle(page, "Bleach-fix").await;
        page.press("IT IS MIXED").await;
        page.press("LABEL").await;
        let words = press_print(page).await;
        has(&words, &["Bleach-fix", "NOT A DRINK", "Keep locked away"]);
        has_not(&words, &["Label", "COPY", "PRINT", "Never in a bottle", "Shelf", "Bench"]);
        assert_eq!(sheets(page, "label").await, 1);
    });
}

#[test]
fn a_sheet_is_printed_with_its_numbers_on_white() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("Settings").await;
        page.press("dim").await;
        page.press("Sheets").await;
        page.press_with("negative, 37.8").await;
        let words = press_print(page).await;
        has(&words, &["Developer", "3:15", "Bleach-fix", "Agitation, and the sources", "Source"]);
        has_not(&words, &["PRACTISE", "EDIT A COPY", "PRINT", "All sheets"]);
        sheets(page, "sheet").await;
    });
}

#[test]
fn a_roll_is_printed_with_its_run_planned_and_actual() {
    run(async |stage| {
        let page = &stage.page;
        steps::read_and_stopped_after_the_developer(page).await;
        page.open_the_roll().await;
        page.press_with("ADD A ROLL").await;
        page.write("Film", "colour negative 400").await;
        page.press("DONE").await;
        let words = press_print(page).await;
        has(&words, &["Roll 1", "colour negative 400", "planned", "actual", "Developer", "3:30"]);
        has(&words, &["Readings and faults", "40.1"]);
        has_not(
            &words,
            &[
                "PUT ASIDE",
                "EDIT",
                "COMPARE",
                "THE FILE",
                "FAULTS SEEN",
                "PHOTOS",
                "TABLE",
                "Bench",
            ],
        );
        sheets(page, "roll").await;
    });
}

#[test]
fn the_whole_notebook_is_printed_and_no_roll_is_cut_in_two() {
    run(async |stage| {
        let page = &stage.page;
        page.open("?demo").await;
        page.until_shows("5 runs").await;
        page.advance(1.0).await;
        page.press("Settings").await;
        page.press("ON PAPER").await;
        page.until_shows("Rolls: 9.").await;
        assert_eq!(page.axe_violations().await, Vec::<String>::new());
        page.picture("72-on-paper").await;
        let words = press_print(page).await;
        has(&words, &["every roll here is invented", "The slip at low tide", "Signal lamps"]);
        has(&words, &["planned", "actual", "Filed:", "Developer", "3:30"]);
        has(
            &words,
            &["6 of 16 rolls", "mixed, 1000 mL", "Trial: Does a strip", "No difference yet"],
        );
        has_not(&words, &["PRINT", "Settings", "ADD PHOTOS", "TAKE BACK"]);
        let whole = "[...document.querySelectorAll('section')]
            .map((roll) => getComputedStyle(roll).breakInside)";
        page.cdp("Emulation.setEmulatedMedia", json!({ "media": "print" })).await;
        let whole = page.eval(whole).await;
        assert_eq!(whole, json!(vec!["avoid"; 12]), "nine rolls, two bottles, a trial");
        page.cdp("Emulation.setEmulatedMedia", json!({ "media": "" })).await;
        assert!(sheets(page, "notebook").await > 3);
    });
}

#[test]
fn rolls_that_were_put_aside_are_not_on_paper_and_those_without_a_run_are() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        new_roll(page, "the beach").await;
        new_roll(page, "the hill").await;
        page.press("Rolls").await;
        page.press_with("the hill").await;
        page.press("PUT ASIDE").await;
        page.press("Settings").await;
        page.press("ON PAPER").await;
        page.until_shows("Rolls: 1.").await;
        assert!(page.shows("the beach").await && !page.shows("the hill").await);
    });
}
