//! How the page is tested from outside.
//!
//! A test is a sentence. It opens the page, touches things by role and name, lets time pass and
//! looks at what was shown and heard:
//!
//! ```ignore
//! #[test]
//! fn the_developer_is_poured_back_on_a_double_tone() {
//!     run(async |stage| {
//!         let page = &stage.page;
//!         page.open("").await;
//!         page.tap("button", "Develop a roll").await;
//!         page.advance(185.0).await;
//!         assert_eq!(page.state_word().await, "POUR");
//!         assert_eq!(page.heard().await.tones().last().expect("a tone").kind, ToneKind::E2Twice);
//!     });
//! }
//! ```
//!
//! Time stands still but in `advance` and what calls it. A phone that is different is a
//! [`Scene`] given to [`run_in`]. `stage.server.down()` cuts the network, `stage.kill()` and
//! `stage.start_again(seconds)` are a crash and the next opening. A test fails by itself if the
//! page throws, logs an error, breaks its own policy or asks another origin for anything.
//!
//! Every test runs in Chromium. Those that `tests/browser/engines.csv` lists run in the others, too, where
//! `SINKSIDE_ENGINE` is `firefox` or `webkit`; in all three the browser puts the harness's script in front
//! of each document by itself, and the bundle is served as it ships.
//!
//! A test with `real_time` in its name runs beside others of its kind and what gives way to them; one with
//! `picture` in its name is run when pictures are asked for.

pub mod browser;
pub mod cues;
pub mod engine;
pub mod environment;
pub mod heard;
pub mod page;
pub mod pictures;
pub mod reach;
pub mod scene;
pub mod script;
pub mod server;

mod tests;

use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::PathBuf;
use std::sync::LazyLock;

use browser::Browser;
use page::Page;
use scene::Scene;
use server::Server;
use tokio::runtime::Runtime;

/// Everything a test has in its hands.
#[derive(Debug)]
pub struct Stage {
    /// The window.
    pub page: Page,
    /// The browser round it.
    pub browser: Browser,
    /// The host the page comes from.
    pub server: Server,
}

impl Stage {
    /// Kills the browser, as a phone does that wants its memory back.
    pub fn kill(&mut self) {
        self.browser.kill();
    }

    /// Opens the browser again on the same profile, `seconds` after it was killed. The page is
    /// not open yet.
    pub async fn start_again(&mut self, seconds: f64) {
        let (wall_ms, since_ms) = self.page.times_ms();
        let away_ms = seconds * 1_000.0;
        let scene = Scene { wall_ms: wall_ms + away_ms, ..self.page.scene().clone() };
        let way = self.browser.open().await;
        self.page = Page::first(way, self.server.address(), scene, since_ms + away_ms).await;
    }

    /// What speaks against the page, whatever the test was about.
    async fn complaints(&self) -> Vec<String> {
        if self.page.scene().faults_allowed || !self.browser.is_open() {
            return Vec::new();
        }
        let mut complaints = self.page.heard().await.faults();
        let elsewhere = "performance.getEntriesByType('resource').map((entry) => entry.name)
            .filter((name) => !name.startsWith(location.origin))";
        let elsewhere = self.page.eval(elsewhere).await;
        let elsewhere: Vec<String> = serde_json::from_value(elsewhere).expect("addresses");
        complaints.extend(elsewhere.into_iter().map(|from| format!("asked elsewhere: {from}")));
        complaints
    }
}

/// Runs a test of the bundle on an ordinary phone.
pub fn run(test: impl AsyncFnOnce(&mut Stage)) {
    run_in(Scene::default(), test);
}

/// Runs a test of the bundle on an ordinary phone that has never met the host: one about what the host
/// sends and what the worker keeps of it.
pub fn run_at_first(test: impl AsyncFnOnce(&mut Stage)) {
    run_in(Scene { first_visit: true, ..Scene::default() }, test);
}

/// Runs a test of the bundle in this scene.
pub fn run_in(scene: Scene, test: impl AsyncFnOnce(&mut Stage)) {
    run_on(environment::bundle(), scene, test);
}

/// Runs a test of whatever lies in `root`.
///
/// The browser, its driver and the host are gone when this returns if the test fails, or if it was more to
/// them than a window.
pub fn run_on(root: PathBuf, scene: Scene, test: impl AsyncFnOnce(&mut Stage)) {
    let runtime = &*RUNTIME;
    let mut browser = Browser::of(&scene);
    let known =
        browser.host.take().filter(|host| !scene.first_visit && host.serves(&root, scene.prefix));
    let server = known.unwrap_or_else(|| Server::under(root, scene.prefix));
    if scene.first_visit {
        server.is_for_one_test();
    }
    let address = server.address();
    let page = runtime.block_on(async {
        let way = browser.open().await;
        Page::first(way, address, scene, 0.0).await
    });
    let mut stage = Stage { page, browser, server };
    let ended = catch_unwind(AssertUnwindSafe(|| {
        runtime.block_on(async {
            test(&mut stage).await;
            let complaints = stage.complaints().await;
            assert!(complaints.is_empty(), "the page at fault:\n{}", complaints.join("\n"));
        });
    }));
    if let Err(failed) = ended {
        runtime.block_on(pictures::of_failure(&stage.page));
        resume_unwind(failed);
    }
    let Stage { page, browser, server } = stage;
    runtime.block_on(browser::kept::keep(browser, page.way(), server));
}

/// Connections to the drivers outlive a test, as the browsers do.
static RUNTIME: LazyLock<Runtime> = LazyLock::new(|| {
    let mut runtime = tokio::runtime::Builder::new_multi_thread();
    runtime.worker_threads(1).enable_all().build().expect("a runtime")
});
