use std::fs;
use std::path::PathBuf;

use super::*;

#[test]
fn a_file_comes_with_the_name_browsers_insist_on() {
    check("GET /", "200 OK", "text/html; charset=utf-8", "the page");
    check("GET /?from=home", "200 OK", "text/html; charset=utf-8", "the page");
    check("GET /page_bg.wasm", "200 OK", "application/wasm", "module");
    check("GET /sinkside.webmanifest", "200 OK", "application/manifest+json", "{}");
}

#[test]
fn a_missing_file_is_never_answered_with_the_page() {
    check("GET /page-old.js", "404 Not Found", "text/plain; charset=utf-8", "not found\n");
    check("GET /fonts", "404 Not Found", "text/plain; charset=utf-8", "not found\n");
}

#[test]
fn the_folder_cannot_be_left() {
    check("GET /../main.rs", "404 Not Found", "text/plain; charset=utf-8", "not found\n");
    check("GET /%2e%2e/main.rs", "404 Not Found", "text/plain; charset=utf-8", "not found\n");
}

#[test]
fn nothing_can_be_written() {
    check("PUT /", "405 Method Not Allowed", "text/plain; charset=utf-8", "only GET and HEAD\n");
}

#[test]
fn asking_only_about_a_file_gives_its_length_without_it() {
    let answer = ask("HEAD /page_bg.wasm");

    assert!(answer.contains("Content-Length: 6\r\n"), "{answer}");
    assert!(answer.ends_with("\r\n\r\n"), "{answer}");
}

#[test]
fn browsers_are_told_to_ask_again() {
    assert!(ask("GET /").contains("\r\nCache-Control: no-cache\r\n"));
}

#[track_caller]
fn check(line: &str, status: &str, media_type: &str, body: &str) {
    let answer = ask(line);
    assert!(answer.starts_with(&format!("HTTP/1.1 {status}\r\n")), "{answer}");
    assert!(answer.contains(&format!("\r\nContent-Type: {media_type}\r\n")), "{answer}");
    assert!(answer.ends_with(&format!("\r\n\r\n{body}")), "{answer}");
}

/// What a browser would read after asking `line`, over a real connection.
fn ask(line: &str) -> String {
    let folder = folder();
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let mut browser = TcpStream::connect(listener.local_addr().unwrap()).unwrap();
    write!(browser, "{line} HTTP/1.1\r\nHost: localhost\r\n\r\n").unwrap();
    let (stream, _) = listener.accept().unwrap();
    converse(stream, &folder).unwrap();

    let mut answer = String::new();
    browser.read_to_string(&mut answer).unwrap();
    answer
}

/// Tests run side by side, so the files are written once.
fn folder() -> PathBuf {
    static FOLDER: std::sync::OnceLock<PathBuf> = std::sync::OnceLock::new();
    FOLDER
        .get_or_init(|| {
            let name = format!("sinkside-{}-served", std::process::id());
            let folder = std::env::temp_dir().join(name);
            fs::create_dir_all(folder.join("fonts")).unwrap();
            for (name, content) in [
                ("index.html", "the page"),
                ("page_bg.wasm", "module"),
                ("sinkside.webmanifest", "{}"),
            ] {
                fs::write(folder.join(name), content).unwrap();
            }
            folder.canonicalize().unwrap()
        })
        .clone()
}
