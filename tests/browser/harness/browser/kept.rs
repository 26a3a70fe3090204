//! Browsers that a test has left whole, for the next one: a start takes half of what a short test does.
//!
//! A test has windows of its own and a host on a port that no other test of the process has had: what
//! an origin stores, and every switch of a window, is new to it. What belongs to the whole browser is
//! put back here. A test that fails, or that ends its browser, leaves none.

use std::sync::{Mutex, PoisonError};

use serde_json::{Value, json};
use thirtyfour::WebDriver;
use thirtyfour::error::WebDriverResult;

use super::Browser;
use crate::harness::engine::Engine;
use crate::harness::reach::Reach;
use crate::harness::scene::{Clock, Scene, Speech};

/// After so many tests a browser has gathered enough.
const TESTS: u32 = 80;

static KEPT: Mutex<Vec<Browser>> = Mutex::new(Vec::new());

/// Whether a phone like this asks nothing of the browser itself. `WebKitGTK` starts in less time than
/// it takes to put it back.
pub fn is_for_any(scene: &Scene, engine: Engine) -> bool {
    engine != Engine::WebKit
        && scene.clock == Clock::Test
        && scene.speech != Speech::Synthesiser
        && scene.colours == Scene::default().colours
}

/// One that was kept.
pub fn take() -> Option<Browser> {
    KEPT.lock().unwrap_or_else(PoisonError::into_inner).pop()
}

/// Keeps a browser for another test, if it does for any. `origin` is what its page came from.
pub async fn keep(mut browser: Browser, (web, reach): (WebDriver, Reach), origin: &str) {
    browser.tests += 1;
    if browser.is_for_any && browser.tests < TESTS && put_back(&web, &browser, origin).await.is_ok()
    {
        browser.session = Some((web, reach));
        KEPT.lock().unwrap_or_else(PoisonError::into_inner).push(browser);
    }
}

/// Leaves one empty window, and nothing of what the test has stored, allowed or saved.
async fn put_back(web: &WebDriver, browser: &Browser, origin: &str) -> WebDriverResult<()> {
    let before = web.windows().await?;
    let empty = web.new_tab().await?;
    for window in before {
        web.switch_to_window(window).await?;
        web.close_window().await?;
    }
    web.switch_to_window(empty).await?;
    // A driver remembers whether it has a finger or a mouse.
    web.action_chain().reset_actions().await?;
    if browser.engine == Engine::Chromium {
        let all = json!({ "origin": origin, "storageTypes": "all" });
        let asked = [
            ("Storage.clearDataForOrigin", all),
            ("Browser.resetPermissions", Value::Null),
            ("Browser.setDownloadBehavior", json!({ "behavior": "default" })),
        ];
        for (method, params) in asked {
            web.cdp().send_raw(method, params).await?;
        }
    }
    let saved = browser.profile.join("saved");
    let _ = std::fs::remove_dir_all(&saved);
    std::fs::create_dir_all(&saved).expect("room for a folder");
    Ok(())
}
