//! An hour of a run: what is held at its beginning and at its end.

use serde_json::json;

use super::{alone, kilobytes, number, print_table};
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps;

#[test]
fn measured_the_memory_of_an_hour() {
    let _alone = alone();
    run(async |stage| {
        let page = &stage.page;
        page.cdp(
            "Page.addScriptToEvaluateOnNewDocument",
            json!({ "source": super::notebook::MEMORY }),
        )
        .await;
        page.cdp("Performance.enable", json!({})).await;
        steps::to_bleach_fix(page).await;
        page.advance(60.0).await;
        let began = held(page).await;
        let mut ended = began.clone();
        for _ in 0..6 {
            page.advance(600.0).await;
            ended = held(page).await;
        }
        let rows: Vec<_> = began
            .into_iter()
            .zip(ended)
            .map(|((name, began), (_, ended))| (name.to_owned(), vec![began, ended]))
            .collect();
        print_table(&["an hour of a run", "beginning", "end"], &rows);
    });
}

/// What is held once the recorders of the test have been emptied and the garbage was collected.
async fn held(page: &Page) -> Vec<(&'static str, String)> {
    page.eval("(__clock.entries.length = 0)").await;
    for _ in 0..3 {
        page.cdp("HeapProfiler.collectGarbage", json!({})).await;
    }
    let heap = number(&page.cdp("Runtime.getHeapUsage", json!({})).await["usedSize"]);
    let module = number(&page.eval("window.__memory?.buffer.byteLength ?? null").await);
    let counters = page.cdp("Memory.getDOMCounters", json!({})).await;
    vec![
        ("heap", kilobytes(heap)),
        ("module", kilobytes(module)),
        ("nodes", counters["nodes"].to_string()),
        ("listeners", counters["jsEventListeners"].to_string()),
    ]
}
