//! One request and its answer.

use std::io::{BufRead, BufReader, Error, ErrorKind, Result, Write};
use std::net::TcpStream;
use std::sync::{Mutex, MutexGuard};

use super::site::{Asked, Site, media_type};

/// Reads one request and answers it, unless the server goes down meanwhile.
pub fn answer(connection: &mut BufReader<TcpStream>, site: &Mutex<Site>) -> Result<()> {
    let Some((method, path)) = request(connection)? else { return Ok(()) };
    let file = lock(site)?.file_meant(&path);
    let wait = file.as_ref().and_then(|file| lock(site).ok()?.slow.get(file).copied());
    if let Some(wait) = wait {
        std::thread::sleep(wait);
    }
    let short = file.as_ref().and_then(|file| lock(site).ok()?.compressed.get(file).cloned());
    let encoding = if short.is_some() { "Content-Encoding: br\r\n" } else { "" };
    let found = short.or_else(|| file.as_deref().and_then(|file| lock(site).ok()?.bytes(file)));
    let (status, body) = found.map_or((404, b"not here".to_vec()), |bytes| (200, bytes));
    let media =
        if status == 200 { media_type(file.as_deref().unwrap_or("")) } else { "text/plain" };
    {
        let mut site = lock(site)?;
        if !site.up {
            return Ok(());
        }
        site.asked.push(Asked { path, status, bytes: body.len() });
    }
    let reason = if status == 200 { "OK" } else { "Not Found" };
    let length = body.len();
    let to = connection.get_mut();
    write!(to, "HTTP/1.1 {status} {reason}\r\nContent-Type: {media}\r\n{encoding}")?;
    write!(to, "Content-Length: {length}\r\nConnection: close\r\n\r\n")?;
    if method != "HEAD" {
        to.write_all(&body)?;
    }
    to.flush()
}

fn lock(site: &Mutex<Site>) -> Result<MutexGuard<'_, Site>> {
    site.lock().map_err(|_| Error::from(ErrorKind::Other))
}

/// The method and the path of a request, or nothing if the connection was never used.
fn request(connection: &mut BufReader<TcpStream>) -> Result<Option<(String, String)>> {
    let mut first = String::new();
    if connection.read_line(&mut first)? == 0 {
        return Ok(None);
    }
    let mut header = String::from("more");
    while !header.trim().is_empty() {
        header.clear();
        connection.read_line(&mut header)?;
    }
    let mut words = first.split_whitespace();
    let method = words.next().unwrap_or_default().to_owned();
    let target = words.next().unwrap_or_default();
    let path = target.split(['?', '#']).next().unwrap_or_default();
    Ok(Some((method, path.to_owned())))
}
