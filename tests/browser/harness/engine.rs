//! Which browser the tests run in.

/// The three engines that browsers are made of.
///
/// Which test runs in which, and why, stands in `tests/browser/engines.csv`, which `tests/run` reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Engine {
    /// Chromium with its driver.
    Chromium,
    /// Firefox ESR with geckodriver.
    Firefox,
    /// `WebKitGTK` with its driver, in the window that `window.py` opens.
    WebKit,
}

impl Engine {
    /// The one that `SINKSIDE_ENGINE` names; Chromium if it names none.
    pub fn chosen() -> Self {
        match std::env::var("SINKSIDE_ENGINE").as_deref() {
            Err(_) | Ok("" | "chromium") => Self::Chromium,
            Ok("firefox") => Self::Firefox,
            Ok("webkit") => Self::WebKit,
            Ok(other) => panic!("SINKSIDE_ENGINE is {other}: not chromium, firefox or webkit"),
        }
    }

    /// What only this engine says of itself to a page.
    pub fn agent(self) -> &'static str {
        match self {
            Self::Chromium => "Chrome/",
            Self::Firefox => "Firefox/",
            Self::WebKit => "Version/",
        }
    }
}
