//! The first line of a request: what is asked, and for which file.

/// What the browser wants done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// The file.
    Get,
    /// Only what would be said about the file.
    Head,
}

/// What the browser asks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// What it wants done.
    pub method: Method,
    /// The file, relative to the folder served; never one that leads out of it.
    pub path: String,
}

/// Why a request is not answered with a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// Not HTTP, or an address that is not spelt as one.
    Unreadable,
    /// Something other than reading.
    NotReading,
    /// The address leads out of the folder.
    Outside,
}

/// Reads the head of a request.
///
/// # Errors
///
/// A [`Refusal`] if there is no file that could be meant.
pub fn read(head: &str) -> Result<Request, Refusal> {
    let mut words = head.lines().next().unwrap_or_default().split(' ');
    let (Some(method), Some(target), Some(version)) = (words.next(), words.next(), words.next())
    else {
        return Err(Refusal::Unreadable);
    };
    if !version.starts_with("HTTP/1.") || !target.starts_with('/') {
        return Err(Refusal::Unreadable);
    }
    let method = match method {
        "GET" => Method::Get,
        "HEAD" => Method::Head,
        _ => return Err(Refusal::NotReading),
    };
    Ok(Request { method, path: file_path(target)? })
}

/// The file behind an address: without its query, with its escapes undone, `index.html` for a
/// folder.
fn file_path(target: &str) -> Result<String, Refusal> {
    let address = target.split(['?', '#']).next().unwrap_or_default();
    let address = unescape(address).ok_or(Refusal::Unreadable)?;
    let path = address.trim_start_matches('/');
    let leads_out = |part: &str| part == ".." || part == "." || part.contains(['\\', '\0', ':']);
    if path.split('/').any(leads_out) {
        return Err(Refusal::Outside);
    }
    let index = if path.is_empty() || path.ends_with('/') { "index.html" } else { "" };
    Ok(format!("{path}{index}"))
}

/// Undoes percent escapes; nothing if one is broken or the result is no text.
fn unescape(address: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(address.len());
    let mut rest = address.as_bytes();
    while let Some((first, after)) = rest.split_first() {
        if *first == b'%' {
            let digits = str::from_utf8(after.get(..2)?).ok()?;
            bytes.push(u8::from_str_radix(digits, 16).ok()?);
            rest = &after[2..];
        } else {
            bytes.push(*first);
            rest = after;
        }
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_means_its_page_and_a_query_means_nothing() {
        check("/", "index.html");
        check("/?source=home", "index.html");
        check("/sub/", "sub/index.html");
        check("/page.js?v=2", "page.js");
        check("/two%20words.txt", "two words.txt");
    }

    #[test]
    fn no_address_leads_out_of_the_folder() {
        refused("GET /../secret HTTP/1.1", Refusal::Outside);
        refused("GET /a/%2e%2e/secret HTTP/1.1", Refusal::Outside);
        refused("GET /a%5c..%5csecret HTTP/1.1", Refusal::Outside);
    }

    #[test]
    fn only_reading_is_answered() {
        refused("POST / HTTP/1.1", Refusal::NotReading);
        refused("GET http://other/ HTTP/1.1", Refusal::Unreadable);
        refused("GET /%zz HTTP/1.1", Refusal::Unreadable);
        refused("", Refusal::Unreadable);
    }

    #[track_caller]
    fn check(target: &str, path: &str) {
        let read = read(&format!("GET {target} HTTP/1.1\r\nHost: localhost\r\n\r\n"));
        assert_eq!(read, Ok(Request { method: Method::Get, path: path.to_owned() }));
    }

    #[track_caller]
    fn refused(line: &str, refusal: Refusal) {
        assert_eq!(read(line), Err(refusal));
    }
}
