//! The notebook: the page's way to the database beside another library's, and a notebook of
//! thousands of rolls with their runs on the page itself.

use bench::made;
use serde_json::{Value, json};
use session::notebook::file;

use super::{alone, kilobytes, number, plain, print_table};
use crate::harness::{environment, run};
use crate::notebook::many_rolls::takes_ms;
use crate::steps::Steps;

#[test]
fn measured_the_database_beside_another_library() {
    let _alone = alone();
    let (measured, heap) = plain::run(environment::bench(), async |plain| {
        plain.go("notebook.html").await;
        let measured = plain.until("window.measured ?? null").await;
        (measured, plain.heap_bytes().await)
    });
    let cells = |row: &Value| -> (String, Vec<String>) {
        let (ours, theirs) = (number(&row[1]), number(&row[2]));
        let cells = [format!("{ours:.1} ms"), format!("{theirs:.1} ms")];
        let ratio = format!("{:.2}", ours / theirs);
        (row[0].as_str().unwrap_or_default().to_owned(), [&cells[..], &[ratio]].concat())
    };
    let rows: Vec<_> = measured["rows"].as_array().into_iter().flatten().map(cells).collect();
    print_table(&["10,000 records of 1 kB, medians of 5", "the page", "Dexie", "ratio"], &rows);
    eprintln!("made, read again and compared as a file: {:.0} ms", number(&measured["whole"]));
    let row = |row: &Value| {
        let name = row[0].as_str().unwrap_or_default().to_owned();
        (name, vec![format!("{:.0} ms", number(&row[1]))])
    };
    let rows: Vec<_> = measured["stages"].as_array().into_iter().flatten().map(row).collect();
    let size = kilobytes(number(&measured["textBytes"]));
    print_table(&[&format!("2,000 rolls with runs, a file of {size}"), "takes"], &rows);
    eprintln!(
        "memory at the end: heap {}, module {}",
        kilobytes(heap),
        kilobytes(number(&measured["wasmBytes"]))
    );
}

/// Where the module's memory is kept once it has one.
pub const MEMORY: &str = "(() => {
    const own = WebAssembly.instantiateStreaming;
    WebAssembly.instantiateStreaming = async (...given) => {
        const made = await own.apply(WebAssembly, given);
        window.__memory = made.instance.exports.memory ??
            Object.values(made.instance.exports).find((one) => one instanceof WebAssembly.Memory);
        return made;
    };
})()";

#[test]
fn measured_two_thousand_rolls_with_runs_on_the_page() {
    let _alone = alone();
    run(async |stage| {
        let page = &stage.page;
        page.cdp("Page.addScriptToEvaluateOnNewDocument", json!({ "source": MEMORY })).await;
        page.open("").await;
        page.advance(1.0).await;
        page.press("Settings").await;
        let text = file::write(made::rolls_with_runs(2_000), made::now());
        page.eval(&format!("(window.__text = {}, 0)", json!(text))).await;
        page.press("READ A FILE").await;
        let says = |words: &str| format!("document.body.innerText.includes({})", json!(words));
        let mut rows = Vec::new();
        let mut add =
            |name: &str, took: f64| rows.push((name.to_owned(), vec![format!("{took:.0} ms")]));
        let preview = takes_ms(page, "__clock.pick(window.__text)", &says("READ IT IN")).await;
        add("file picked to what reading would do", preview);
        let press = |words: &str| {
            format!(
                "[...document.querySelectorAll('button')].find((one) => one.innerText.includes({})).click()",
                json!(words)
            )
        };
        page.advance(1.0).await;
        let read = "has been read into the notebook";
        let took = takes_ms(page, &press("READ IT IN"), &says(read)).await;
        add("read in, until it says so", took);
        page.advance(1.0).await;
        page.until("__clock.storing === 0").await;
        let saved = says("Downloaded. See that it is there.");
        add("SAVE A FILE to the file", takes_ms(page, &press("SAVE A FILE"), &saved).await);
        page.advance(1.0).await;
        page.press("READ A FILE").await;
        let again = takes_ms(page, "__clock.pick(window.__text)", &says("READ IT IN")).await;
        add("the same file picked again", again);
        let in_bench = "document.querySelector('h1')?.innerText === 'Bench'";
        let rolls = "document.querySelectorAll('.ledger__row').length >= 60";
        add("Bench", takes_ms(page, "location.hash = '#/bench'", in_bench).await);
        add("Rolls", takes_ms(page, "location.hash = '#/rolls'", rolls).await);
        // What was recorded of so many writes is more than a window may carry over a reload.
        page.eval("(__clock.entries.length = 0)").await;
        page.reload_to("Rolls").await;
        takes_ms(page, "", rolls).await;
        let since = number(&page.eval("__clock.real.now()").await);
        add("a start, to the list of rolls", since);
        print_table(&["2,000 rolls with runs, on the page under test", "takes"], &rows);
        page.cdp("HeapProfiler.collectGarbage", json!({})).await;
        let heap = number(&page.cdp("Runtime.getHeapUsage", json!({})).await["usedSize"]);
        let module = number(&page.eval("window.__memory?.buffer.byteLength ?? null").await);
        eprintln!("memory after the start: heap {}, module {}", kilobytes(heap), kilobytes(module));
    });
}
