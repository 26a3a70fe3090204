//! The bundle itself can be opened, agreed timelines can be read, and nothing is left behind.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

use serde_json::json;

use super::run_fixture;
use crate::harness::browser::processes_of;
use crate::harness::cues::{agreed, compare};
use crate::harness::engine::Engine;
use crate::harness::scene::Scene;
use crate::harness::{run, run_at_first};

#[test]
fn harness_the_bundle_opens() {
    run(async |stage| {
        stage.page.open("").await;
        assert_ne!(stage.page.heading().await, "");
    });
}

#[test]
fn harness_what_a_test_has_stored_is_not_there_for_the_next() {
    for _ in 0..3 {
        run(async |stage| {
            stage.page.open("").await;
            let left = "indexedDB.databases().then((all) => [
                localStorage.getItem('left'), sessionStorage.getItem('left'),
                all.filter(({ name }) => name === 'left').length,
            ])";
            assert_eq!(stage.page.eval(left).await, json!([null, null, 0]));
            let leave = "(localStorage.setItem('left', 1), sessionStorage.setItem('left', 1),
                new Promise((on) => { indexedDB.open('left').onsuccess = () => on(0); }))";
            stage.page.eval(leave).await;
            assert_eq!(stage.page.eval(left).await, json!(["1", "1", 1]));
        });
    }
}

#[test]
fn harness_a_phone_that_has_never_met_the_host_gets_everything_from_it() {
    for _ in 0..2 {
        run_at_first(async |stage| {
            stage.page.open("").await;
            let asked = stage.server.asked();
            assert!(asked.iter().any(|one| one.path.ends_with("_bg.wasm")), "{asked:?}");
        });
    }
}

#[test]
fn harness_the_browser_is_the_one_that_was_asked_for() {
    run_fixture(Scene::default(), async |stage| {
        stage.page.open("").await;
        let agent = stage.page.eval("navigator.userAgent").await.to_string();
        for engine in [Engine::Chromium, Engine::Firefox, Engine::WebKit] {
            assert_eq!(agent.contains(engine.agent()), engine == Engine::chosen(), "{agent}");
        }
    });
}

#[test]
fn harness_every_agreed_timeline_is_equal_to_itself_alone() {
    let folder = ::tests::repository().join("tests/references/data/cues");
    let files = std::fs::read_dir(folder).expect("the folder is there");
    let cases = files.map(|file| file.expect("a file").path());
    let case = |path: &Path| path.file_stem().and_then(|stem| stem.to_str()).map(str::to_owned);
    let cases: Vec<_> = cases.map(|path| case(&path).expect("a name")).collect();
    for one in &cases {
        for other in &cases {
            let differences = compare(&agreed(one), &agreed(other));
            assert_eq!(differences.is_empty(), one == other, "{one} and {other}: {differences:?}");
        }
    }
}

#[test]
fn harness_a_page_at_fault_fails_its_test_and_nothing_is_left_behind() {
    let mut profile = PathBuf::new();
    let failed = catch_unwind(AssertUnwindSafe(|| {
        run_fixture(Scene::default(), async |stage| {
            profile = stage.browser.profile().to_path_buf();
            stage.page.open("").await;
            stage.page.eval("setTimeout(() => { throw new Error('planted'); }, 5); 0").await;
            stage.page.advance(1.0).await;
        });
    }));
    let said = failed.expect_err("the page threw");
    let said = said.downcast_ref::<String>().expect("words");
    assert!(said.contains("planted"), "{said}");
    assert!(!profile.exists(), "{}", profile.display());
    assert_eq!(processes_of(&profile), [0_u64; 0]);
}
