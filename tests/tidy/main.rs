//! Rules of the tree that no compiler checks.

#![expect(clippy::expect_used, reason = "a failed expectation is a failed test")]

use std::path::{Path, PathBuf};

use tests::repository;

/// The most lines that a file may have.
const MOST_LINES: usize = 400;

/// What may stand at the top of the repository, dot-files aside.
const TOP: [&str; 10] = [
    "Cargo.toml",
    "Cargo.lock",
    "Trunk.toml",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "app",
    "style",
    "public",
    "tests",
];

#[test]
fn nothing_else_stands_at_the_top() {
    let ignored = ["target", "dist", "node_modules"];
    for name in names(&repository()) {
        let known = TOP.contains(&name.as_str()) || ignored.contains(&name.as_str());
        assert!(known || name.starts_with('.'), "{name} is not agreed at the top");
    }
    for name in TOP {
        assert!(repository().join(name).exists(), "{name} is missing");
    }
}

#[test]
fn no_file_is_longer_than_a_reader_can_hold() {
    for file in sources() {
        let lines = read(&file).lines().count();
        assert!(lines <= MOST_LINES, "{} has {lines} lines", file.display());
    }
}

#[test]
fn pure_crates_name_no_browser_and_no_clock() {
    for file in sources_in(&["app/process-model/src", "app/session/src"]) {
        let text = read(&file);
        for word in ["web_sys", "js_sys", "wasm_bindgen", "leptos", "Instant::now", "SystemTime"] {
            assert!(!text.contains(word), "{} names {word}", file.display());
        }
    }
}

#[test]
fn only_the_notebook_names_serde() {
    for file in sources_in(&["app/process-model/src", "app/session/src", "app/page/src"]) {
        let in_notebook = file.to_string_lossy().contains("session/src/notebook");
        assert!(in_notebook || !read(&file).contains("serde"), "{}", file.display());
    }
}

#[test]
fn only_the_browser_adapters_name_the_browser() {
    let adapters = ["page/src/browser.rs", "page/src/browser/"];
    for file in sources_in(&["app/page/src"]) {
        let path = file.to_string_lossy().into_owned();
        if adapters.iter().any(|adapter| path.contains(adapter)) {
            continue;
        }
        for word in ["web_sys", "js_sys", "wasm_bindgen", "gloo_timers::future"] {
            assert!(!read(&file).contains(word), "{path} names {word}");
        }
    }
}

#[test]
fn parts_know_no_store_and_no_port() {
    for file in sources_in(&["app/page/src/parts"]) {
        let text = read(&file);
        for word in ["store", "ports", "browser"] {
            assert!(!text.contains(&format!("crate::{word}")), "{}", file.display());
        }
    }
}

#[test]
fn colours_are_named_in_the_tokens_alone() {
    for file in files_in(&repository().join("style")) {
        if file.file_name().is_some_and(|name| name == "tokens.css") {
            continue;
        }
        let text = read(&file);
        let is_colour = |at: usize| {
            let digits = text[at + 1..].bytes().take_while(u8::is_ascii_hexdigit).count();
            matches!(digits, 3 | 6 | 8)
        };
        let colours: Vec<_> = text.match_indices('#').filter(|(at, _)| is_colour(*at)).collect();
        // The frame of OVER is cut out by a mask, whose colour is no colour.
        let masks = text.matches("linear-gradient(#000 0 0)").count();
        assert_eq!(colours.len(), masks, "{}", file.display());
        assert!(!text.contains("!important"), "{}", file.display());
    }
}

#[test]
fn every_path_that_the_developers_paper_names_is_there() {
    let text = read(&repository().join("DEVELOPERS.md"));
    let mut found = 0;
    for word in text.split('`').skip(1).step_by(2) {
        let roots = ["app/", "tests/", "style/", "public/", ".ci/"];
        if roots.iter().any(|root| word.starts_with(root)) && !word.contains([' ', '*', '<']) {
            assert!(repository().join(word).exists(), "{word} is not there");
            found += 1;
        }
    }
    assert!(found >= 20, "the paper says where things are");
}

#[test]
fn the_readme_says_the_job_and_the_two_commands() {
    let text = read(&repository().join("README.md"));
    let first = text.lines().find(|line| !line.is_empty() && !line.starts_with('#'));
    assert!(first.is_some_and(|line| line.len() > 80), "it opens with the job");
    for command in ["app/serve", "tests/run"] {
        assert!(text.contains(command), "{command}");
    }
}

#[test]
fn fonts_and_icons_are_no_more_than_a_phone_should_wait_for() {
    let folders =
        ["public/fonts", "public/icons"].map(|folder| files_in(&repository().join(folder)));
    let sizes = folders.concat().into_iter().map(|file| file.metadata().expect("a size").len());
    let sum: u64 = sizes.sum();
    assert!(sum <= 120_000, "{sum} bytes");
}

#[test]
fn nothing_is_left_undone_in_the_code() {
    // Written apart, so that this file does not find itself.
    let marks = [["TO", "DO"], ["FIX", "ME"], ["#[ign", "ore"], ["#[should_", "panic"]];
    for file in sources() {
        let text = read(&file);
        for mark in marks {
            assert!(!text.contains(&mark.concat()), "{} has {}", file.display(), mark.concat());
        }
    }
}

fn sources() -> Vec<PathBuf> {
    sources_in(&["app", "tests"])
}

#[test]
fn every_test_that_is_listed_for_an_engine_is_there_and_says_why() {
    let tests = sources_in(&["tests/browser"]);
    let tests: String = tests.iter().map(|file| read(file)).collect();
    for row in read(&repository().join("tests/browser/engines.csv")).lines().skip(1) {
        let columns: Vec<_> = row.splitn(3, ',').collect();
        assert!(columns.len() == 3 && !columns[2].is_empty(), "no reason: {row}");
        assert!(["all", "firefox", "chromium"].contains(&columns[0]), "runs nowhere: {row}");
        let name = columns[1].rsplit("::").next().unwrap_or_default();
        assert!(tests.contains(&format!("fn {name}(")), "there is no such test: {row}");
    }
}

fn sources_in(folders: &[&str]) -> Vec<PathBuf> {
    let files = folders.iter().flat_map(|folder| files_in(&repository().join(folder)));
    files.filter(|file| file.extension().is_some_and(|kind| kind == "rs")).collect()
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            files.extend(files_in(&path));
        } else {
            files.push(path);
        }
    }
    files
}

fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).expect("a folder");
    entries
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect()
}

fn read(file: &Path) -> String {
    std::fs::read_to_string(file).expect("text")
}
