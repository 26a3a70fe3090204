//! One request and its answer, with what every host sends: a tag of the content, so that nothing is
//! sent again that the browser still holds.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::{BufRead, BufReader, Error, ErrorKind, Result, Write};
use std::net::TcpStream;
use std::sync::{Mutex, MutexGuard};

use super::site::{Asked, Site, media_type};

/// Reads one request and answers it, unless the server goes down meanwhile.
pub fn answer(connection: &mut BufReader<TcpStream>, site: &Mutex<Site>) -> Result<()> {
    let Some(Request { method, path, held }) = request(connection)? else { return Ok(()) };
    let file = lock(site)?.file_meant(&path);
    let wait = file.as_ref().and_then(|file| lock(site).ok()?.slow.get(file).copied());
    if let Some(wait) = wait {
        std::thread::sleep(wait);
    }
    let short = file.as_ref().and_then(|file| lock(site).ok()?.compressed.get(file).cloned());
    let encoding = if short.is_some() { "Content-Encoding: br\r\n" } else { "" };
    let found = short.or_else(|| file.as_deref().and_then(|file| lock(site).ok()?.bytes(file)));
    let tag = found.as_deref().map(tag).unwrap_or_default();
    let (status, body) = match found {
        Some(_) if held == tag => (304, Vec::new()),
        Some(bytes) => (200, bytes),
        None => (404, b"not here".to_vec()),
    };
    let media =
        if status == 404 { "text/plain" } else { media_type(file.as_deref().unwrap_or("")) };
    {
        let mut site = lock(site)?;
        if !site.up {
            return Ok(());
        }
        site.asked.push(Asked { path, status, bytes: body.len() });
    }
    let reason = match status {
        200 => "OK",
        304 => "Not Modified",
        _ => "Not Found",
    };
    let length = body.len();
    let to = connection.get_mut();
    write!(to, "HTTP/1.1 {status} {reason}\r\nContent-Type: {media}\r\n{encoding}")?;
    if !tag.is_empty() {
        write!(to, "ETag: {tag}\r\n")?;
    }
    write!(to, "Content-Length: {length}\r\nConnection: close\r\n\r\n")?;
    if method != "HEAD" {
        to.write_all(&body)?;
    }
    to.flush()
}

fn lock(site: &Mutex<Site>) -> Result<MutexGuard<'_, Site>> {
    site.lock().map_err(|_| Error::from(ErrorKind::Other))
}

/// The tag of this content.
fn tag(bytes: &[u8]) -> String {
    let mut hasher = DefaultHasher::new();
    bytes.hash(&mut hasher);
    format!("\"{:016x}\"", hasher.finish())
}

struct Request {
    method: String,
    path: String,
    /// The tag of what the browser holds already.
    held: String,
}

/// A request, or nothing if the connection was never used.
fn request(connection: &mut BufReader<TcpStream>) -> Result<Option<Request>> {
    let mut first = String::new();
    if connection.read_line(&mut first)? == 0 {
        return Ok(None);
    }
    let (mut header, mut held) = (String::from("more"), String::new());
    while !header.trim().is_empty() {
        header.clear();
        connection.read_line(&mut header)?;
        if let Some((name, tag)) = header.split_once(':')
            && name.eq_ignore_ascii_case("If-None-Match")
        {
            tag.trim().clone_into(&mut held);
        }
    }
    let mut words = first.split_whitespace();
    let method = words.next().unwrap_or_default().to_owned();
    let target = words.next().unwrap_or_default();
    let path = target.split(['?', '#']).next().unwrap_or_default().to_owned();
    Ok(Some(Request { method, path, held }))
}
