//! Installing: shortcuts and pictures of the manifest, a home screen that keeps tabs apart, and
//! browsers in which the page cannot start.

use serde_json::{Value, json};

use crate::harness::page::Page;
use crate::harness::run;
use crate::harness::run_in;
use crate::harness::scene::{Scene, Viewport};
use crate::steps::{self, Steps};

async fn manifest(page: &Page) -> Value {
    page.eval("fetch('manifest.webmanifest').then((found) => found.json())").await
}

/// The fragment that a shortcut of this name leads to.
async fn shortcut(page: &Page, name: &str) -> String {
    let manifest = manifest(page).await;
    let shortcuts = manifest["shortcuts"].as_array().expect("shortcuts");
    let named = shortcuts.iter().find(|one| one["name"] == name).expect("a shortcut");
    let url = named["url"].as_str().expect("an address");
    url.strip_prefix("./").expect("inside the scope").to_owned()
}

#[test]
fn each_shortcut_leads_where_it_says() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        let rolls = shortcut(page, "Rolls").await;
        let same = shortcut(page, "Same as last time").await;
        page.open(&rolls).await;
        assert_eq!(page.heading().await, "Rolls");
        // Nothing has been run: there is nothing to do the same as.
        page.load(&same).await;
        page.reload_to("Bench").await;
        page.until("location.hash === '#/bench'").await;
        page.advance(1.0).await;
        let zero = {
            page.lay_out().await;
            page.start_to_developer().await
        };
        page.advance_to(zero + 60.0).await;
        // While a run goes on, a shortcut to it is the run.
        page.eval(&format!("location.hash = '{same}', 0")).await;
        page.until_on("Run: Developer").await;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
        page.wash_and_hang().await;
        page.press("DONE").await;
        page.press("DONE").await;
        page.eval(&format!("location.hash = '{same}', 0")).await;
        page.until_on("Tempering").await;
        page.load(&format!("?again{same}")).await;
        page.until_on("Tempering").await;
    });
}

#[test]
fn the_pictures_of_the_manifest_are_what_it_says_and_are_not_kept_on_the_phone() {
    run(async |stage| {
        let page = &stage.page;
        page.open_to("Bench").await;
        page.until_shows("Ready offline.").await;
        let manifest = manifest(page).await;
        let pictures = manifest["screenshots"].as_array().expect("pictures").clone();
        let forms: Vec<_> = pictures.iter().map(|one| one["form_factor"].clone()).collect();
        assert_eq!(forms, [json!("narrow"), json!("wide")]);
        for picture in pictures {
            let address = picture["src"].as_str().expect("an address").to_owned();
            let size = format!(
                "fetch('{address}').then((found) => found.blob()).then(createImageBitmap).then(({{ width, height }}) => `${{width}}x${{height}}`)"
            );
            assert_eq!(page.eval(&size).await, picture["sizes"], "{address}");
            let kept = format!("caches.match(new URL('{address}', location.href)).then(Boolean)");
            assert_eq!(page.eval(&kept).await, false, "{address}");
        }
    });
}

/// Makes the browser one that tells whether the page is on the home screen.
async fn home_screen(page: &Page, so: bool) {
    let source = format!("Object.defineProperty(navigator, 'standalone', {{ value: {so} }})");
    page.cdp("Page.addScriptToEvaluateOnNewDocument", json!({ "source": source })).await;
}

#[test]
fn a_tab_that_the_home_screen_will_not_know_of_says_so_before_anything_is_written() {
    run(async |stage| {
        let page = &stage.page;
        home_screen(page, false).await;
        page.open("").await;
        page.until_shows("it keeps a notebook of its own").await;
        page.advance(1.0).await;
        page.press("The phone").await;
        page.until_shows("do not share data").await;
    });
}

#[test]
fn a_fresh_home_screen_asks_for_the_notebook_of_the_tab() {
    run(async |stage| {
        let page = &stage.page;
        home_screen(page, true).await;
        page.open("").await;
        page.until_shows("had one in a tab?").await;
        page.advance(1.0).await;
        page.press("Notebook").await;
        assert!(page.has("button", "READ A FILE").await, "{}", page.words().await);
    });
}

#[test]
fn where_scripts_are_off_the_page_says_what_to_do() {
    run_in(Scene { faults_allowed: true, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        page.cdp("Emulation.setScriptExecutionDisabled", json!({ "value": true })).await;
        page.load("").await;
        let text = page.body_text().await;
        assert!(text.contains("Allow JavaScript for this page and reload."), "{text}");
        page.cdp("Emulation.setScriptExecutionDisabled", json!({ "value": false })).await;
    });
}

#[test]
fn a_browser_without_webassembly_is_told_so() {
    run_in(Scene { faults_allowed: true, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let source = json!({ "source": "delete globalThis.WebAssembly" });
        page.cdp("Page.addScriptToEvaluateOnNewDocument", source).await;
        page.load("").await;
        let text = page.body_text().await;
        assert!(text.contains("It needs WebAssembly"), "{text}");
        assert!(!text.contains("Sinkside is starting."), "{text}");
    });
}

#[test]
fn a_page_that_has_started_no_longer_says_that_it_is_starting() {
    run_in(Scene { viewport: Viewport::SMALL, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        page.open_to("Bench").await;
        let text = page.body_text().await;
        assert!(!text.contains("starting") && !text.contains("JavaScript"), "{text}");
    });
}
