//! The worker's list: which files the page needs to start without a network, and their content.
//!
//! The worker is written as a template with two placeholders. Filling them is the last thing done
//! to a build, because a file changed afterwards would no longer be the one the worker knows.

use std::fmt::Write as _;

use thiserror::Error;

use crate::digest;
use crate::files::BuildFile;

/// The worker's own file. It is never in its own list: the browser keeps it.
pub const WORKER: &str = "sw.js";

/// The worker that takes a broken one off a phone; a host puts it in the place of [`WORKER`].
const WORKER_OFF: &str = "sw-off.js";

const VERSION: &str = "\"__VERSION__\"";
const FILES: &str = "\"__FILES__\"";

/// Endings of the boot set. Texts such as a font's licence are served but not kept on the phone.
const BOOT: [&str; 8] = ["html", "js", "wasm", "css", "woff2", "png", "svg", "webmanifest"];

/// What a person may want to read or look at without a network.
const READ: [&str; 2] = ["primer.json", "demo-notebook.json"];

/// Pictures that a browser shows before it installs the page. The page itself shows none of them.
const PICTURES: &str = "pictures/";

/// Why the worker could not be written.
#[derive(Debug, Error, PartialEq, Eq)]
pub enum PrecacheError {
    /// The template lacks one of its two placeholders.
    #[error("{WORKER} has no placeholder {0}")]
    NoPlaceholder(&'static str),
    /// Without one of each the page could not start, so the list would be a lie.
    #[error("no {0} file in the build")]
    Missing(&'static str),
}

/// The worker for `files`, from its `template`.
///
/// Equal files and an equal template give an equal worker, byte for byte, so that a browser sees
/// no update where there is none.
///
/// # Errors
///
/// A [`PrecacheError`] if the template or the build is not whole.
pub fn worker(template: &str, files: &[BuildFile]) -> Result<String, PrecacheError> {
    for placeholder in [VERSION, FILES] {
        if !template.contains(placeholder) {
            return Err(PrecacheError::NoPlaceholder(placeholder));
        }
    }
    let boot = boot_set(files);
    for ending in ["html", "js", "wasm", "css"] {
        if !boot.iter().any(|file| file.ending() == ending) {
            return Err(PrecacheError::Missing(ending));
        }
    }
    let version = format!("\"{}\"", version(template, &boot));
    Ok(template.replace(VERSION, &version).replace(FILES, &list(&boot)))
}

/// The files the page starts from, in the order of `files`.
fn boot_set(files: &[BuildFile]) -> Vec<&BuildFile> {
    let workers = [WORKER, WORKER_OFF];
    let boots = |file: &&BuildFile| {
        let starts = BOOT.contains(&file.ending()) && !file.path.starts_with(PICTURES);
        (starts || READ.contains(&file.path.as_str())) && !workers.contains(&file.path.as_str())
    };
    files.iter().filter(boots).collect()
}

/// A name for exactly this content: 16 letters of the hash over every path and its own hash, and
/// over the template, since a worker that behaves differently is another version.
fn version(template: &str, boot: &[&BuildFile]) -> String {
    let mut all = format!("{WORKER} {}\n", digest::hexadecimal(template.as_bytes()));
    for file in boot {
        // Writing to a string cannot fail.
        let _ = writeln!(all, "{} {}", file.path, file.sha256());
    }
    digest::hexadecimal(all.as_bytes()).chars().take(16).collect()
}

/// So many letters of a hash are listed, a quarter of them: they do not compress.
const LISTED: usize = 16;

/// The list as the worker reads it: `[[address, hash], …]`, addresses relative to the worker.
fn list(boot: &[&BuildFile]) -> String {
    let rows: Vec<String> = boot
        .iter()
        .map(|file| {
            let hash: String = file.sha256().chars().take(LISTED).collect();
            format!("  [\"{}\", \"{hash}\"]", address(&file.path))
        })
        .collect();
    format!("[\n{}\n]", rows.join(",\n"))
}

/// The shell is listed as the folder, because that is the address people open, and because some
/// hosts answer `index.html` with a redirect, which a browser refuses for a page from a cache.
fn address(path: &str) -> String {
    if path == "index.html" { "./".to_owned() } else { format!("./{path}") }
}

#[cfg(test)]
mod tests;
