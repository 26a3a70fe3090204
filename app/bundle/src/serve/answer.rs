//! What a request is answered with.

use std::fs;
use std::path::Path;

use super::request::{self, Method, Refusal, Request};

/// An answer, ready to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The number and the words of the status line.
    pub status: &'static str,
    /// What the body is.
    pub media_type: &'static str,
    /// The length of the file in bytes, also where the body itself is left out.
    pub length: usize,
    /// The file, or a word for a person.
    pub body: Vec<u8>,
}

/// The answer to a request with this `head`, from the files in `folder`, which is an absolute path
/// without links.
pub fn to(head: &str, folder: &Path) -> Answer {
    match request::read(head) {
        Ok(request) => file(&request, folder),
        Err(Refusal::NotReading) => word("405 Method Not Allowed", "only GET and HEAD"),
        Err(Refusal::Outside) => word("404 Not Found", "not found"),
        Err(Refusal::Unreadable) => word("400 Bad Request", "not understood"),
    }
}

fn file(request: &Request, folder: &Path) -> Answer {
    // A link inside the folder may still lead out of it; only its real place tells.
    let place = folder.join(&request.path).canonicalize();
    let inside = place.ok().filter(|place| place.starts_with(folder) && place.is_file());
    let Some(body) = inside.and_then(|place| fs::read(place).ok()) else {
        return word("404 Not Found", "not found");
    };
    Answer {
        status: "200 OK",
        media_type: media_type(&request.path),
        length: body.len(),
        body: match request.method {
            Method::Get => body,
            Method::Head => Vec::new(),
        },
    }
}

fn word(status: &'static str, body: &str) -> Answer {
    let body = format!("{body}\n").into_bytes();
    Answer { status, media_type: "text/plain; charset=utf-8", length: body.len(), body }
}

/// Browsers refuse a script or a module that is not called one.
fn media_type(path: &str) -> &'static str {
    match path.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "webmanifest" => "application/manifest+json",
        "json" => "application/json",
        "png" => "image/png",
        "svg" => "image/svg+xml",
        "woff2" => "font/woff2",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}
