//! How each engine is started: its driver, and what the driver is asked for.

use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::process::Command;
use std::time::Duration;

use serde_json::{Value, json};

use super::group::Group;
use crate::harness::engine::Engine;

/// What every start of Chromium is given. The pipe makes it end with its driver.
pub const SWITCHES: [&str; 12] = [
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
    // Pages of its own, such as what drops down from the address bar, and what it looks up for them:
    // a third of what a short test takes.
    "--disable-features=WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup,\
     SpareRendererForSitePerProcess,OptimizationHints,SegmentationPlatform,MediaRouter,Translate",
];

/// A driver that listens.
#[derive(Clone, Copy, Debug)]
pub struct Driver {
    /// The number of its process.
    pub number: u32,
    /// Where it listens on this machine.
    pub port: u16,
}

/// Starts a driver. `None` if it ended before it listened, as it does where another one took the
/// port that it had been given. `home` is where programs that the browser starts find their files, if
/// they are not to be the machine's.
pub fn driver(engine: Engine, group: &mut Group, home: Option<&Path>) -> Option<Driver> {
    match engine {
        Engine::Chromium => {
            let mut command = Command::new("chromedriver");
            command.arg("--port=0").env("TZ", "UTC");
            if let Some(home) = home {
                command.env("HOME", home).env("XDG_RUNTIME_DIR", home);
                command.env("XDG_CONFIG_HOME", home.join(".config"));
            }
            let (number, port) = group.start(&mut command, "started successfully on port ")?;
            Some(Driver { number, port: port.trim_end_matches('.').parse().ok()? })
        }
        Engine::Firefox => {
            let mut command = Command::new("geckodriver");
            command.args(["--port=0", "--websocket-port=0"]).env("TZ", "UTC");
            command.env("MOZ_HEADLESS", "1");
            let (number, port) = group.start(&mut command, "Listening on 127.0.0.1:")?;
            Some(Driver { number, port: port.parse().ok()? })
        }
        Engine::WebKit => webkit_driver(group),
    }
}

/// A screen that nobody sees, and the driver on it. It does not say where it listens: it is told.
fn webkit_driver(group: &mut Group) -> Option<Driver> {
    let mut screen = Command::new("Xvfb");
    screen.args(["-displayfd", "1", "-screen", "0", "1400x1000x24", "-nolisten", "tcp"]);
    let (_, display) = group.start(&mut screen, "")?;
    let port = free_port()?;
    // It prints nothing: a shell says for it that it begins.
    let mut command = Command::new("bash");
    command.args([
        "-c",
        "echo begins; exec WebKitWebDriver --port=$1",
        "driver",
        &port.to_string(),
    ]);
    command.env("TZ", "UTC").env("DISPLAY", format!(":{display}")).env("GDK_BACKEND", "x11");
    // Programs of the desktop it would otherwise look for; and it does not lock itself in as root.
    command.env("NO_AT_BRIDGE", "1").env("DBUS_SESSION_BUS_ADDRESS", "disabled:");
    command.env("GIO_USE_VFS", "local").env("GSETTINGS_BACKEND", "memory");
    command.env("WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS", "1");
    let (number, _) = group.start(&mut command, "begins")?;
    for _ in 0..200 {
        if TcpStream::connect((Ipv4Addr::LOCALHOST, port)).is_ok() {
            return Some(Driver { number, port });
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    None
}

fn free_port() -> Option<u16> {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).ok()?;
    Some(listener.local_addr().ok()?.port())
}

/// What is asked of the driver: a browser on this profile, for a person who likes these colours.
pub fn wanted(
    engine: Engine,
    profile: &Path,
    colours: &str,
    synthesiser: bool,
) -> Vec<(&'static str, Value)> {
    let folder = profile.display().to_string();
    match engine {
        Engine::Chromium => {
            let mut switches = SWITCHES.map(str::to_owned).to_vec();
            switches.push(format!("--user-data-dir={folder}"));
            if synthesiser {
                switches.push("--enable-speech-dispatcher".to_owned());
            }
            let options = json!({ "args": switches });
            vec![("browserName", json!("chrome")), ("goog:chromeOptions", options)]
        }
        Engine::Firefox => {
            let options = json!({
                "args": ["-headless", "-profile", folder],
                "prefs": preferences(&folder, colours),
            });
            vec![("webSocketUrl", json!(true)), ("moz:firefoxOptions", options)]
        }
        Engine::WebKit => {
            let window = ::tests::repository().join("tests/browser/harness/window.py");
            let options = json!({ "binary": window, "args": [folder, colours] });
            vec![("webkitgtk:browserOptions", options)]
        }
    }
}

/// Lays out what the machine's synthesiser reads in its home: that it plays into nothing.
pub fn lay_out_synthesiser(home: &Path) {
    let there = Path::new("/usr/bin/speech-dispatcher").exists();
    assert!(there, "there is no synthesiser: run `tests/run browser`, which installs it");
    let folder = home.join(".config/speech-dispatcher");
    std::fs::create_dir_all(&folder).expect("room for a folder");
    let settings = "AudioOutputMethod \"alsa\"
AudioALSADevice \"default\"
AddModule \"espeak-ng\" \"sd_espeak-ng\" \"/etc/speech-dispatcher/modules/espeak-ng.conf\"
DefaultModule espeak-ng
";
    std::fs::write(folder.join("speechd.conf"), settings).expect("room for settings");
    let sound = "pcm.!default { type null }\nctl.!default { type null }\n";
    std::fs::write(home.join(".asoundrc"), sound).expect("room for settings");
}

/// What Firefox is set to.
fn preferences(folder: &str, colours: &str) -> Value {
    json!({
        "layout.css.prefers-color-scheme.content-override": i32::from(colours == "light"),
        "dom.w3c_touch_events.enabled": 1,
        "dom.events.testing.asyncClipboard": true,
        "ui.useOverlayScrollbars": 1,
        "intl.accept_languages": "en-GB",
        "browser.sessionstore.resume_from_crash": false,
        "toolkit.startup.max_resumed_crashes": -1,
        "browser.download.folderList": 2,
        "browser.download.dir": format!("{folder}/saved"),
        "browser.download.alwaysOpenPanel": false,
    })
}
