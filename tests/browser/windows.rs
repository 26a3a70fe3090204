//! Two windows of one browser: one run, one voice.

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

const ELSEWHERE: &str = "This run is in another window.";

/// A second window of the same browser, with the page in it.
async fn second_window(page: &Page, heading: &str) -> Page {
    let other = page.another().await;
    other.open_to(heading).await;
    other
}

/// Lets the same time pass in both windows, a second at a time, as it does.
async fn together(one: &Page, other: &Page, seconds: u32) {
    for _ in 0..seconds {
        one.advance(1.0).await;
        other.advance(1.0).await;
    }
}

/// How many sentences and notes this window has given out.
async fn sounds(page: &Page) -> usize {
    let heard = page.heard().await;
    heard.said().len() + heard.notes().len()
}

/// The names of the buttons of a window.
async fn keys(page: &Page) -> Vec<String> {
    page.button_names().await
}

#[test]
fn a_second_window_shows_the_run_and_touches_nothing() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 80.0).await;
        let other = second_window(page, "Run: Developer").await;
        assert!(other.shows(ELSEWHERE).await, "{}", other.words().await);
        assert_eq!((other.timer().await, other.state_word().await), show("2:10", "REST"));
        assert_eq!(keys(&other).await, ["TAKE OVER HERE"]);
        together(page, &other, 12).await;
        assert_eq!((other.timer().await, other.state_word().await), show("1:58", "AGITATE"));
        assert_eq!((page.timer().await, page.state_word().await), show("1:58", "AGITATE"));
        for key in [" ", "Enter", "u", "t", "m"] {
            other.key(key).await;
            other.advance(1.0).await;
        }
        assert_eq!(sounds(&other).await, 0, "only one window is heard");
        assert_eq!(page.log().await.len(), 2, "the second window has written nothing");
        assert_eq!(page.heading().await, "Run: Developer");
        assert!(!page.shows(ELSEWHERE).await);
    });
}

#[test]
fn a_second_window_follows_the_run_from_bath_to_bath() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 200.0).await;
        let other = second_window(page, "Run: Developer").await;
        together(page, &other, 10).await;
        page.bath_is_out("Developer").await;
        other.until_on("Run: Bleach-fix").await;
        assert_eq!((other.timer().await, other.state_word().await), show("0:08", "WAIT"));
        page.advance(steps::LEAD_IN + steps::BLEACH_FIX).await;
        other.advance(steps::LEAD_IN + steps::BLEACH_FIX).await;
        page.bath_is_out("Bleach-fix").await;
        page.advance(steps::LEAD_IN + 100.0).await;
        other.advance(steps::LEAD_IN + 100.0).await;
        assert!(other.heading().await.ends_with("Wash"), "{}", other.heading().await);
        assert_eq!(other.timer().await, "1:40", "the wash is counted there, too");
        assert!(other.shows(ELSEWHERE).await);
        assert_eq!(keys(&other).await, ["TAKE OVER HERE"]);
    });
}

#[test]
fn a_second_window_takes_the_run_over_and_the_first_falls_silent() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 70.0).await;
        let other = second_window(page, "Run: Developer").await;
        other.tap("button", "TAKE OVER HERE").await;
        page.until_shows(ELSEWHERE).await;
        other.until("__clock.advance(0).then(() => __clock.awake())").await;
        let silent = sounds(page).await;
        for _ in 0..15 {
            page.advance(10.0).await;
            other.advance(10.0).await;
        }
        assert_eq!(sounds(page).await, silent, "the first window is silent from then on");
        assert_eq!(keys(page).await, ["TAKE OVER HERE"]);
        assert_eq!(page.eval("__clock.awake()").await, false, "nor does it keep the screen lit");
        assert_eq!((page.timer().await, page.state_word().await), show("+0:10", "OVER"));
        let heard = other.heard().await;
        let unlike = steps::unlike(&heard, steps::DEVELOPER_CUES, zero, 75.0, 219.5);
        assert!(unlike.is_empty(), "in the second window:\n{}", unlike.join("\n"));
        other.bath_is_out("Developer").await;
        page.until_on("Run: Bleach-fix").await;
        // And back again.
        page.tap("button", "TAKE OVER HERE").await;
        other.until_shows(ELSEWHERE).await;
        assert!(page.has("button", "TEMP").await && !other.has("button", "TEMP").await);
    });
}

#[test]
fn a_window_that_is_closed_leaves_the_run_to_the_other() {
    run(async |stage| {
        let zero = steps::to_developer(&stage.page).await;
        stage.page.advance_to(zero + 100.0).await;
        let other = second_window(&stage.page, "Run: Developer").await;
        let first = std::mem::replace(&mut stage.page, other);
        first.close().await;
        let page = &stage.page;
        page.tap("button", "TAKE OVER HERE").await;
        page.until("__clock.advance(0).then(() => __clock.awake())").await;
        assert!(!page.shows(ELSEWHERE).await);
        page.advance_to(zero + 211.0).await;
        let heard = page.heard().await;
        let unlike = steps::unlike(&heard, steps::DEVELOPER_CUES, zero, 105.0, 210.5);
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
    });
}

/// A page in the developer that is reloaded, and the window that has the run before it: in the place
/// of a page that the browser has not done away with yet. Says when the developer was poured.
async fn reloaded_behind(page: &Page) -> (f64, Page) {
    let zero = steps::to_developer(page).await;
    page.advance_to(zero + 70.0).await;
    let before = window_that_holds_next(page).await;
    page.reload().await;
    (zero, before)
}

/// A window that holds the run as soon as it is free, until it is told to let go of it.
async fn window_that_holds_next(page: &Page) -> Page {
    let other = page.another().await;
    other.load("icons/icon-192.png").await;
    other
        .eval(
            "(navigator.locks.request('sinkside-run', () => new Promise((done) => { letGo = done })), 0)",
        )
        .await;
    other
}

#[test]
fn a_page_that_was_reloaded_waits_until_what_it_was_before_has_let_go_of_the_run() {
    run(async |stage| {
        let page = &stage.page;
        let (zero, before) = reloaded_behind(page).await;
        before.until("typeof letGo === 'function'").await;
        assert!(!page.shows(ELSEWHERE).await, "nobody else has it");
        before.eval("letGo(), 0").await;
        page.until("__clock.advance(0).then(() => __clock.awake())").await;
        assert!(!page.shows(ELSEWHERE).await, "{}", page.words().await);
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        assert_eq!(page.heading().await, "Run: Bleach-fix");
    });
}

#[test]
fn a_page_that_was_reloaded_says_in_the_end_that_the_run_is_in_another_window() {
    run(async |stage| {
        let page = &stage.page;
        let (_, other) = reloaded_behind(page).await;
        page.until_shows(ELSEWHERE).await;
        assert_eq!(keys(page).await, ["TAKE OVER HERE"]);
        other.close().await;
    });
}

#[test]
fn a_second_window_cannot_begin_a_second_run() {
    run(async |stage| {
        let page = &stage.page;
        let other = second_window(page, "Bench").await;
        steps::to_developer(page).await;
        other.advance(81.0).await;
        other.lay_out_as_far_as_it_goes().await;
        other.until_shows(ELSEWHERE).await;
        assert_eq!(keys(&other).await, ["TAKE OVER HERE"]);
        let stored = page.eval("__clock.stored()").await;
        assert_eq!(page.log().await.len(), 2, "{stored}");
    });
}

#[test]
fn what_one_window_writes_down_the_other_shows_and_changes_further() {
    run(async |stage| {
        let page = &stage.page;
        let other = second_window(page, "Bench").await;
        other.press("Rolls").await;
        page.open_to("Bench").await;
        page.press("Rolls").await;
        page.press("NEW ROLL").await;
        page.write("Film", "written here").await;
        other.until_shows("written here").await;
        other.press_with("written here").await;
        other.press("EDIT").await;
        other.write("Camera", "changed there").await;
        page.press("All rolls").await;
        page.until_shows("changed there").await;
        let stored = page.eval("__clock.stored()").await;
        let records = stored["sinkside"]["records"].to_string();
        assert!(!records.contains("conflicts"), "{records}");
    });
}

fn show(timer: &str, state: &str) -> (String, String) {
    (timer.to_owned(), state.to_owned())
}

/// What a person does who does not know that the run is in another window.
trait Unknowing {
    /// Lays out, unless the page shows the run by itself before.
    async fn lay_out_as_far_as_it_goes(&self);
}

impl Unknowing for Page {
    async fn lay_out_as_far_as_it_goes(&self) {
        for key in steps::LAYING_OUT {
            if self.has("button", key).await {
                self.tap("button", key).await;
            }
            self.advance(1.0).await;
        }
    }
}
