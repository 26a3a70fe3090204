//! Finishing a build: first everything is made shorter, then comes the policy, then the worker that
//! knows the finished files, then the sizes. The order matters, since the worker compares what it
//! downloads with what it was told.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::files::{self, BuildFile};
use crate::names::{self, NamesError};
use crate::policy::{self, PolicyError};
use crate::precache::{self, PrecacheError, WORKER};
use crate::{alike, joined, plain, shell, sizes, tokens};

const SHELL: &str = "index.html";

/// How the name of the page's module ends; its script's ends in `.js` instead.
const MODULE: &str = "_bg.wasm";

/// Why a build is not fit to be served.
#[derive(Debug, Error)]
pub enum FinishError {
    /// A file could not be read or written.
    #[error("{}: {source}", path.display())]
    File {
        /// The file or folder.
        path: PathBuf,
        /// What the file system said.
        source: io::Error,
    },
    /// The page or the worker is not there.
    #[error("{0} is not in the build, or is not text")]
    NoText(&'static str),
    /// The script and the module could not be given shorter names.
    #[error(transparent)]
    Names(#[from] NamesError),
    /// The page cannot be served under the policy.
    #[error("{SHELL}: {0}")]
    Policy(#[from] PolicyError),
    /// The worker cannot be written.
    #[error(transparent)]
    Precache(#[from] PrecacheError),
    /// The sizes could not be taken.
    #[error("sizes: {0}")]
    Sizes(io::Error),
    /// The page is larger than a phone should have to wait for.
    #[error("{0}")]
    TooLarge(String),
}

/// Finishes the build in `folder` and returns what to print. `optimised` builds are made shorter and
/// measured; the others are large on purpose.
///
/// # Errors
///
/// A [`FinishError`]; the folder must not be served then.
pub fn finish(folder: &Path, optimised: bool) -> Result<String, FinishError> {
    if optimised {
        shorten_code(folder)?;
        shorten_shell(folder)?;
    }
    let page = policy::insert(text(&read(folder)?, SHELL)?)?;
    write(folder, SHELL, &page)?;

    let files = read(folder)?;
    let worker = precache::worker(text(&files, WORKER)?, &files)?;
    write(folder, WORKER, &worker)?;

    if !optimised {
        return Ok("Built without optimising: sizes are not measured.\n".to_owned());
    }
    let sizes = sizes::measure(&read(folder)?).map_err(FinishError::Sizes)?;
    let table = sizes::table(&sizes);
    if sizes::is_too_large(sizes::sum(&sizes)) {
        return Err(FinishError::TooLarge(table));
    }
    Ok(table)
}

/// Short names where the script and the module meet, and a module that compresses well.
///
/// Does nothing where a script or its module is missing: the worker's list says so.
fn shorten_code(folder: &Path) -> Result<(), FinishError> {
    let files = read(folder)?;
    let module = files.iter().find(|file| file.path.ends_with(MODULE));
    let Some(module) = module else { return Ok(()) };
    let name = module.path.replace(MODULE, ".js");
    let script = files.iter().find(|file| file.path == name);
    let Some(script) = script.and_then(|file| str::from_utf8(&file.bytes).ok()) else {
        return Ok(());
    };
    let (shorter, written) = names::shorten(script, &module.bytes)?;
    let written = alike::beside(&plain::plain(&joined::join(&written)?)?)?;
    write(folder, &name, shorter)?;
    write(folder, &module.path, written)
}

/// One style sheet, and a page that is written for nobody to read and asks early.
fn shorten_shell(folder: &Path) -> Result<(), FinishError> {
    let files = read(folder)?;
    let mut page = text(&files, SHELL)?.to_owned();
    if let Some(joined) = shell::join_styles(&page, &files) {
        write(folder, &joined.styles.path, joined.styles.bytes)?;
        for name in joined.instead_of {
            let path = folder.join(name);
            fs::remove_file(&path).map_err(|source| FinishError::File { path, source })?;
        }
        page = joined.page;
    }
    write(folder, SHELL, shell::ask_early(&shell::shorten(&page)))?;
    shorten_styles(folder)
}

/// Short names in every style sheet for what only style sheets name.
fn shorten_styles(folder: &Path) -> Result<(), FinishError> {
    let files = read(folder)?;
    let (styles, others): (Vec<_>, Vec<_>) = files.iter().partition(|file| file.ending() == "css");
    // Of several sheets one may name what another means.
    let [style] = styles.as_slice() else { return Ok(()) };
    let Ok(long) = str::from_utf8(&style.bytes) else { return Ok(()) };
    let others: Vec<&[u8]> = others
        .iter()
        .filter(|file| matches!(file.ending(), "html" | "js" | "wasm"))
        .map(|file| file.bytes.as_slice())
        .collect();
    write(folder, &style.path, tokens::shorten(long, &others))
}

fn text<'a>(files: &'a [BuildFile], path: &'static str) -> Result<&'a str, FinishError> {
    files
        .iter()
        .find(|file| file.path == path)
        .and_then(|file| str::from_utf8(&file.bytes).ok())
        .ok_or(FinishError::NoText(path))
}

fn read(folder: &Path) -> Result<Vec<BuildFile>, FinishError> {
    files::read(folder).map_err(|source| FinishError::File { path: folder.to_owned(), source })
}

fn write(folder: &Path, name: &str, content: impl AsRef<[u8]>) -> Result<(), FinishError> {
    let path = folder.join(name);
    fs::write(&path, content).map_err(|source| FinishError::File { path, source })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worker_knows_the_page_as_the_policy_left_it() {
        let folder = build("knows-the-page");
        finish(&folder, false).unwrap();

        let files = files::read(&folder).unwrap();
        let page = files.iter().find(|file| file.path == SHELL).unwrap();
        assert!(text(&files, WORKER).unwrap().contains(&page.sha256()[..16]));
        assert!(text(&files, SHELL).unwrap().contains("Content-Security-Policy"));
    }

    #[test]
    fn finishing_equal_builds_gives_equal_workers() {
        let workers = ["first", "second"].map(|name| {
            let folder = build(name);
            finish(&folder, true).unwrap();
            fs::read_to_string(folder.join(WORKER)).unwrap()
        });

        assert_eq!(workers[0], workers[1]);
    }

    #[test]
    fn a_build_without_a_worker_is_refused() {
        let folder = build("without-a-worker");
        fs::remove_file(folder.join(WORKER)).unwrap();

        let refused = finish(&folder, true).unwrap_err();
        assert_eq!(refused.to_string(), "sw.js is not in the build, or is not text");
    }

    #[test]
    fn an_optimised_build_is_measured() {
        let table = finish(&build("measured"), true).unwrap();

        assert!(table.contains("page_bg.wasm") && table.contains("within the goal"), "{table}");
    }

    /// A small build in a folder of its own.
    fn build(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("sinkside-{}-{name}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        write(&folder, SHELL, "<!doctype html><head></head><script>go()</script>").unwrap();
        write(&folder, WORKER, "const V = \"__VERSION__\", F = \"__FILES__\";").unwrap();
        for (name, content) in
            [("page.js", "1"), ("page_bg.wasm", "\0asm\u{1}\0\0\0"), ("run.css", "")]
        {
            write(&folder, name, content).unwrap();
        }
        folder
    }
}
