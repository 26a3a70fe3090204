//! The browser: started, killed, started again on the same profile, and gone with the test.

use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use serde_json::json;
use thirtyfour::{Capabilities, WebDriver};

/// What every start is given. The pipe makes the browser end with its driver, whatever ends that.
const SWITCHES: [&str; 11] = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--lang=en-GB",
    "--remote-debugging-pipe",
];

/// So often a driver and a browser are started before a test gives up: a start that fails says
/// nothing about the page.
const STARTS: u32 = 5;

/// A driver, and at most one browser at a time.
#[derive(Debug)]
pub struct Browser {
    driver: Child,
    // Kept open: the driver ends when it cannot print.
    _printed: BufReader<ChildStdout>,
    port: u16,
    profile: PathBuf,
    process: Option<u64>,
}

impl Browser {
    /// Starts a driver with a new, empty profile. It ends with the thread that calls this.
    pub fn new() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = format!("sinkside-browser-{}-{count}.profile", std::process::id());
        let profile = std::env::temp_dir().join(name);
        std::fs::create_dir_all(&profile).expect("room for a profile");
        let (driver, printed, port) = (1..=STARTS).find_map(|_| driver()).expect("a driver starts");
        Self { driver, _printed: printed, port, profile, process: None }
    }

    /// Opens a browser on the profile.
    pub async fn open(&mut self) -> WebDriver {
        let mut switches = SWITCHES.map(str::to_owned).to_vec();
        switches.push(format!("--user-data-dir={}", self.profile.display()));
        let mut wanted = Capabilities::new();
        wanted.set("browserName", "chrome").expect("a capability");
        wanted.set("goog:chromeOptions", json!({ "args": switches })).expect("a capability");
        // The driver is on this machine: no proxy has a say in it.
        let client = reqwest::Client::builder().no_proxy().timeout(Duration::from_mins(1));
        let client = client.build().expect("a client");
        let address = format!("http://127.0.0.1:{}", self.port);
        let mut tries = 1;
        let web = loop {
            let client = client.clone();
            match WebDriver::builder(address.as_str(), wanted.clone()).client(client).await {
                Ok(web) => break web,
                Err(error) => assert!(tries < STARTS, "the browser does not start: {error}"),
            }
            let _ = end(&processes_of(&self.profile));
            tries += 1;
        };
        let process = web.capabilities().get("goog:processID").and_then(serde_json::Value::as_u64);
        self.process = process;
        // The processes are ended below; nobody needs to take leave of them.
        web.clone().leak().expect("it has not quit");
        web
    }

    /// Whether a browser is open.
    pub fn is_open(&self) -> bool {
        self.process.is_some()
    }

    /// The folder that outlives a kill and not the test.
    pub fn profile(&self) -> &Path {
        &self.profile
    }

    /// Closes the browser as a person does. The profile stays.
    pub async fn close(&mut self, web: &WebDriver) {
        // The answer may be cut off by what was asked for.
        let _ = web.cdp().send_raw("Browser.close", json!({})).await;
        self.process = None;
        for _ in 0..500 {
            if processes_of(&self.profile).is_empty() {
                return;
            }
            std::thread::sleep(Duration::from_millis(10));
        }
        panic!("the browser does not close");
    }

    /// Kills the browser at once, as a phone does that wants its memory back. The profile stays.
    /// Returns when the last of its helpers has gone, too.
    pub fn kill(&mut self) {
        let process = self.process.take().expect("a browser is open");
        assert!(end(&[process]), "the browser had gone already");
        for _ in 0..300 {
            if processes_of(&self.profile).is_empty() {
                break;
            }
            std::thread::sleep(Duration::from_millis(10));
        }
        // The lock names a process that has gone. Where its number is in use again the next
        // start would be refused.
        for lock in ["SingletonLock", "SingletonCookie", "SingletonSocket"] {
            let _ = std::fs::remove_file(self.profile.join(lock));
        }
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if let Some(process) = self.process {
            let _ = end(&[process]);
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
        // The browser's own helpers end when it does, a little later.
        for waited in 0..100 {
            let left = processes_of(&self.profile);
            if left.is_empty() && std::fs::remove_dir_all(&self.profile).is_ok() {
                return;
            }
            if waited == 50 {
                let _ = end(&left);
            }
            std::thread::sleep(Duration::from_millis(30));
        }
    }
}

/// Starts a driver: itself, what it prints, and the port it says it took. `None` if it ended before
/// it had one, as it does where another driver took the port it had been given.
fn driver() -> Option<(Child, BufReader<ChildStdout>, u16)> {
    let mut driver = Command::new("setpriv")
        .args(["--pdeathsig", "KILL", "--", "chromedriver", "--port=0"])
        .env("TZ", "UTC")
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("setpriv and chromedriver are installed (util-linux, chromium-driver)");
    let mut printed = BufReader::new(driver.stdout.take().expect("it is piped"));
    for line in printed.by_ref().lines() {
        let line = line.expect("the driver prints text");
        if let Some((_, port)) = line.split_once("started successfully on port ") {
            let port = port.trim_end_matches('.').parse().expect("a number");
            return Some((driver, printed, port));
        }
    }
    let _ = driver.wait();
    None
}

/// Ends these processes at once. Says whether they were there.
fn end(processes: &[u64]) -> bool {
    let numbers = processes.iter().map(u64::to_string);
    let mut kill = Command::new("bash");
    kill.args(["-c", "kill -9 -- \"$@\"", "kill"]).args(numbers).stderr(Stdio::null());
    kill.status().is_ok_and(|status| status.success())
}

/// The processes that were started on this profile and have not ended.
pub fn processes_of(profile: &Path) -> Vec<u64> {
    let name = profile.display().to_string();
    let all = std::fs::read_dir("/proc").expect("processes are listed").flatten();
    let of_profile = all.filter(|process| {
        let line = std::fs::read(process.path().join("cmdline")).unwrap_or_default();
        String::from_utf8_lossy(&line).contains(&name)
    });
    of_profile.filter_map(|process| process.file_name().to_str()?.parse().ok()).collect()
}
