//! The files of a build: what a static host will be given.

use std::fs;
use std::io;
use std::path::Path;

use crate::digest;

/// One file of the build.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildFile {
    /// Where it lies below the folder of the build, with `/` between the parts.
    pub path: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

impl BuildFile {
    /// The ending of the name, without the dot; empty if there is none.
    pub fn ending(&self) -> &str {
        Path::new(&self.path).extension().and_then(|ending| ending.to_str()).unwrap_or_default()
    }

    /// The SHA-256 of the content, as the worker compares it.
    pub fn sha256(&self) -> String {
        digest::hexadecimal(&self.bytes)
    }
}

/// Every file below `folder`, in the order of their paths, so that equal builds are read alike.
///
/// # Errors
///
/// Whatever the file system says about a file or a folder that cannot be read.
pub fn read(folder: &Path) -> io::Result<Vec<BuildFile>> {
    let mut files = Vec::new();
    collect(folder, "", &mut files)?;
    files.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(files)
}

fn collect(folder: &Path, below: &str, files: &mut Vec<BuildFile>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let path = format!("{below}{}", entry.file_name().to_string_lossy());
        if entry.file_type()?.is_dir() {
            collect(&entry.path(), &format!("{path}/"), files)?;
        } else {
            files.push(BuildFile { path, bytes: fs::read(entry.path())? });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_known_by_its_ending() {
        check("index.html", "html");
        check("icons/icon-192.png", "png");
        check("page-1a2b_bg.wasm", "wasm");
        check("LICENSE", "");
    }

    #[track_caller]
    fn check(path: &str, ending: &str) {
        let file = BuildFile { path: path.to_owned(), bytes: Vec::new() };
        assert_eq!(file.ending(), ending);
    }
}
