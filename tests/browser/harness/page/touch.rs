//! Touching: real presses at a place, by finger, key and paste.

use std::path::PathBuf;

use serde_json::{Value, json};
use thirtyfour::common::command::{Actions, Command};

use super::Page;

impl Page {
    /// Presses and releases the middle of the one thing with this role and name, then lets
    /// everything happen that is due. The name may be its beginning only.
    pub async fn tap(&self, role: &str, name: &str) {
        let mut control = self.the(role, name).await;
        assert!(!control.disabled, "{role} \"{name}\" is switched off");
        let (x, y) = control.rect.centre();
        if self.scroll_to(x, y).await {
            control = self.the(role, name).await;
        }
        let (x, y) = control.rect.centre();
        self.touch_at(x, y).await;
    }

    /// Scrolls a place that is out of view into it, as a person would. Says whether anything moved:
    /// what stands still then is found where it was.
    pub async fn scroll_to(&self, x: f64, y: f64) -> bool {
        let moved = self.eval(&format!("__clock.eyes.bring({x}, {y})")).await;
        moved.as_f64().unwrap_or_default() != 0.0
    }

    /// As `tap`, but nothing that is due is let happen: the page does only what the browser makes
    /// it do by itself.
    pub async fn tap_only(&self, role: &str, name: &str) {
        let (x, y) = self.the(role, name).await.rect.centre();
        self.finger(&[json!({ "type": "pointerDown", "button": 0 })], x, y).await;
    }

    /// Presses and releases this point.
    pub async fn touch_at(&self, x: f64, y: f64) {
        self.finger(&[json!({ "type": "pointerDown", "button": 0 })], x, y).await;
        self.settle().await;
    }

    /// Presses this thing, slides off it far enough and releases there.
    pub async fn press_and_slide_off(&self, role: &str, name: &str) {
        let rect = self.the(role, name).await.rect;
        let (x, y) = rect.centre();
        // Along the side where there is more room.
        let up = rect.y > 60.0;
        let aside = if up { rect.y - 40.0 } else { rect.y + rect.height + 40.0 };
        let slide = [json!({ "type": "pointerDown", "button": 0 }), step_to(x, aside)];
        self.finger(&slide, x, y).await;
        self.settle().await;
    }

    /// Presses this thing, lets the page's time pass with the finger on it, and releases.
    pub async fn hold(&self, role: &str, name: &str, seconds: f64) {
        let (x, y) = self.the(role, name).await.rect.centre();
        let point = json!([{ "x": x, "y": y }]);
        let down = json!({ "type": "touchStart", "touchPoints": point });
        self.cdp("Input.dispatchTouchEvent", down).await;
        self.advance(seconds).await;
        let up = json!({ "type": "touchEnd", "touchPoints": [] });
        self.cdp("Input.dispatchTouchEvent", up).await;
        self.settle().await;
    }

    /// Chooses files where the page has asked for some: as the browser's own picker does it.
    pub async fn choose(&self, files: &[PathBuf]) {
        let asked = json!({ "expression": "__clock.asked()" });
        let input = self.cdp("Runtime.evaluate", asked).await;
        let input = &input["result"]["objectId"];
        let chosen = json!({ "files": files, "objectId": input });
        self.cdp("DOM.setFileInputFiles", chosen).await;
        self.settle().await;
    }

    async fn finger(&self, then: &[Value], x: f64, y: f64) {
        self.focus().await;
        let mut actions = vec![step_to(x, y)];
        actions.extend_from_slice(then);
        actions.push(json!({ "type": "pointerUp", "button": 0 }));
        let kind = if self.touch.get() { "touch" } else { "mouse" };
        let finger = json!([{
            "type": "pointer", "id": "finger", "parameters": { "pointerType": kind },
            "actions": actions,
        }]);
        let done = self.web.cmd(Command::PerformActions(Actions::from(finger))).await;
        done.expect("the finger moves");
    }

    /// Presses and releases a key: a character, or `Enter`, `PageUp`, `F9` and so on.
    pub async fn key(&self, key: &str) {
        self.key_held(key, 0).await;
    }

    /// Presses a key, which repeats so often before it is released.
    pub async fn key_held(&self, key: &str, repeats: u32) {
        let (code, number, text) = keyed(key);
        let event = |kind: &str, repeat: bool| {
            json!({
                "type": kind, "key": key, "code": code, "windowsVirtualKeyCode": number,
                "text": if kind == "keyDown" { text.as_str() } else { "" }, "autoRepeat": repeat,
            })
        };
        self.cdp("Input.dispatchKeyEvent", event("keyDown", false)).await;
        for _ in 0..repeats {
            self.cdp("Input.dispatchKeyEvent", event("keyDown", true)).await;
        }
        self.cdp("Input.dispatchKeyEvent", event("keyUp", false)).await;
        self.settle().await;
    }

    /// Types a text, key by key.
    pub async fn type_text(&self, text: &str) {
        for letter in text.chars() {
            self.key(&letter.to_string()).await;
        }
    }

    /// Pastes a text where the focus is, from the clipboard.
    pub async fn paste(&self, text: &str) {
        let grant = json!({ "permissions": ["clipboardReadWrite", "clipboardSanitizedWrite"] });
        self.cdp("Browser.grantPermissions", grant).await;
        self.eval(&format!("navigator.clipboard.writeText({})", json!(text))).await;
        let paste = json!({
            "type": "rawKeyDown", "key": "v", "code": "KeyV", "windowsVirtualKeyCode": 86,
            "modifiers": 2, "commands": ["paste"],
        });
        self.cdp("Input.dispatchKeyEvent", paste).await;
        let up = json!({ "type": "keyUp", "key": "v", "code": "KeyV", "modifiers": 2 });
        self.cdp("Input.dispatchKeyEvent", up).await;
        self.settle().await;
    }
}

fn step_to(x: f64, y: f64) -> Value {
    json!({ "type": "pointerMove", "duration": 0, "x": x.round(), "y": y.round(), "origin": "viewport" })
}

/// The place of a key, its number, and the text it writes.
fn keyed(key: &str) -> (String, u32, String) {
    let named = |number: u32, text: &str| (key.to_owned(), number, text.to_owned());
    match key {
        " " => ("Space".to_owned(), 32, " ".to_owned()),
        "Enter" => named(13, "\r"),
        "Tab" => named(9, ""),
        "Escape" => named(27, ""),
        "Backspace" => named(8, ""),
        "PageUp" => named(33, ""),
        "PageDown" => named(34, ""),
        "End" => named(35, ""),
        "Home" => named(36, ""),
        "ArrowLeft" => named(37, ""),
        "ArrowUp" => named(38, ""),
        "ArrowRight" => named(39, ""),
        "ArrowDown" => named(40, ""),
        _ => {
            let mut letters = key.chars();
            let (first, alone) = (letters.next().unwrap_or(' '), letters.next().is_none());
            let upper = first.to_ascii_uppercase();
            let code = if first.is_ascii_digit() {
                format!("Digit{first}")
            } else {
                format!("Key{upper}")
            };
            // A key with a longer name, such as a pedal's, is known by its name only.
            // The number of a point is the one of the key Delete.
            let number = if first.is_ascii_alphanumeric() { u32::from(upper) } else { 0 };
            if alone { (code, number, key.to_owned()) } else { named(0, "") }
        }
    }
}
