//! Touching: real presses at a place.

use std::path::PathBuf;

use serde_json::{Value, json};
use thirtyfour::common::command::{Actions, Command};

use super::Page;
use super::read::Control;
use crate::harness::reach::Reach;

impl Page {
    /// Presses and releases the middle of the one thing with this role and name, then lets
    /// everything happen that is due. The name may be its beginning only.
    pub async fn tap(&self, role: &str, name: &str) {
        self.tap_and_wait(role, name, 0.0).await;
    }

    /// The same, and lets so many seconds pass.
    pub async fn tap_and_wait(&self, role: &str, name: &str, seconds: f64) {
        let mut control = self.the(role, name).await;
        assert!(!control.disabled, "{role} \"{name}\" is switched off");
        if self.scroll_to(&control).await {
            control = self.the(role, name).await;
        }
        self.touch_and_wait(control.rect.centre(), seconds).await;
    }

    /// Scrolls what is out of view into it, as a person would. Says whether anything moved: what
    /// stands still then is found where it was.
    pub async fn scroll_to(&self, control: &Control) -> bool {
        if !control.away {
            return false;
        }
        let moved = self.eval(&format!("__clock.eyes.bring({})", control.rect.centre().1)).await;
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
        self.touch_and_wait((x, y), 0.0).await;
    }

    /// The same, and lets so many seconds pass.
    pub async fn touch_and_wait(&self, (x, y): (f64, f64), seconds: f64) {
        self.finger(&[json!({ "type": "pointerDown", "button": 0 })], x, y).await;
        self.advance(seconds).await;
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
        if let Reach::Chromium = self.reach {
            // Between two commands of the driver the finger would be lost.
            let touch = |kind: &str, points: Value| json!({ "type": kind, "touchPoints": points });
            let down = touch("touchStart", json!([{ "x": x, "y": y }]));
            self.cdp("Input.dispatchTouchEvent", down).await;
            self.advance(seconds).await;
            self.cdp("Input.dispatchTouchEvent", touch("touchEnd", json!([]))).await;
        } else {
            let down = [step_to(x, y), json!({ "type": "pointerDown", "button": 0 })];
            self.finger_moves(json!(down)).await;
            self.advance(seconds).await;
            self.finger_moves(json!([{ "type": "pointerUp", "button": 0 }])).await;
        }
        self.settle().await;
    }

    /// Chooses files where the page has asked for some: as the browser's own picker does it. A driver
    /// types only into what stands in the page, so it stands there until it has its files.
    pub async fn choose(&self, files: &[PathBuf]) {
        const PUT: &str =
            "const asked = __clock.asked(); document.body.append(asked); return asked";
        let put = self.web.execute(PUT, Vec::new()).await.expect("the script runs");
        let input = put.element().expect("the page has asked for files");
        let names: Vec<_> = files.iter().map(|file| file.display().to_string()).collect();
        input.send_keys(names.join("\n")).await.expect("files are chosen");
        self.eval("(__clock.asked().remove(), 0)").await;
        self.settle().await;
    }

    async fn finger(&self, then: &[Value], x: f64, y: f64) {
        let mut actions = vec![step_to(x, y)];
        actions.extend_from_slice(then);
        actions.push(json!({ "type": "pointerUp", "button": 0 }));
        self.finger_moves(json!(actions)).await;
    }

    async fn finger_moves(&self, actions: Value) {
        let kind = if self.touch.get() { "touch" } else { "mouse" };
        let finger = json!([{
            "type": "pointer", "id": "finger", "parameters": { "pointerType": kind },
            "actions": actions,
        }]);
        self.act(finger).await;
    }

    /// Does what the driver can do with fingers and keys.
    pub(super) async fn act(&self, sources: Value) {
        self.focus().await;
        let done = self.web.cmd(Command::PerformActions(Actions::from(sources))).await;
        done.expect("fingers move");
    }
}

fn step_to(x: f64, y: f64) -> Value {
    json!({ "type": "pointerMove", "duration": 0, "x": x.round(), "y": y.round(), "origin": "viewport" })
}
