//! What there is to read: it is text, it leads back, and it is there without a network.

use crate::harness::scene::Scene;
use crate::harness::{run, run_at_first, run_in};
use crate::steps::Steps;

/// What is said where it cannot be read.
const CANNOT: &str = "These pages could not be read.";

#[test]
fn the_whole_job_explains_each_word_of_the_trade_in_one_touch() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("First time").await;
        page.until_shows("In one breath").await;
        assert_eq!(page.heading().await, "The whole job");
        for part in
            ["Buy", "Mix", "Temper", "Dark", "Run", "Wash", "Hang", "Judge", "Keep", "Discard"]
        {
            let heading = format!(
                "[...document.querySelectorAll('h2')].some((head) => head.textContent === '{part}')"
            );
            assert_eq!(page.eval(&heading).await, true, "{part}");
        }
        assert!(!page.shows("The tube in the middle of the tank").await);
        page.eval("[...document.querySelectorAll('summary')].find((words) => words.textContent.includes('Column')).click(), 0").await;
        page.advance(1.0).await;
        assert!(page.shows("The tube in the middle of the tank").await, "{}", page.words().await);
        page.press("WORDS").await;
        page.until_shows("Words of this page").await;
        // Another screen is seen from its top.
        assert_eq!(page.eval("scrollY").await, 0);
        page.press("Back").await;
        page.until_shows("In one breath").await;
        page.press("Back").await;
        assert_eq!(page.heading().await, "Bench");
    });
}

#[test]
fn loading_is_practised_by_words_and_drawings_and_leads_back_to_the_dark_room() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/lay-out/3").await;
        page.advance(1.0).await;
        page.press("Practise loading").await;
        page.until_shows("Column in before film").await;
        let drawn = page.eval("[...document.querySelectorAll('.primer svg')].filter((svg) => svg.getBBox().width > 40).length");
        assert_eq!(drawn.await, 5);
        page.press("Back").await;
        assert!(page.shows("In the dark room").await, "{}", page.words().await);
    });
}

#[test]
fn cautions_and_the_phone_are_one_touch_from_where_they_matter() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/lay-out").await;
        page.advance(1.0).await;
        for words in ["60 °C (140 °F) burns in 3 seconds", "holds silver", "sensitise", "No mains"]
        {
            assert!(page.shows(words).await, "{words}: {}", page.words().await);
        }
        page.press("More on each").await;
        page.until_shows("licensed practice go before anything").await;
        page.press("Back").await;
        assert!(page.has("button", "ALL OF THIS IS SO").await);
        page.open("#/lay-out/4").await;
        page.advance(1.0).await;
        page.press("More on the phone").await;
        page.until_shows("a tab and the app on the home screen do not share data").await;
        page.press("Back").await;
        assert!(page.has("button", "CLEAR").await, "{}", page.words().await);
    });
}

#[test]
fn what_there_is_to_read_is_there_without_the_host() {
    run(async |stage| {
        stage.page.open_to("Bench").await;
        stage.page.until_shows("Ready offline.").await;
        stage.server.down();
        let page = &stage.page;
        page.reload_to("Bench").await;
        page.until_shows("Ready offline.").await;
        page.advance(1.0).await;
        page.press("First time").await;
        page.until_shows("In one breath").await;
        page.press("PRACTISE LOADING").await;
        page.until_shows("The lid clicks").await;
    });
}

#[test]
fn what_cannot_be_read_says_so_and_is_asked_for_again() {
    run_in(Scene { faults_allowed: true, first_visit: true, ..Scene::default() }, async |stage| {
        for wrong in ["<html><h1>Sign in</h1></html>", "[[\"job\", \"One\", 7]]", ""] {
            stage.server.overlay("primer.json", wrong);
            stage.page.open("#/primer/job").await;
            stage.page.until_shows(CANNOT).await;
        }
        stage.server.mend();
        let page = &stage.page;
        page.advance(1.0).await;
        page.press("Back").await;
        page.press("First time").await;
        page.until_shows("In one breath").await;
        assert!(!page.shows(CANNOT).await, "{}", page.words().await);
    });
}

#[test]
fn a_text_that_looks_like_a_page_is_shown_as_it_is_written() {
    run_at_first(async |stage| {
        let page = &stage.page;
        let text =
            "[[\"job\", \"<b>Buy</b>\", \"\", \"<img src=x onerror='document.title=1'> & so\"]]";
        stage.server.overlay("primer.json", text);
        page.open("#/primer/job").await;
        page.until_shows("<img src=x onerror='document.title=1'> & so").await;
        assert!(page.shows("<b>Buy</b>").await, "{}", page.words().await);
        assert_eq!(page.eval("document.querySelectorAll('img, b').length").await, 0);
    });
}
