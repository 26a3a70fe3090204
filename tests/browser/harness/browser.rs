//! The browser: started, killed, started again on the same profile, and gone with the test, or kept
//! for the next.

mod group;
pub mod kept;
mod plain;
mod start;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use group::Group;
use start::Driver;
use thirtyfour::{Capabilities, WebDriver};

use crate::harness::engine::Engine;
use crate::harness::reach::{Bidi, Reach};
use crate::harness::scene::{Scene, Speech};
use crate::harness::server::Server;

/// So often a driver and a browser are started before a test gives up: a start that fails says
/// nothing about the page.
const STARTS: u32 = 5;

/// A driver, and at most one browser at a time.
#[derive(Debug)]
pub struct Browser {
    engine: Engine,
    group: Group,
    driver: Option<Driver>,
    profile: PathBuf,
    colours: &'static str,
    synthesiser: bool,
    process: Option<u64>,
    /// The session it was kept with, until a test opens it.
    session: Option<(WebDriver, Reach)>,
    /// The host that its profile knows from an earlier test, until another test takes it.
    pub host: Option<Server>,
    /// How many tests have had it.
    tests: u32,
    /// Whether it does for another test.
    is_for_any: bool,
}

impl Browser {
    /// A browser for a phone like this: one that another test has left whole, or one still to be
    /// started on a new, empty profile.
    pub fn of(scene: &Scene) -> Self {
        let kept = if kept::is_for_any(scene, Engine::chosen()) { kept::take() } else { None };
        kept.unwrap_or_else(|| Self::new(scene))
    }

    /// A browser still to be started, on a new, empty profile.
    pub fn new(scene: &Scene) -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = format!("sinkside-browser-{}-{count}.profile", std::process::id());
        let profile = std::env::temp_dir().join(name);
        std::fs::create_dir_all(profile.join("saved")).expect("room for a profile");
        let (engine, group) = (Engine::chosen(), Group::new(&profile));
        let synthesiser = scene.speech == Speech::Synthesiser;
        if synthesiser {
            start::lay_out_synthesiser(&profile);
        }
        let colours = scene.colours;
        Self {
            engine,
            group,
            driver: None,
            profile,
            colours,
            synthesiser,
            process: None,
            session: None,
            host: None,
            tests: 0,
            is_for_any: kept::is_for_any(scene, engine),
        }
    }

    /// Opens a browser on the profile, or the one that is open already since an earlier test.
    pub async fn open(&mut self) -> (WebDriver, Reach) {
        if let Some(session) = self.session.take() {
            return session;
        }
        self.start().await
    }

    async fn start(&mut self) -> (WebDriver, Reach) {
        let mut wanted = Capabilities::new();
        for (name, value) in
            start::wanted(self.engine, &self.profile, self.colours, self.synthesiser)
        {
            wanted.set(name, value).expect("a capability");
        }
        // The driver is on this machine: no proxy has a say in it.
        let client = reqwest::Client::builder().no_proxy().timeout(Duration::from_mins(1));
        let client = client.build().expect("a client");
        let mut tries = 1;
        let web = loop {
            let address = format!("http://127.0.0.1:{}", self.driver().port);
            let client = client.clone();
            match WebDriver::builder(address.as_str(), wanted.clone()).client(client).await {
                Ok(web) => break web,
                Err(error) => {
                    assert!(tries < STARTS, "{:?} does not start: {error}", self.engine);
                }
            }
            let _ = end(&processes_of(&self.profile));
            self.end_driver();
            tries += 1;
        };
        let told = |name: &str| web.capabilities().get(name).cloned().unwrap_or_default();
        let (process, reach) = match self.engine {
            Engine::Chromium => (told("goog:processID").as_u64(), Reach::Chromium),
            Engine::Firefox => {
                let socket = told("webSocketUrl");
                let bidi = Bidi::reached(socket.as_str().expect("the browser speaks both ways"));
                (told("moz:processID").as_u64(), Reach::Firefox(Arc::new(bidi)))
            }
            Engine::WebKit => {
                let process = processes_of(&self.profile).first().copied();
                (process, Reach::WebKit(self.profile.clone()))
            }
        };
        self.process = process;
        // The processes are ended below; nobody needs to take leave of them.
        web.clone().leak().expect("it has not quit");
        (web, reach)
    }

    fn driver(&mut self) -> Driver {
        let (engine, group) = (self.engine, &mut self.group);
        let home = self.synthesiser.then_some(self.profile.as_path());
        *self.driver.get_or_insert_with(|| {
            let started = (1..=STARTS).find_map(|_| start::driver(engine, group, home));
            started.unwrap_or_else(|| panic!("the driver of {engine:?} does not start"))
        })
    }

    fn end_driver(&mut self) {
        if let Some(driver) = self.driver.take() {
            self.group.end(driver.number);
        }
    }

    /// Whether a browser is open.
    pub fn is_open(&self) -> bool {
        self.process.is_some()
    }

    /// The folder that outlives a kill and not the test. What the page gives out as a file lies in
    /// its folder `saved`.
    pub fn profile(&self) -> &Path {
        &self.profile
    }

    /// Closes the browser as a person does. The profile stays.
    pub async fn close(&mut self, web: &WebDriver) {
        // The answer may be cut off by what was asked for.
        let _ = web.cdp().send_raw("Browser.close", serde_json::json!({})).await;
        (self.process, self.is_for_any) = (None, false);
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
        self.is_for_any = false;
        assert!(end(&[process]), "the browser had gone already");
        self.until_all_have_ended();
        // Drivers of one browser only still believe in it.
        if self.engine != Engine::Chromium {
            self.end_driver();
        }
    }

    fn until_all_have_ended(&self) {
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
        self.end_driver();
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

/// Ends these processes at once. Says whether they were there.
fn end(processes: &[u64]) -> bool {
    let numbers = processes.iter().map(u64::to_string);
    let mut kill = Command::new("bash");
    kill.args(["-c", "kill -9 -- \"$@\"", "kill"]).args(numbers).stderr(Stdio::null());
    kill.status().is_ok_and(|status| status.success())
}

/// The processes that were started on this profile and have not ended, the oldest first: named by it,
/// or at home in it.
pub fn processes_of(profile: &Path) -> Vec<u64> {
    let name = profile.display().to_string();
    let all = std::fs::read_dir("/proc").expect("processes are listed").flatten();
    let of_profile = all.filter(|process| {
        ["cmdline", "environ"].iter().any(|told| {
            let told = std::fs::read(process.path().join(told)).unwrap_or_default();
            String::from_utf8_lossy(&told).contains(&name)
        })
    });
    let numbers = of_profile.filter_map(|process| process.file_name().to_str()?.parse().ok());
    let mut numbers: Vec<u64> = numbers.collect();
    numbers.sort_unstable();
    numbers
}
