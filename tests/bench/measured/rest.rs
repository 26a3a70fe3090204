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
    let row = |place: usize, name: &str, unit: &str| {
        let (ours, bare) = (ours[place], bare[place]);
        let cells = [format!("{ours:.0}{unit}"), format!("{bare:.0}{unit}")];
        (name.to_owned(), [&cells[..], &[format!("{:.2}", ours / bare)]].concat())
    };
    let rows = [
        row(0, "main thread", " ms"),
        row(1, "of that scripts", " ms"),
        row(2, "of that styles", " ms"),
        row(3, "of that layout", " ms"),
        row(4, "wake-ups", ""),
    ];
    print_table(&["a minute at rest", "the page", "bare page", "ratio"], &rows);
}

async fn begin(plain: &Plain, fragment: &str) {
    plain.put_in_front(WAKES).await;
    plain.cdp("Performance.enable", json!({})).await;
    plain.go(fragment).await;
    plain.until("document.querySelector('h1') !== null").await;
    wait(3.0).await;
}

/// How long the main thread is busy in a minute and with what, in milliseconds, and how often it is
/// woken.
async fn a_minute(plain: &Plain) -> [f64; 5] {
    const SPENT: [&str; 4] =
        ["TaskDuration", "ScriptDuration", "RecalcStyleDuration", "LayoutDuration"];
    let wakes = async || number(&plain.eval("window.__wakes").await);
    let (before, woken) = (plain.spent_ms(SPENT).await, wakes().await);
    wait(60.0).await;
    let after = plain.spent_ms(SPENT).await;
    let [busy, scripts, styles, layout] = [0, 1, 2, 3].map(|nth| after[nth] - before[nth]);
    [busy, scripts, styles, layout, wakes().await - woken]
}
