//! A walk through every screen and every state of a run, with a stop at each.

mod readings;

use readings::{read, type_reading};

use crate::harness::page::Page;
use crate::harness::scene::Viewport;
use crate::notebook::photos::bitmap;
use crate::steps::Steps;

/// What a stop is held to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A dry screen.
    Desk,
    /// A screen for wet gloves.
    Session,
    /// Run in one of its states.
    State(&'static str),
}

/// A stop of the walk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stop {
    /// Its name, for pictures and messages.
    pub name: &'static str,
    /// What it is held to.
    pub kind: Kind,
}

/// Does something at each stop of the walk. The window may be of any size; it is put back upright
/// before the walk goes on.
pub async fn walk(page: &Page, mut visit: impl AsyncFnMut(&Page, Stop)) {
    let desk = |name| Stop { name, kind: Kind::Desk };
    let wet = |name| Stop { name, kind: Kind::Session };
    page.open("").await;
    page.advance(1.0).await;
    visit(page, desk("01-bench-first")).await;
    reading(page, &mut visit).await;
    page.press("DEVELOP A ROLL").await;
    visit(page, desk("02-cautions")).await;
    page.press("ALL OF THIS IS SO").await;
    visit(page, desk("03-sink")).await;
    page.press("ALL HERE").await;
    visit(page, desk("04-counter")).await;
    page.press("ALL HERE").await;
    visit(page, desk("05-dark-room")).await;
    page.press("ALL HERE").await;
    visit(page, desk("06-sound-check")).await;
    page.press("CLEAR").await;
    tempering(page, &mut visit).await;
    visit(page, wet("07-last-check-empty")).await;
    page.press("Developer").await;
    visit(page, wet("08-keypad")).await;
    type_reading(page, "401").await;
    page.advance(0.8).await;
    read(page, "Bleach-fix", "375").await;
    read(page, "Tub", "365").await;
    read(page, "Pre-soak", "390").await;
    visit(page, wet("09-last-check-tub-low")).await;
    read(page, "Tub", "415").await;
    visit(page, wet("10-last-check")).await;
    pre_soak(page, &mut visit).await;
    developer(page, &mut visit).await;
    bleach_fix_and_wash(page, &mut visit).await;
    after(page, &mut visit).await;
}

/// The same by degrees Fahrenheit, on the dim ground.
pub async fn walk_in_fahrenheit(page: &Page, visit: impl AsyncFnMut(&Page, Stop)) {
    page.open("").await;
    page.advance(1.0).await;
    for key in ["Settings", "°F", "dim", "Bench"] {
        page.press(key).await;
    }
    walk(page, visit).await;
}

/// What there is to read.
async fn reading(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let desk = |name| Stop { name, kind: Kind::Desk };
    page.press("First time").await;
    page.until_shows("In one breath").await;
    visit(page, desk("01a-job")).await;
    for (key, name) in
        [("PRACTISE LOADING", "01b-loading"), ("WORDS", "01c-words"), ("CAUTIONS", "01d-cautions")]
    {
        page.press(key).await;
        visit(page, desk(name)).await;
        page.press("Back").await;
    }
    page.press("Settings").await;
    page.press("The phone").await;
    visit(page, desk("01e-phone")).await;
    page.press("Bench").await;
}

async fn tempering(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let wet = |name| Stop { name, kind: Kind::Session };
    visit(page, wet("06a-tempering-empty")).await;
    read(page, "MEASURE TUB", "420").await;
    read(page, "Developer", "203").await;
    read(page, "Bleach-fix", "198").await;
    read(page, "Pre-soak", "390").await;
    page.advance(185.0).await;
    visit(page, wet("06b-tempering")).await;
    read(page, "Developer", "247").await;
    page.press("WATER").await;
    visit(page, wet("06c-water")).await;
    page.press("SWAPPED").await;
    page.advance(60.0).await;
    read(page, "Tub", "431").await;
    page.advance(120.0).await;
    page.press("Developer").await;
    page.press("chart").await;
    visit(page, wet("06d-bottle")).await;
    page.press("BACK").await;
    page.press("DARK").await;
    visit(page, wet("06e-before-the-dark")).await;
    page.press("FILM IS IN").await;
}

async fn pre_soak(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let state = |name, state| Stop { name, kind: Kind::State(state) };
    page.press("START PRE-SOAK").await;
    visit(page, state("11-lead-in-first", "WAIT")).await;
    page.advance_to_state("POUR", 5.0).await;
    page.advance(1.0).await;
    visit(page, state("12-pour-in", "POUR")).await;
    page.advance(11.0).await;
    visit(page, state("13-agitate", "AGITATE")).await;
    page.advance(9.0).await;
    visit(page, state("14-rest", "REST")).await;
    page.advance(19.0).await;
    visit(page, state("15-rest-armed", "REST")).await;
    page.advance(10.0).await;
    visit(page, state("16-pour-out", "POUR")).await;
    page.advance(10.0).await;
    visit(page, state("17-wait", "WAIT")).await;
    page.press("PRE-SOAK IS OUT").await;
    page.advance(1.0).await;
    visit(page, state("18-lead-in", "WAIT")).await;
    page.press("UNDO").await;
    visit(page, state("19-undone", "WAIT")).await;
    page.press("REDO").await;
    page.advance(1.0).await;
    page.press("AGAIN").await;
}

async fn developer(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let state = |name, state| Stop { name, kind: Kind::State(state) };
    let wet = |name| Stop { name, kind: Kind::Session };
    page.advance_to_state("POUR", 20.0).await;
    page.advance(12.0).await;
    visit(page, state("20-agitate-ten", "AGITATE")).await;
    page.advance(17.0).await;
    visit(page, state("21-rest-chips", "REST")).await;
    page.press("FAULT").await;
    visit(page, wet("22-fault")).await;
    // Upright the chips stand beside the clock; on its side the screen has room for them here only.
    page.size(Viewport::LANDSCAPE_BAR).await;
    page.settle().await;
    page.press("Late touch").await;
    visit(page, wet("23-tapped-late")).await;
    page.press("10").await;
    page.size(Viewport::PORTRAIT).await;
    page.settle().await;
    page.press("FAULT").await;
    page.press("Wrong bath").await;
    visit(page, wet("24-answer")).await;
    page.press("BACK TO THE RUN").await;
    page.press("TEMP").await;
    visit(page, wet("25-temp")).await;
    page.press("in the tank").await;
    visit(page, wet("26-temp-tank")).await;
    asked_back(page, visit).await;
    page.press("TEMP").await;
    page.press("in the tank").await;
    type_reading(page, "371").await;
    page.advance(0.8).await;
    visit(page, wet("28a-times")).await;
    page.press("KEEP").await;
    page.advance_to_state("POUR", 200.0).await;
    page.advance(2.0).await;
    visit(page, state("29-pour-back", "POUR")).await;
    page.advance_to_state("OVER", 20.0).await;
    page.advance(12.0).await;
    visit(page, state("30-over", "OVER")).await;
    page.press("DEVELOPER IS OUT").await;
}

/// A reading of the tub that cannot be, and the one that is meant.
async fn asked_back(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let state = |name, state| Stop { name, kind: Kind::State(state) };
    let wet = |name| Stop { name, kind: Kind::Session };
    page.press("tub").await;
    type_reading(page, "938").await;
    page.advance(1.3).await;
    visit(page, wet("27-asked-back")).await;
    if page.has("button", "USE 39.8").await {
        page.press("USE 39.8").await;
    } else {
        page.press("AGAIN").await;
        type_reading(page, "398").await;
    }
    visit(page, wet("27a-tub-done")).await;
    page.advance(10.0).await;
    visit(page, state("28-reading-taken", "")).await;
}

async fn bleach_fix_and_wash(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let state = |name, state| Stop { name, kind: Kind::State(state) };
    let wet = |name| Stop { name, kind: Kind::Session };
    page.advance(60.0).await;
    visit(page, state("31-bleach-fix-rest", "REST")).await;
    page.advance_to_state("WAIT", 480.0).await;
    page.advance(601.0).await;
    visit(page, state("32-wait-ten-minutes", "WAIT")).await;
    page.press("BLEACH-FIX IS OUT").await;
    page.advance(70.0).await;
    visit(page, wet("33-wash")).await;
    page.press("CLEAR").await;
    page.advance(60.0).await;
    page.press("CLEAR").await;
    page.advance(8.0).await;
    visit(page, wet("34-wash-too-early")).await;
    page.press("STILL TINTED").await;
    page.advance(490.0).await;
    visit(page, wet("35-wash-ten-minutes")).await;
    page.press("CLEAR").await;
    page.advance(60.0).await;
    page.press("CLEAR").await;
}

async fn after(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let desk = |name| Stop { name, kind: Kind::Desk };
    let wet = |name| Stop { name, kind: Kind::Session };
    page.advance(70.0).await;
    page.press("RINSE IS OUT").await;
    page.advance(7.0).await;
    visit(page, wet("36-with-or-without")).await;
    page.eval("(location.hash = '#/bench', true)").await;
    page.advance(1.0).await;
    visit(page, desk("37-bench-running")).await;
    page.press("RUNNING").await;
    page.advance(1.0).await;
    page.press("WITHOUT").await;
    page.advance(7.0).await;
    visit(page, wet("38-hang")).await;
    page.press("DONE").await;
    page.advance(1.0).await;
    visit(page, desk("39-write-up")).await;
    page.press("DONE").await;
    visit(page, desk("39-bench")).await;
    page.press("Rolls").await;
    page.advance(1.0).await;
    visit(page, desk("40-rolls")).await;
    page.press_with("Two-bath colour negative").await;
    page.advance(1.0).await;
    visit(page, desk("41-roll")).await;
    page.press("All rolls").await;
    page.advance(1.0).await;
    page.press("Settings").await;
    page.advance(1.0).await;
    visit(page, desk("42-settings")).await;
    page.press_with("VESSELS").await;
    visit(page, desk("42a-vessels")).await;
    written(page, visit).await;
}

/// What is written down: rolls and sheets; and practice.
async fn written(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let desk = |name| Stop { name, kind: Kind::Desk };
    page.press("Rolls").await;
    page.press("NEW ROLL").await;
    visit(page, desk("43-roll-new")).await;
    page.write("Film", "colour negative 400").await;
    page.write("On it", "the beach").await;
    page.press("DONE").await;
    visit(page, desk("44-roll-waiting")).await;
    page.press_with("FIND A FAULT").await;
    page.tap("textbox", "What is seen").await;
    page.type_text("milky").await;
    page.advance(1.0).await;
    page.press_with("Milky").await;
    visit(page, desk("44a-faults")).await;
    page.press("The roll").await;
    visit(page, desk("44b-roll-with-a-fault")).await;
    a_photo(page, visit).await;
    page.press("All rolls").await;
    visit(page, desk("45-rolls-waiting")).await;
    page.press("NEW ROLL").await;
    page.write("Film", "slide 100").await;
    page.press("DONE").await;
    page.press_with("COMPARE").await;
    visit(page, desk("45a-compare-with")).await;
    page.press_with("ROLL 1").await;
    visit(page, desk("45b-compare")).await;
    page.press("The roll").await;
    page.press_with("PUT ASIDE").await;
    visit(page, desk("45c-roll-put-aside")).await;
    page.press("All rolls").await;
    page.press_with("PUT ASIDE").await;
    visit(page, desk("45d-put-aside")).await;
    page.press("Rolls").await;
    page.press("TRIALS").await;
    visit(page, desk("45e-trials")).await;
    page.press("NEW TRIAL").await;
    page.write("Question", "Does it fade without stabiliser?").await;
    page.press("IN A YEAR").await;
    page.write("What do you see today?", "nothing yet").await;
    visit(page, desk("45f-trial")).await;
    page.press("All trials").await;
    page.press_with("LEARNING").await;
    visit(page, desk("45g-learning")).await;
    solutions(page, visit).await;
    sheets(page, visit).await;
}

/// What is on the Shelf, and how it came there.
async fn solutions(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let desk = |name| Stop { name, kind: Kind::Desk };
    let wet = |name| Stop { name, kind: Kind::Session };
    page.press("Shelf").await;
    visit(page, desk("45h-shelf-empty")).await;
    page.press("MIX A SOLUTION").await;
    visit(page, desk("45i-mix")).await;
    page.press("Bleach-fix").await;
    page.write("Good for", "16").await;
    page.write("The kit makes", "1000").await;
    page.write("Water at", "40").await;
    page.write("Its parts, in order", "A 142.5, powder B 47 g").await;
    visit(page, desk("45j-solution")).await;
    page.press("MIX IT").await;
    visit(page, wet("45k-mix-before")).await;
    page.press("READY").await;
    visit(page, wet("45l-mix-water")).await;
    page.press("WATER IS IN").await;
    page.press("A IS IN").await;
    visit(page, wet("45m-mix-powder")).await;
    page.press_with("B IS IN").await;
    page.press("IT IS MIXED").await;
    visit(page, desk("45n-label")).await;
    page.press("Solution").await;
    page.press("CLIP TEST").await;
    visit(page, wet("45o-clip")).await;
    page.press("IT IS IN").await;
    page.advance(20.0).await;
    visit(page, wet("45p-clip-runs")).await;
    page.press("IT IS CLEAR").await;
    visit(page, wet("45q-clip-cleared")).await;
    page.press("BACK").await;
    page.press("Shelf").await;
    visit(page, desk("45r-shelf")).await;
}

async fn sheets(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let desk = |name| Stop { name, kind: Kind::Desk };
    page.press("Sheets").await;
    visit(page, desk("46-sheets")).await;
    let fahrenheit = page.shows("negative, 100 °F").await;
    page.press_with(if fahrenheit { "negative, 100" } else { "negative, 37.8" }).await;
    visit(page, desk("47-sheet-to-compare")).await;
    page.press("EDIT A COPY").await;
    visit(page, desk("48-sheet-edit")).await;
    page.press("DONE").await;
    visit(page, desk("49-sheet-own")).await;
    page.press("PRACTISE").await;
    visit(page, desk("50-practise")).await;
    page.press("Bench").await;
    page.press("DEVELOP A ROLL").await;
    visit(page, desk("51-rolls-to-tick")).await;
}

/// A photo on the roll that is open.
async fn a_photo(page: &Page, visit: &mut impl AsyncFnMut(&Page, Stop)) {
    let desk = |name| Stop { name, kind: Kind::Desk };
    let photo = std::env::temp_dir().join(format!("sinkside-{}.bmp", std::process::id()));
    std::fs::write(&photo, bitmap(600, 400)).expect("room for a picture");
    page.press("ADD PHOTOS").await;
    page.choose(&[photo]).await;
    page.until_shows("1 photo,").await;
    page.advance(1.0).await;
    visit(page, desk("44c-roll-with-a-photo")).await;
    page.press("Photo 1").await;
    visit(page, desk("44d-photo-large")).await;
}
