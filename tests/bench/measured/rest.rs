//! A minute in which nobody touches anything: a run that goes on, beside a bare page with one digit
//! a second.

use serde_json::json;

use super::plain::{Plain, run, wait};
use super::{alone, number, print_table};
use crate::harness::environment;
use crate::steps::LAYING_OUT;

/// Counts what the page's timers and frames wake it for.
const WAKES: &str = "(() => {
    window.__wakes = 0;
    for (const name of ['setTimeout', 'setInterval', 'requestAnimationFrame']) {
        const own = window[name];
        window[name] = (run, ...rest) =>
            own((...given) => {
                window.__wakes += 1;
                run(...given);
            }, ...rest);
    }
})()";

#[test]
fn measured_a_minute_at_rest() {
    let _alone = alone();
    let ours = run(environment::bundle(), async |plain| {
        begin(plain, "").await;
        for key in LAYING_OUT.into_iter().chain(["START", "PRE-SOAK IS OUT"]) {
            let press = format!(
                "(() => {{
                    const is = (one) => !one.disabled && one.innerText.toUpperCase().includes({});
                    const key = [...document.querySelectorAll('button')].find(is);
                    key?.click();
                    return Boolean(key);
                }})()",
                json!(key)
            );
            plain.until(&press).await;
            wait(0.9).await;
        }
        // The lead-in, and the first agitation.
        wait(30.0).await;
        a_minute(plain).await
    });
    let bare = run(environment::bare(), async |plain| {
        begin(plain, "#/rest").await;
        wait(5.0).await;
        a_minute(plain).await
    });
    let row = |name: &str, place: usize, unit: &str| {
        let (ours, bare) = (ours[place], bare[place]);
        let cells = [format!("{ours:.0}{unit}"), format!("{bare:.0}{unit}")];
        (name.to_owned(), [&cells[..], &[format!("{:.2}", ours / bare)]].concat())
    };
    let rows = [row("main thread", 0, " ms"), row("wake-ups", 1, "")];
    print_table(&["a minute at rest", "the page", "bare page", "ratio"], &rows);
}

async fn begin(plain: &Plain, fragment: &str) {
    plain.put_in_front(WAKES).await;
    plain.cdp("Performance.enable", json!({})).await;
    plain.go(fragment).await;
    plain.until("document.querySelector('h1') !== null").await;
    wait(3.0).await;
}

/// How long the main thread is busy in a minute, in milliseconds, and how often it is woken.
async fn a_minute(plain: &Plain) -> [f64; 2] {
    let wakes = async || number(&plain.eval("window.__wakes").await);
    let (busy, woken) = (plain.busy_ms().await, wakes().await);
    wait(60.0).await;
    [plain.busy_ms().await - busy, wakes().await - woken]
}
