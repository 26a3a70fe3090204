//! A newer page comes while the person is somewhere: nothing changes under their hands.

use serde_json::Value;

use crate::harness::page::Page;
use crate::harness::server::Server;
use crate::harness::{Stage, run_at_first};
use crate::steps::Steps;
use crate::tour;

const OFFER: &str = "A new version is ready.";
/// The only screen on which the offer stands, and only while no run is open.
const OFFERED_ON: [&str; 2] = ["01-bench-first", "39-bench"];

/// Everything that a newer page could change under the person: words, keys and their places, the
/// address, and what the keyboard is on. The offer itself is left out.
async fn screen(page: &Page) -> Vec<String> {
    let mut screen: Vec<String> = Vec::new();
    let texts = page.texts().await;
    screen.extend(texts.into_iter().map(|piece| piece.text).filter(|text| text != OFFER));
    let keys = page.controls().await.into_iter().filter(|key| key.name != "UPDATE");
    screen.extend(keys.map(|key| format!("{} {}: {:?}", key.role, key.name, key.rect)));
    screen.retain(|line| line != "UPDATE");
    screen.push(page.fragment().await);
    let focus = "document.activeElement.outerHTML.slice(0, 80)";
    screen.push(page.eval(focus).await.as_str().unwrap_or_default().to_owned());
    screen
}

/// Publishes a newer page, looks for it as a browser does now and then, and waits until it lies ready.
async fn newer_page_comes(page: &Page, server: &Server) {
    server.second_version();
    let look =
        "navigator.serviceWorker.getRegistration().then((found) => found.update()).then(() => 0)";
    page.eval(look).await;
    let lies_ready = "navigator.serviceWorker.getRegistration()
        .then((found) => Boolean(found.waiting) && !found.installing)";
    page.until(lies_ready).await;
    page.settle().await;
}

/// The worker that serves the page.
async fn serving(page: &Page) -> Value {
    let ask = "new Promise((resolve) => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = ({ data }) => resolve(data);
        navigator.serviceWorker.controller.postMessage('VERSION', [port2]);
    })";
    page.eval(ask).await
}

#[test]
fn a_newer_page_changes_nothing_on_any_screen_and_is_offered_on_the_bench_alone() {
    run_at_first(async |stage| {
        let Stage { page, server, .. } = stage;
        let mut wrong = Vec::new();
        let mut serves = Value::Null;
        let mut count = 0;
        tour::walk(page, async |page, stop| {
            if serves.is_null() {
                page.until_shows("Ready offline.").await;
                serves = serving(page).await;
            }
            let before = screen(page).await;
            newer_page_comes(page, server).await;
            let after = screen(page).await;
            let offered = page.shows(OFFER).await;
            count += 1;
            if before != after && count > 1 {
                let gone = before.iter().filter(|line| !after.contains(line));
                let come = after.iter().filter(|line| !before.contains(line));
                wrong.push(format!("{}: {:?}", stop.name, gone.chain(come).collect::<Vec<_>>()));
            }
            if offered != OFFERED_ON.contains(&stop.name) {
                wrong.push(format!("{}: offered: {offered}", stop.name));
            }
            if serving(page).await != serves {
                wrong.push(format!("{}: another worker serves the page", stop.name));
            }
        })
        .await;
        println!("a newer page came on {count} screens; offered on {OFFERED_ON:?} alone");
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    });
}
