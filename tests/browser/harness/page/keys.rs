//! Keys and the clipboard.

use serde_json::{Value, json};

use super::Page;
use crate::harness::reach::{Reach, order};

impl Page {
    /// Presses and releases a key: a character, or `Enter`, `PageUp`, `F9` and so on.
    pub async fn key(&self, key: &str) {
        self.key_held(key, 0).await;
    }

    /// Presses a key, which repeats so often before it is released.
    pub async fn key_held(&self, key: &str, repeats: u32) {
        self.key_down(key, false).await;
        for _ in 0..repeats {
            self.key_down(key, true).await;
        }
        self.key_up(key).await;
        self.settle().await;
    }

    /// Presses a key, or lets a pressed one repeat, and keeps it down.
    pub async fn key_down(&self, key: &str, repeat: bool) {
        if let Reach::Chromium = self.reach {
            let text = keyed(key).2;
            self.cdp("Input.dispatchKeyEvent", event("keyDown", key, &text, repeat)).await;
        } else {
            self.keys(json!([{ "type": "keyDown", "value": letter(key) }])).await;
        }
    }

    /// Releases a key.
    pub async fn key_up(&self, key: &str) {
        if let Reach::Chromium = self.reach {
            self.cdp("Input.dispatchKeyEvent", event("keyUp", key, "", false)).await;
        } else {
            self.keys(json!([{ "type": "keyUp", "value": letter(key) }])).await;
        }
    }

    async fn keys(&self, actions: Value) {
        self.act(json!([{ "type": "key", "id": "keys", "actions": actions }])).await;
    }

    /// Types a text, key by key.
    pub async fn type_text(&self, text: &str) {
        for letter in text.chars() {
            self.key(&letter.to_string()).await;
        }
    }

    /// Pastes a text where the focus is, from the clipboard.
    pub async fn paste(&self, text: &str) {
        let copy = format!("navigator.clipboard.writeText({})", json!(text));
        match &self.reach {
            Reach::Chromium => {
                let grant = ["clipboardReadWrite", "clipboardSanitizedWrite"];
                self.cdp("Browser.grantPermissions", json!({ "permissions": grant })).await;
                self.eval(&copy).await;
                let mut paste = event("rawKeyDown", "v", "", false);
                paste["modifiers"] = json!(2);
                paste["commands"] = json!(["paste"]);
                self.cdp("Input.dispatchKeyEvent", paste).await;
                let mut up = event("keyUp", "v", "", false);
                up["modifiers"] = json!(2);
                self.cdp("Input.dispatchKeyEvent", up).await;
            }
            Reach::Firefox(_) => {
                self.eval(&copy).await;
                self.press_control_v().await;
            }
            Reach::WebKit(profile) => {
                order(profile, "clipboard.txt", text).await;
                self.press_control_v().await;
            }
        }
        self.settle().await;
    }

    async fn press_control_v(&self) {
        let key = |kind: &str, value: &str| json!({ "type": kind, "value": value });
        let control = "\u{e009}";
        let downs = [key("keyDown", control), key("keyDown", "v")];
        let ups = [key("keyUp", "v"), key("keyUp", control)];
        self.keys(json!([downs, ups].concat())).await;
    }
}

/// A move of a key in Chromium's own protocol.
fn event(kind: &str, key: &str, text: &str, repeat: bool) -> Value {
    let (code, number, _) = keyed(key);
    json!({
        "type": kind, "key": key, "code": code, "windowsVirtualKeyCode": number, "text": text,
        "autoRepeat": repeat,
    })
}

/// A key as drivers write it: itself, or a letter that stands for its name.
fn letter(key: &str) -> String {
    let named = match key {
        "Backspace" => '\u{e003}',
        "Tab" => '\u{e004}',
        "Enter" => '\u{e007}',
        "Escape" => '\u{e00c}',
        "PageUp" => '\u{e00e}',
        "PageDown" => '\u{e00f}',
        "End" => '\u{e010}',
        "Home" => '\u{e011}',
        "ArrowLeft" => '\u{e012}',
        "ArrowUp" => '\u{e013}',
        "ArrowRight" => '\u{e014}',
        "ArrowDown" => '\u{e015}',
        "F9" => '\u{e039}',
        _ => return key.to_owned(),
    };
    named.to_string()
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
