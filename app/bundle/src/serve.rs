//! A plain static server: what is in the folder is answered, anything else is not found.
//!
//! It never answers a missing file with the page. A worker that did not know better would keep
//! that page under the name of a script.

mod answer;
mod request;

use std::io::{self, Read as _, Write as _};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::thread;
use std::time::Duration;

use answer::Answer;

/// A request head longer than this comes from no browser we serve.
const LONGEST_HEAD: usize = 16_384;

/// How long a connection may stay silent before it is dropped.
const PATIENCE: Duration = Duration::from_secs(10);

/// Answers every connection from the files in `folder` until the process ends.
pub fn serve(listener: &TcpListener, folder: &Path) {
    thread::scope(|scope| {
        for stream in listener.incoming().flatten() {
            // A browser that goes away in the middle is its own affair.
            scope.spawn(move || converse(stream, folder));
        }
    });
}

/// One question, one answer. A connection is not kept, so no state is either.
fn converse(mut stream: TcpStream, folder: &Path) -> io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let head = read_head(&mut stream)?;
    let answer = answer::to(&head, folder);
    write_answer(&mut stream, &answer)
}

fn read_head(stream: &mut TcpStream) -> io::Result<String> {
    let mut head = Vec::new();
    let mut part = [0; 1024];
    while head.len() < LONGEST_HEAD && !head.windows(4).any(|end| end == b"\r\n\r\n") {
        match stream.read(&mut part)? {
            0 => break,
            read => head.extend_from_slice(&part[..read]),
        }
    }
    Ok(String::from_utf8_lossy(&head).into_owned())
}

fn write_answer(stream: &mut TcpStream, answer: &Answer) -> io::Result<()> {
    let Answer { status, media_type, length, body } = answer;
    // `no-cache`: a build that changed must be seen at once; keeping files is the worker's work.
    write!(
        stream,
        "HTTP/1.1 {status}\r\n\
         Content-Type: {media_type}\r\n\
         Content-Length: {length}\r\n\
         Cache-Control: no-cache\r\n\
         X-Content-Type-Options: nosniff\r\n\
         Connection: close\r\n\r\n"
    )?;
    stream.write_all(body)?;
    stream.flush()
}

#[cfg(test)]
mod tests;
