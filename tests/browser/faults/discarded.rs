//! The browser wants the memory of a page that nobody sees: it freezes the page and throws it away, and
//! loads it anew when somebody comes back to it.

use std::time::{Duration, SystemTime, UNIX_EPOCH};

use serde_json::json;

use crate::harness::run_in;
use crate::harness::scene::Scene;
use crate::steps::{self, Steps};

/// The run is begun this long ago, so that its developer goes on while the browser is tried.
const AGO: Duration = Duration::from_secs(125);

#[test]
fn a_page_that_the_browser_threw_away_in_the_developer_shows_where_it_is_with_no_tap() {
    let scene = Scene { wall_ms: ago_ms(AGO), ..Scene::default() };
    run_in(scene, async |stage| {
        steps::to_developer(&stage.page).await;
        let before = stage.page.log().await;
        stage.kill();
        let address = stage.server.address();
        // From here on it is the browser's own time.
        let plain = stage.browser.open_plain().await;
        let page = plain.open(&address);
        plain.until(&page, "document.querySelector('h1')?.textContent === 'Run: Developer'").await;
        let list = plain.open("chrome://discards/");
        plain.until(&list, &pressed("Freeze", &address)).await;
        plain.until(&list, &pressed("Urgent Discard", &address)).await;
        plain.until(&list, &in_row(&address, "row.innerText.includes('discarded')")).await;
        let page = plain.bring(&address);
        let back = "document.wasDiscarded
            && document.querySelector('h1')?.textContent === 'Run: Developer'
            && document.querySelector('[role=timer]')?.textContent.includes(':')";
        plain.until(&page, back).await;
        stage.browser.end_plain(plain);
        // And nothing of the run is lost.
        stage.start_again(60.0).await;
        stage.page.open_to("Run: Developer").await;
        let after = stage.page.log().await;
        assert!(after.starts_with(&before), "{before:?}\n{after:?}");
    });
}

/// So long before now, in milliseconds since 1970.
#[expect(clippy::disallowed_methods, reason = "the browser goes by the machine's own clock")]
fn ago_ms(ago: Duration) -> f64 {
    let now = SystemTime::now().duration_since(UNIX_EPOCH).expect("it is later than 1970");
    now.saturating_sub(ago).as_secs_f64() * 1_000.0
}

/// Something asked of the row that tells of the page at `address`, in the browser's own list of pages.
fn in_row(address: &str, asked: &str) -> String {
    format!(
        "((row) => {asked})([...document.querySelector('discards-main')?.shadowRoot
            .querySelector('discards-tab')?.shadowRoot.querySelectorAll('tr') ?? []]
            .find((row) => row.innerText.includes({})))",
        json!(address)
    )
}

/// Presses what the list offers to do to that page. Comes to whether it was there.
fn pressed(what: &str, address: &str) -> String {
    let offered = format!("(one) => !one.children.length && one.innerText.includes('{what}')");
    in_row(
        address,
        &format!("row !== undefined && !([...row.querySelectorAll('*')].find({offered}).click())"),
    )
}
