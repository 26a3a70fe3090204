//! What a phone has to download before the page is there, and the most it may be.

use std::fmt::Write as _;
use std::io::{self, Write as _};

use crate::files::BuildFile;

/// The sum the project aims for, in bytes after brotli.
const GOAL: usize = 250_000;

/// The sum above which the build fails, with either toolchain: Debian's, which a bare machine may
/// have to build with, makes it half a kilobyte larger than Rust's own.
const LIMIT: usize = 320_000;

/// The most that fonts and icons should be together, in bytes as they are sent.
const FIXED_GOAL: usize = 120_000;

/// Endings of fonts and icons. Pictures for who installs the page are fetched by nobody else.
const FIXED: [&str; 3] = ["woff2", "png", "svg"];

/// Endings that count towards the sum. Fonts and icons are fixed and already compressed.
const COUNTED: [&str; 4] = ["wasm", "js", "css", "html"];

/// What no phone fetches: it lies there to be published in the place of a broken worker.
const SPARE: &str = "sw-off.js";

/// One file of the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileSize {
    /// Where the file lies below the folder of the build.
    pub path: String,
    /// Its bytes as they lie there.
    pub plain: usize,
    /// Its bytes as a host with brotli sends them.
    pub brotli: usize,
    /// Whether it counts towards the sum.
    pub counted: bool,
}

/// The sizes of `files`, largest after brotli first.
///
/// # Errors
///
/// Whatever the compressor says.
pub fn measure(files: &[BuildFile]) -> io::Result<Vec<FileSize>> {
    let mut sizes = files.iter().map(file_size).collect::<io::Result<Vec<_>>>()?;
    sizes.sort_by(|a, b| b.brotli.cmp(&a.brotli).then_with(|| a.path.cmp(&b.path)));
    Ok(sizes)
}

fn file_size(file: &BuildFile) -> io::Result<FileSize> {
    Ok(FileSize {
        path: file.path.clone(),
        plain: file.bytes.len(),
        brotli: compressed(&file.bytes)?.len(),
        counted: COUNTED.contains(&file.ending()) && file.path != SPARE,
    })
}

/// `bytes` at quality 11 with a window of 4 MB, which is what hosts that compress ahead use.
fn compressed(bytes: &[u8]) -> io::Result<Vec<u8>> {
    let mut writer = brotli::CompressorWriter::new(Vec::new(), 4096, 11, 22);
    writer.write_all(bytes)?;
    writer.flush()?;
    Ok(writer.into_inner())
}

/// The sum of the counted files after brotli.
pub fn sum(sizes: &[FileSize]) -> usize {
    sizes.iter().filter(|size| size.counted).map(|size| size.brotli).sum()
}

/// Whether a sum is more than a phone at the counter should have to wait for.
pub fn is_too_large(sum: usize) -> bool {
    sum > LIMIT
}

/// The table as it is printed at the end of a build.
pub fn table(sizes: &[FileSize]) -> String {
    let widest = sizes.iter().map(|size| size.path.len()).max().unwrap_or_default();
    let mut text = format!("{:widest$} {:>10} {:>10}\n", "file", "bytes", "brotli");
    for FileSize { path, plain, brotli, .. } in sizes {
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{path:widest$} {plain:>10} {brotli:>10}");
    }
    text + &verdict(sum(sizes)) + "\n" + &fixed(sizes) + "\n"
}

/// What fonts and icons are together, in words.
fn fixed(sizes: &[FileSize]) -> String {
    let is_fixed = |size: &&FileSize| {
        let is_one = |ending| FIXED.contains(&ending);
        !size.path.starts_with("pictures/") && size.path.rsplit('.').next().is_some_and(is_one)
    };
    let sum = sizes.iter().filter(is_fixed).map(|size| size.brotli).sum();
    format!("fonts and icons: {} kB (goal {} kB)", kilobytes(sum), kilobytes(FIXED_GOAL))
}

/// The sum in words, with the goal and the limit beside it.
pub fn verdict(sum: usize) -> String {
    let judged = if is_too_large(sum) {
        "too large"
    } else if sum > GOAL {
        "above the goal"
    } else {
        "within the goal"
    };
    let (kept, goal, limit) = (kilobytes(sum), kilobytes(GOAL), kilobytes(LIMIT));
    format!(
        "wasm + js + css + html: {kept} kB after brotli, {judged} \
         (goal {goal} kB, the build fails above {limit} kB)"
    )
}

/// Thousands of bytes with one decimal, rounded up so that a limit passed by one byte shows.
fn kilobytes(bytes: usize) -> String {
    let tenths = bytes.div_ceil(100);
    if tenths.is_multiple_of(10) {
        format!("{}", tenths / 10)
    } else {
        format!("{}.{}", tenths / 10, tenths % 10)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_written_for_this_page_counts() {
        let sizes = measure(&[
            file("page_bg.wasm", 1_000),
            file("page.js", 1_000),
            file("run.css", 1_000),
            file("index.html", 1_000),
            file("fonts/b612.woff2", 1_000),
            file("icons/icon-192.png", 1_000),
        ])
        .unwrap();

        let counted: Vec<&str> =
            sizes.iter().filter(|size| size.counted).map(|size| size.path.as_str()).collect();
        assert_eq!(counted, ["index.html", "page.js", "page_bg.wasm", "run.css"]);
    }

    #[test]
    fn fonts_and_icons_are_said_apart() {
        let table = table(&measure(&[file("fonts/b612.woff2", 0), file("page.js", 900)]).unwrap());
        assert!(table.ends_with("fonts and icons: 0.1 kB (goal 120 kB)\n"), "{table}");
    }

    #[test]
    fn the_limit_itself_passes_and_one_byte_more_fails() {
        assert!(!is_too_large(320_000));
        assert!(is_too_large(320_001));
    }

    #[test]
    fn the_verdict_names_the_goal_and_the_limit() {
        check(71_234, "71.3 kB after brotli, within the goal");
        check(250_001, "250.1 kB after brotli, above the goal");
        check(320_001, "320.1 kB after brotli, too large");
    }

    #[test]
    fn what_repeats_is_smaller_after_brotli() {
        let sizes = measure(&[file("run.css", 10_000)]).unwrap();

        assert!(sizes[0].brotli < 100, "{} bytes", sizes[0].brotli);
    }

    #[track_caller]
    fn check(sum: usize, said: &str) {
        let verdict = verdict(sum);
        assert!(verdict.contains(said), "{verdict}");
        assert!(verdict.ends_with("(goal 250 kB, the build fails above 320 kB)"), "{verdict}");
    }

    fn file(path: &str, bytes: usize) -> BuildFile {
        BuildFile { path: path.to_owned(), bytes: vec![b'a'; bytes] }
    }
}
