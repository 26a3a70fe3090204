//! What the tests are told from outside: where the bundle is, where the accessibility rules are.

use std::path::PathBuf;

/// The finished bundle, the folder a static host would serve.
pub fn bundle() -> PathBuf {
    let said = std::env::var_os("SINKSIDE_DIST")
        .expect("SINKSIDE_DIST must name the built bundle: run `tests/run browser`, which sets it");
    let folder = PathBuf::from(said);
    let index = folder.join("index.html");
    assert!(index.is_file(), "SINKSIDE_DIST names {}, which has no index.html", folder.display());
    folder
}

/// The page that runs the model in a browser.
pub fn bench() -> PathBuf {
    let said = std::env::var_os("SINKSIDE_BENCH")
        .expect("SINKSIDE_BENCH must name the built bench: run `tests/run browser`, which sets it");
    PathBuf::from(said)
}

/// The page that starts are measured against.
pub fn bare() -> PathBuf {
    let said = std::env::var_os("SINKSIDE_BARE").expect(
        "SINKSIDE_BARE must name the built bare page: run `tests/run bench`, which sets it",
    );
    PathBuf::from(said)
}

/// The script that holds the accessibility rules.
pub fn axe() -> String {
    let said = std::env::var_os("SINKSIDE_AXE")
        .expect("SINKSIDE_AXE must name axe.min.js: run `tests/run browser`, which sets it");
    let path = PathBuf::from(said);
    let read = std::fs::read_to_string(&path);
    read.unwrap_or_else(|error| panic!("SINKSIDE_AXE names {}: {error}", path.display()))
}

/// Where pictures go, if pictures are asked for.
pub fn pictures() -> Option<PathBuf> {
    std::env::var_os("SINKSIDE_SCREENS")?;
    Some(tests::repository().join("tests/pictures"))
}
