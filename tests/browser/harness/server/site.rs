//! What is served, and what is wrong with it.

use std::collections::{HashMap, HashSet};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// A request that was answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The path as it was asked for, from the first slash, without the query.
    pub path: String,
    /// What was answered, such as 200 or 404.
    pub status: u16,
    /// The length of the body that was sent.
    pub bytes: usize,
}

/// The files, and the switches. Paths are relative to the page, without a slash in front.
#[derive(Debug)]
pub struct Site {
    root: PathBuf,
    pub prefix: String,
    pub up: bool,
    pub lost: HashSet<String>,
    pub slow: HashMap<String, Duration>,
    pub corrupt: HashSet<String>,
    pub overlay: HashMap<String, Vec<u8>>,
    /// Files as a host that compresses ahead sends them.
    pub compressed: HashMap<String, Vec<u8>>,
    pub asked: Vec<Asked>,
    /// It is for one test, or has been down or sent other bytes than its own, which a worker may have kept.
    pub harmed: bool,
}

impl Site {
    pub fn new(root: PathBuf, prefix: &str) -> Self {
        Self {
            root,
            prefix: prefix.to_owned(),
            up: false,
            lost: HashSet::new(),
            slow: HashMap::new(),
            corrupt: HashSet::new(),
            overlay: HashMap::new(),
            compressed: HashMap::new(),
            asked: Vec::new(),
            harmed: false,
        }
    }

    /// Whether it is this folder in this place.
    pub fn serves(&self, root: &Path, prefix: &str) -> bool {
        self.root == root && self.prefix == prefix
    }

    /// The file meant by a path of a request, or nothing if it lies outside the site.
    pub fn file_meant(&self, path: &str) -> Option<String> {
        let inside = path.strip_prefix(&self.prefix)?;
        let leaves = inside.split('/').any(|part| part == "..");
        let folder = inside.is_empty() || inside.ends_with('/');
        (!leaves).then(|| if folder { format!("{inside}index.html") } else { inside.to_owned() })
    }

    /// Compresses every file of the folder that is not compressed already.
    pub fn compress(&mut self) {
        let files = std::fs::read_dir(&self.root).into_iter().flatten().flatten();
        for name in files.filter_map(|file| file.file_name().into_string().ok()) {
            let ending = name.rsplit_once('.').map_or("", |(_, end)| end);
            if !["wasm", "js", "css", "html", "json", "svg", "webmanifest"].contains(&ending) {
                continue;
            }
            let Some(bytes) = self.bytes(&name) else { continue };
            let mut writer = brotli::CompressorWriter::new(Vec::new(), 4096, 11, 22);
            if writer.write_all(&bytes).and_then(|()| writer.flush()).is_ok() {
                self.compressed.insert(name, writer.into_inner());
            }
        }
    }

    /// The bytes of a file as they are to be sent now, or nothing if there is no such file.
    pub fn bytes(&self, file: &str) -> Option<Vec<u8>> {
        if self.lost.contains(file) {
            return None;
        }
        let own = self.overlay.get(file).cloned();
        let mut bytes = own.or_else(|| std::fs::read(self.root.join(file)).ok())?;
        let middle = bytes.len() / 2;
        if self.corrupt.contains(file)
            && let Some(byte) = bytes.get_mut(middle)
        {
            *byte ^= 0x55;
        }
        Some(bytes)
    }
}

/// What a static host says a file is, by the end of its name.
pub fn media_type(file: &str) -> &'static str {
    match file.rsplit_once('.').map_or("", |(_, end)| end) {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "json" | "map" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "ico" => "image/x-icon",
        "woff2" => "font/woff2",
        "txt" | "md" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}
