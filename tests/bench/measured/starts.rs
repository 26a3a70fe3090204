//! Starts, the page beside the bare page: offline in a browser that has just been started, and the
//! first of all over a slow network.

use std::path::PathBuf;

use serde_json::{Value, json};

use super::plain::{Plain, run, wait};
use super::{alone, kilobytes, median, number, print_table};
use crate::harness::environment;

/// Touches the first key as soon as it is there, and notes when the page has answered with another
/// heading.
const FIRST_TOUCH: &str = "(() => {
    const heading = () => document.querySelector('h1')?.textContent;
    let before = null;
    const observer = new MutationObserver(() => {
        const key = document.querySelector('.develop');
        if (key && before === null) {
            window.__shown = performance.now();
            before = heading();
            key.click();
        }
        if (before !== null && heading() && heading() !== before) {
            observer.disconnect();
            window.__answered = performance.now();
        }
    });
    observer.observe(document, { childList: true, subtree: true, characterData: true });
})()";

/// The worker is there and every file is in its cache.
const KEPT: &str = "navigator.serviceWorker.ready.then(({ active }) => new Promise((on) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => on(data);
    active.postMessage('READY', [port2]);
}))";

const PAGES: [&str; 2] = ["the page", "bare page"];

fn roots() -> [PathBuf; 2] {
    [environment::bundle(), environment::bare()]
}

/// Goes to the page; gives when its first key was there, when it had answered, and when something
/// was first painted.
async fn start(plain: &Plain) -> [f64; 3] {
    plain.go("").await;
    let shown = plain.until("window.__answered ? [window.__shown, window.__answered] : null").await;
    let painted = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null";
    let painted = plain.until(painted).await;
    [number(&shown[0]), number(&shown[1]), number(&painted)]
}

/// Makes the browser that was just started ready to be measured.
async fn ready(plain: &Plain) {
    plain.put_in_front(FIRST_TOUCH).await;
    plain.slow_down(4).await;
    // The browser itself has to have done with its own start.
    wait(1.0).await;
}

#[test]
fn measured_warm_starts_offline() {
    let _alone = alone();
    let taken = roots().map(|root| run(root, warm_starts));
    let names = ["anew: key there", "anew: key answers", "anew: painted", "running: key answers"];
    let rows = names.into_iter().enumerate().map(|(place, name)| {
        let [ours, bare] = [0, 1]
            .map(|page: usize| median(taken[page].iter().map(|times| times[place]).collect()));
        let cells =
            vec![format!("{ours:.0} ms"), format!("{bare:.0} ms"), format!("{:.2}", ours / bare)];
        (name.to_owned(), cells)
    });
    let rows: Vec<_> = rows.collect();
    let title = "start offline, 4 times slower, medians of 9";
    print_table(&[title, PAGES[0], PAGES[1], "ratio"], &rows);
}

async fn warm_starts(plain: &mut Plain) -> Vec<[f64; 4]> {
    // Twice with the host, as a browser keeps compiled code from the second time on.
    for _ in 0..3 {
        plain.go("").await;
        plain.until(KEPT).await;
        wait(1.0).await;
        plain.go("about").await;
        wait(0.5).await;
    }
    plain.server.down();
    let mut taken = Vec::new();
    for _ in 0..9 {
        plain.start_again().await;
        ready(plain).await;
        let [shown, answered, painted] = start(plain).await;
        wait(0.5).await;
        plain.cdp("Page.navigate", json!({ "url": "about:blank" })).await;
        wait(0.3).await;
        let [_, again, _] = start(plain).await;
        taken.push([shown, answered, painted, again]);
    }
    taken
}

#[test]
fn measured_first_loads_over_a_slow_network() {
    let _alone = alone();
    let taken: [Vec<_>; 2] =
        roots().map(|root| (0..7).map(|_| run(root.clone(), first_load)).collect());
    let row = |name: &str, place: usize, bytes: bool| {
        let [ours, bare] = [0, 1]
            .map(|page: usize| median(taken[page].iter().map(|times| times[place]).collect()));
        let say = |number: f64| if bytes { kilobytes(number) } else { format!("{number:.0} ms") };
        (name.to_owned(), vec![say(ours), say(bare), format!("{:.2}", ours / bare)])
    };
    let rows = [
        row("key there", 0, false),
        row("key answers", 1, false),
        row("painted", 2, false),
        row("sent in all, until ready offline", 3, true),
        row("of that a second time", 4, true),
    ];
    let title = "first load, 10 Mbit/s, 40 ms, 4 times slower, medians of 7";
    print_table(&[title, PAGES[0], PAGES[1], "ratio"], &rows);
}

async fn first_load(plain: &mut Plain) -> [f64; 5] {
    plain.server.compress();
    ready(plain).await;
    plain.cdp("Network.enable", json!({})).await;
    let network = json!({
        "offline": false, "latency": 40, "downloadThroughput": 1_250_000, "uploadThroughput": 1_250_000,
    });
    plain.cdp("Network.emulateNetworkConditions", network).await;
    let [shown, answered, painted] = start(plain).await;
    assert_eq!(plain.until(KEPT).await, Value::Bool(true));
    let (mut all, mut twice) = (0.0, 0.0);
    let mut seen: Vec<String> = Vec::new();
    for asked in plain.server.asked() {
        #[expect(clippy::cast_precision_loss, reason = "a file's length fits")]
        let bytes = asked.bytes as f64;
        all += bytes;
        if seen.contains(&asked.path) {
            twice += bytes;
            eprintln!("sent again: {} ({})", asked.path, kilobytes(bytes));
        }
        seen.push(asked.path);
    }
    [shown, answered, painted, all, twice]
}
