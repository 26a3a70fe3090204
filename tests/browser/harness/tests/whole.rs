//! The bundle itself can be opened, agreed timelines can be read, and nothing is left behind.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

use super::run_fixture;
use crate::harness::browser::processes_of;
use crate::harness::cues::{agreed, compare};
use crate::harness::engine::Engine;
use crate::harness::run;
use crate::harness::scene::Scene;

#[test]
fn harness_the_bundle_opens() {
    run(async |stage| {
        stage.page.open("").await;
        assert_ne!(stage.page.heading().await, "");
    });
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
