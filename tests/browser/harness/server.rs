//! A static host in the test's own process, which can be taken down and made to misbehave.
//!
//! It sends the bundle's own bytes and nothing else: no fallback page, no cache headers, every
//! answer on a connection of its own so that taking it down leaves nothing half open.

mod answer;
mod site;

use std::collections::BTreeSet;
use std::io::BufReader;
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard};
use std::thread::JoinHandle;
use std::time::Duration;

pub use site::Asked;
use site::Site;

/// The host. Up from the start; down for good when dropped.
#[derive(Debug)]
pub struct Server {
    port: u16,
    site: Arc<Mutex<Site>>,
    listening: Option<JoinHandle<()>>,
}

impl Server {
    /// Serves `root` on a free port of 127.0.0.1, under `prefix`, which begins and ends with a slash.
    pub fn under(root: PathBuf, prefix: &str) -> Self {
        assert!(prefix.starts_with('/') && prefix.ends_with('/'), "not a folder: {prefix}");
        let site = Arc::new(Mutex::new(Site::new(root, prefix)));
        let mut server = Self { port: 0, site, listening: None };
        server.up();
        server
    }

    /// The address of the page, with a slash at its end.
    pub fn address(&self) -> String {
        format!("{}{}", self.origin(), self.site().prefix)
    }

    /// Scheme, host and port.
    pub fn origin(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// Refuses connections from now on, and drops the answers under way.
    pub fn down(&mut self) {
        let Some(listening) = self.listening.take() else { return };
        self.harmed().up = false;
        // The listener is waiting for a connection: this one wakes it.
        drop(TcpStream::connect((Ipv4Addr::LOCALHOST, self.port)));
        listening.join().expect("the listener ends by itself");
    }

    /// Answers again, on the same port as before.
    pub fn up(&mut self) {
        if self.listening.is_some() {
            return;
        }
        let listener = if self.port == 0 { listener_of_its_own() } else { bound(self.port) };
        self.port = listener.local_addr().expect("an address").port();
        self.site().up = true;
        let site = Arc::clone(&self.site);
        self.listening = Some(std::thread::spawn(move || listen(&listener, &site)));
    }

    /// From now on `path` (relative to the page, as in the bundle) is not found.
    pub fn lose(&self, path: &str) {
        self.harmed().lost.insert(path.to_owned());
    }

    /// From now on `path` comes this much later.
    pub fn slow(&self, path: &str, by: Duration) {
        self.harmed().slow.insert(path.to_owned(), by);
    }

    /// From now on one byte in the middle of `path` is wrong.
    pub fn corrupt(&self, path: &str) {
        self.harmed().corrupt.insert(path.to_owned());
    }

    /// From now on `path` has these bytes instead of its own, or exists where it did not.
    pub fn overlay(&self, path: &str, bytes: impl Into<Vec<u8>>) {
        self.harmed().overlay.insert(path.to_owned(), bytes.into());
    }

    /// From now on the worker is a newer one: its `VERSION` differs and nothing else.
    pub fn second_version(&self) {
        let mut site = self.harmed();
        let worker = String::from_utf8(site.bytes("sw.js").expect("a worker")).expect("text");
        let newer = newer(&worker).expect("the worker says its VERSION as a quoted string");
        site.overlay.insert("sw.js".to_owned(), newer.into_bytes());
    }

    /// From now on files are sent as a host sends them that compresses ahead.
    pub fn compress(&self) {
        self.harmed().compress();
    }

    /// Every path serves its own bytes at once again.
    pub fn mend(&self) {
        let mut site = self.site();
        site.lost.clear();
        site.slow.clear();
        site.corrupt.clear();
        site.overlay.clear();
    }

    /// What was asked for since the last time this was called, in order.
    pub fn asked(&self) -> Vec<Asked> {
        std::mem::take(&mut self.site().asked)
    }

    /// Whether it serves this folder under this prefix.
    pub fn serves(&self, root: &Path, prefix: &str) -> bool {
        self.site().serves(root, prefix)
    }

    /// It is not met again: a test that begins with a first visit is about what the host sends, and may
    /// leave a worker's copies other than they came.
    pub fn is_for_one_test(&self) {
        self.site().harmed = true;
    }

    /// Whether it was up all the time, sent nothing but its own bytes, and may be met again.
    pub fn is_unharmed(&self) -> bool {
        !self.site().harmed
    }

    fn harmed(&self) -> MutexGuard<'_, Site> {
        let mut site = self.site();
        site.harmed = true;
        site
    }

    fn site(&self) -> MutexGuard<'_, Site> {
        self.site.lock().expect("no answer panics while it holds the site")
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.down();
    }
}

/// A listener on a port that no host of this process has had: what a browser keeps of one test's page
/// is never another's.
fn listener_of_its_own() -> TcpListener {
    static HAD: Mutex<BTreeSet<u16>> = Mutex::new(BTreeSet::new());
    loop {
        let listener = bound(0);
        let port = listener.local_addr().expect("an address").port();
        if HAD.lock().expect("nobody panics with it").insert(port) {
            return listener;
        }
    }
}

fn bound(port: u16) -> TcpListener {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port)).expect("a port")
}

/// The worker's source with another version in it.
fn newer(worker: &str) -> Option<String> {
    let name = worker.find("VERSION")?;
    let quote = name + worker[name..].find(['"', '\'', '`'])?;
    let (before, after) = worker.split_at(quote + 1);
    Some(format!("{before}newer-{after}"))
}

fn listen(listener: &TcpListener, site: &Arc<Mutex<Site>>) {
    for connection in listener.incoming() {
        if !site.lock().is_ok_and(|site| site.up) {
            return;
        }
        let Ok(connection) = connection else { continue };
        let site = Arc::clone(site);
        // A browser opens connections it may never use: each waits in a thread of its own.
        std::thread::spawn(move || {
            let _ = connection.set_read_timeout(Some(Duration::from_secs(20)));
            // A connection the browser drops half way is the browser's business.
            let _ = answer::answer(&mut BufReader::new(connection), &site);
        });
    }
}
