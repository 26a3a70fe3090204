//! Browsers that a test has left whole, for the next one: a start takes half of what a short test does.
//!
//! A test has windows of its own, and every switch of a window is new to it; what belongs to the whole
//! browser is put back here. In Chromium, where what an origin stores can be taken away by kinds, the host
//! is kept as well if nothing was wrong with it, and with it the worker: the next page opens as on a phone
//! that has been here before, which takes a sixth less. Otherwise the host is on a port that no other test of
//! the process has had. A test that fails, or that ends its browser, leaves none.

use std::sync::{Mutex, PoisonError};

use serde_json::{Value, json};
use thirtyfour::WebDriver;
use thirtyfour::error::WebDriverResult;

use super::Browser;
use crate::harness::engine::Engine;
use crate::harness::reach::Reach;
use crate::harness::scene::{Clock, Scene, Speech};
use crate::harness::server::Server;

/// After so many tests a browser has gathered enough.
const TESTS: u32 = 80;

/// What an origin stores but for its worker and what the worker keeps.
const ALL_BUT_THE_WORKERS: &str = "cookies,file_systems,indexeddb,local_storage";

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

/// Keeps a browser for another test, if it does for any, with the host that its page came from.
pub async fn keep(mut browser: Browser, (web, reach): (WebDriver, Reach), host: Server) {
    browser.tests += 1;
    if browser.is_for_any && browser.tests < TESTS && put_back(&web, &browser, &host).await.is_ok()
    {
        browser.session = Some((web, reach));
        browser.host = knows_again(&browser, &host).then_some(host);
        KEPT.lock().unwrap_or_else(PoisonError::into_inner).push(browser);
    }
}

fn knows_again(browser: &Browser, host: &Server) -> bool {
    browser.engine == Engine::Chromium && host.is_unharmed()
}

/// Leaves one empty window, and nothing of what the test has stored, allowed or saved.
async fn put_back(web: &WebDriver, browser: &Browser, host: &Server) -> WebDriverResult<()> {
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
        let kinds = if knows_again(browser, host) { ALL_BUT_THE_WORKERS } else { "all" };
        let stored = json!({ "origin": host.origin(), "storageTypes": kinds });
        let asked = [
            ("Storage.clearDataForOrigin", stored),
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
