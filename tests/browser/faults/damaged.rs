//! Files of the page that are damaged, on the host or on the phone, and the worker that takes a
//! broken one away.

use serde_json::{Value, json};

use crate::harness::engine::Engine;
use crate::harness::page::Page;
use crate::harness::scene::Scene;
use crate::harness::{Stage, environment, run_at_first, run_in};
use crate::steps::Steps;

/// What a browser makes of a module that is not one, and of one that it could not fetch.
const NO_START: &str = "Sinkside does not start in this browser.";
const BROKEN: &str = "Something broke. Reload — your run is saved.";
/// What is shown where a browser tells nobody why the module did not start.
const SLOW: &str = "It takes longer than it should.";
const MISSING: &str = "Some files of Sinkside are missing on this phone";

/// The name of the page's module, and its bytes.
fn module() -> (String, Vec<u8>) {
    let files = std::fs::read_dir(environment::bundle()).expect("the bundle is there").flatten();
    let mut names = files.map(|file| file.file_name().to_string_lossy().into_owned());
    let name = names.find(|name| name.contains("_bg.wasm")).expect("it has a module");
    let bytes = std::fs::read(environment::bundle().join(&name)).expect("it can be read");
    (name, bytes)
}

/// The module with a byte in every thousand wrong.
fn flipped(mut bytes: Vec<u8>) -> Vec<u8> {
    for byte in bytes.iter_mut().skip(500).step_by(1_000) {
        *byte ^= 0x55;
    }
    bytes
}

fn with_faults() -> Scene {
    Scene { faults_allowed: true, first_visit: true, ..Scene::default() }
}

/// Runs, rolls and entries that are kept.
async fn notebook(page: &Page) -> Value {
    let stored = page.eval("__clock.stored()").await;
    json!([
        stored["sinkside"]["runs"],
        stored["sinkside"]["entries"],
        stored["sinkside"]["records"]
    ])
}

/// A phone with the page on it, and a run in its notebook. Gives the notebook.
async fn with_a_run(page: &Page) -> Value {
    page.open_to("Bench").await;
    page.until_shows("Ready offline.").await;
    page.advance(1.0).await;
    page.lay_out().await;
    page.start_to_developer().await;
    page.stop_here().await;
    page.press("DONE").await;
    page.press("DONE").await;
    notebook(page).await
}

/// Puts `bytes` of the module, or what they say to JavaScript, into the phone's own copy; `null`
/// takes it out.
async fn put_into_the_cache(page: &Page, bytes: &str) {
    let (name, _) = module();
    let put = format!(
        "(async () => {{
            for (const name of await caches.keys()) {{
                const cache = await caches.open(name);
                const held = await cache.match({name});
                if (!held) continue;
                const whole = new Uint8Array(await held.arrayBuffer());
                const bytes = {bytes};
                const headers = {{ 'Content-Type': 'application/wasm' }};
                if (bytes) await cache.put({name}, new Response(bytes, {{ headers }}));
                else await cache.delete({name});
            }}
            return 0;
        }})()",
        name = json!(format!("./{name}")),
    );
    page.eval(&put).await;
}

const HALF: &str = "whole.slice(0, whole.length / 2)";
const FLIPPED: &str = "whole.map((byte, at) => at % 1000 === 500 ? byte ^ 0x55 : byte)";

/// Waits until the page says one of `at_once`, without any time passing. Only outside of Chromium, where
/// not every browser tells why a module did not start, it may take 20 s and ask no more than that.
async fn until_it_says_reload(page: &Page, at_once: &[&str]) {
    let told = Engine::chosen() == Engine::Chromium;
    if !told {
        page.until("__clock.advance(1000).then(() => __clock.now().mono >= 21000)").await;
    }
    page.until_shows("Reload").await;
    let words = page.words().await;
    let said = at_once.iter().any(|said| words.contains(said));
    assert!(said || (!told && words.contains(SLOW)), "{words}");
}

#[test]
fn a_module_that_comes_damaged_from_the_host_says_what_to_do_and_the_next_reload_starts() {
    let (name, bytes) = module();
    for damaged in [bytes[..bytes.len() / 2].to_vec(), flipped(bytes.clone())] {
        run_in(with_faults(), async |stage| {
            stage.server.overlay(&name, damaged);
            stage.page.load("").await;
            until_it_says_reload(&stage.page, &[NO_START, BROKEN]).await;
            stage.server.mend();
            stage.page.tap_only("link", "Reload").await;
            stage.page.until_on("Bench").await;
            stage.page.until_shows("Ready offline.").await;
        });
    }
}

#[test]
fn a_module_that_the_phone_kept_badly_is_fetched_again() {
    for bytes in [HALF, FLIPPED] {
        run_at_first(async |stage| {
            let page = &stage.page;
            let before = with_a_run(page).await;
            put_into_the_cache(page, bytes).await;
            page.reload_to("Bench").await;
            page.until_shows("Ready offline.").await;
            assert_eq!(notebook(page).await, before);
            stage.server.down();
            stage.page.reload_to("Bench").await;
        });
    }
}

#[test]
fn a_module_that_the_phone_kept_badly_is_told_without_a_network_and_mended_by_one() {
    run_in(with_faults(), async |stage| {
        let before = with_a_run(&stage.page).await;
        put_into_the_cache(&stage.page, FLIPPED).await;
        stage.server.down();
        stage.page.load("").await;
        until_it_says_reload(&stage.page, &[BROKEN]).await;
        stage.page.tap_only("link", "Reload").await;
        is_missing_until_there_is_a_network(stage, before).await;
    });
}

#[test]
fn a_phone_that_dropped_the_module_says_so_without_a_network_and_is_mended_by_one() {
    run_in(with_faults(), async |stage| {
        let before = with_a_run(&stage.page).await;
        put_into_the_cache(&stage.page, "null").await;
        stage.server.down();
        stage.page.load("").await;
        is_missing_until_there_is_a_network(stage, before).await;
    });
}

async fn is_missing_until_there_is_a_network(stage: &mut Stage, before: Value) {
    stage.page.until_shows(MISSING).await;
    assert!(stage.page.shows("Your runs are kept. Connect to the network once").await);
    stage.server.up();
    stage.page.tap_only("link", "Open again").await;
    stage.page.until_on("Bench").await;
    stage.page.until_shows("Ready offline.").await;
    assert_eq!(notebook(&stage.page).await, before);
}

#[test]
fn a_worker_published_to_take_the_worker_away_leaves_the_page_to_the_network_and_the_notebook_whole()
 {
    run_at_first(async |stage| {
        let before = with_a_run(&stage.page).await;
        // What a host does: it serves `sw-off.js` under the name of the worker.
        let off = std::fs::read(environment::bundle().join("sw-off.js")).expect("it is shipped");
        stage.server.overlay("sw.js", off);
        let page = &stage.page;
        page.lay_out().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero).await;
        let look = "navigator.serviceWorker.getRegistration().then((found) => found?.update())
            .then(() => 0)";
        page.eval(look).await;
        page.until("navigator.serviceWorker.getRegistrations().then((all) => all.length === 0)")
            .await;
        let left =
            "caches.keys().then((names) => names.filter((name) => name.startsWith('sinkside')))";
        assert_eq!(page.eval(left).await, json!([]));
        assert_eq!(page.heading().await, "Run: Developer", "the run is not disturbed");
        page.advance(60.0).await;
        assert_eq!(page.timer().await, "2:30");
        stage.server.asked();
        stage.page.reload_to("Run: Developer").await;
        let asked = stage.server.asked();
        let (name, _) = module();
        assert!(
            asked.iter().any(|asked| asked.path.ends_with(&name)),
            "from the network: {asked:?}"
        );
        let page = &stage.page;
        let after = notebook(page).await;
        for shelf in 0..3 {
            let (before, after) = (before[shelf].as_array(), after[shelf].as_array());
            let (before, after) = (before.expect("a shelf"), after.expect("a shelf"));
            assert!(
                before.iter().all(|kept| after.contains(kept)),
                "{before:?} is kept: {after:?}"
            );
        }
        // With the page's own worker published again all is as it was.
        stage.server.mend();
        stage.page.reload_to("Run: Developer").await;
        stage.page.eval("(location.hash = '#/bench', 0)").await;
        stage.page.until_shows("Ready offline.").await;
    });
}
