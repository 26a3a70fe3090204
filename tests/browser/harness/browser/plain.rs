//! Chromium without a driver. A page that somebody looks into is never discarded, and a driver looks
//! into every page: here only those are looked into that are asked for, and only for so long.

use std::process::Command;
use std::time::Duration;

use serde_json::{Value, json};

use super::{Browser, start};
use crate::harness::reach::Bidi;

/// A browser that was started on a profile, alone.
#[derive(Debug)]
pub struct Plain {
    /// Where it listens: `127.0.0.1:1234`.
    host: String,
    browser: Bidi,
    number: u32,
}

impl Browser {
    /// Opens Chromium on the profile, which nothing else has open, with its pages about itself.
    pub async fn open_plain(&mut self) -> Plain {
        self.allow_pages_about_itself();
        let told = self.profile.join("DevToolsActivePort");
        let _ = std::fs::remove_file(&told);
        let mut command = Command::new("bash");
        // It prints nothing where it is heard: a shell says for it that it begins.
        command.args(["-c", "echo begins; exec chromium \"$@\"", "chromium"]);
        command.args(start::SWITCHES.iter().filter(|switch| !switch.contains("debugging")));
        command.args(["--remote-debugging-port=0", "about:blank"]);
        command.arg(format!("--user-data-dir={}", self.profile.display())).env("TZ", "UTC");
        let (number, _) = self.group.start(&mut command, "begins").expect("a shell");
        for _ in 0..400 {
            let lines = std::fs::read_to_string(&told).unwrap_or_default();
            if let Some((port, path)) = lines.trim().split_once('\n') {
                let host = format!("127.0.0.1:{port}");
                let browser = Bidi::reached(&format!("ws://{host}{path}"));
                return Plain { host, browser, number };
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        panic!("Chromium does not start without a driver");
    }

    /// Ends it at once. The profile stays.
    pub fn end_plain(&mut self, plain: Plain) {
        let Plain { number, .. } = plain;
        self.group.end(number);
        self.until_all_have_ended();
    }

    fn allow_pages_about_itself(&self) {
        let path = self.profile.join("Local State");
        let text = std::fs::read_to_string(&path).expect("the profile has been in use");
        let mut state: Value = serde_json::from_str(&text).expect("it is plain data");
        state["internal_only_uis_enabled"] = json!(true);
        std::fs::write(&path, state.to_string()).expect("room for it");
    }
}

impl Plain {
    /// Opens a page in a window in front of the others. Gives its name.
    pub fn open(&self, address: &str) -> String {
        let opened = self.browser.ask("Target.createTarget", json!({ "url": address }));
        let opened = opened.expect("it opens")["targetId"].take();
        opened.as_str().expect("a name").to_owned()
    }

    /// Brings the page at this address in front. Gives its name, which a discarded page does not keep.
    pub fn bring(&self, address: &str) -> String {
        let all = self.browser.ask("Target.getTargets", json!({})).expect("a list");
        let all = all["targetInfos"].as_array().into_iter().flatten();
        let is_there = |one: &&Value| one["url"].as_str().unwrap_or_default().starts_with(address);
        let page = all.filter(|one| one["type"] == "page").find(is_there);
        let name = page.expect("it is open")["targetId"].as_str().expect("a name").to_owned();
        let brought = self.browser.ask("Target.activateTarget", json!({ "targetId": name }));
        brought.expect("it is in front");
        name
    }

    /// Waits until an expression holds in a page. Nobody looks into it any more afterwards.
    pub async fn until(&self, page: &str, condition: &str) {
        let looking = Bidi::reached(&format!("ws://{}/devtools/page/{page}", self.host));
        let question =
            json!({ "expression": condition, "awaitPromise": true, "returnByValue": true });
        let mut came = Value::Null;
        for _ in 0..300 {
            came = looking.ask("Runtime.evaluate", question.clone()).expect("an answer");
            if came["result"]["value"] == true {
                return;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        let words = json!({ "expression": "document.body.innerText", "returnByValue": true });
        let words = looking.ask("Runtime.evaluate", words);
        panic!("waited in vain for: {condition}\nit came to {came}; on the screen: {words:?}");
    }
}
