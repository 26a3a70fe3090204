//! One window: time moved, things touched, the screen read and measured.

mod keys;
mod measure;
mod reached;
mod read;
mod time;
mod touch;

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::time::Duration;

use serde_json::Value;
use thirtyfour::common::print::PrintParameters;
use thirtyfour::{WebDriver, WindowHandle};

pub use measure::{Piece, gap};
pub use read::{Control, Look, Rect};

use crate::harness::heard::Heard;
use crate::harness::reach::Reach;
use crate::harness::scene::Scene;
use crate::harness::script;

/// A window of the browser with the page in it.
#[derive(Debug)]
pub struct Page {
    web: WebDriver,
    reach: Reach,
    window: WindowHandle,
    /// The window the driver speaks to at the moment, of all windows of this browser.
    current: Rc<RefCell<WindowHandle>>,
    address: String,
    scene: Scene,
    /// Whether it is a finger that points, as the last size said.
    touch: Cell<bool>,
    script: RefCell<Option<String>>,
    wall_ms: Cell<f64>,
    since_ms: Cell<f64>,
}

impl Page {
    /// The window the browser opened with, made ready for `address` but still empty.
    pub async fn first(
        (web, reach): (WebDriver, Reach),
        address: String,
        scene: Scene,
        since_ms: f64,
    ) -> Self {
        let window = web.window().await.expect("a window");
        let current = Rc::new(RefCell::new(window.clone()));
        Self::ready((web, reach), window, current, address, scene, since_ms).await
    }

    /// A second window of the same browser, at the same address, time and scene; still empty.
    pub async fn another(&self) -> Self {
        self.focus().await;
        let window = self.web.new_window().await.expect("a second window");
        let scene = Scene { wall_ms: self.wall_ms.get(), ..self.scene.clone() };
        let (current, address) = (Rc::clone(&self.current), self.address.clone());
        let way = (self.web.clone(), self.reach.clone());
        Self::ready(way, window, current, address, scene, self.since_ms.get()).await
    }

    async fn ready(
        (web, reach): (WebDriver, Reach),
        window: WindowHandle,
        current: Rc<RefCell<WindowHandle>>,
        address: String,
        scene: Scene,
        since_ms: f64,
    ) -> Self {
        let (wall_ms, since_ms) = (Cell::new(scene.wall_ms), Cell::new(since_ms));
        let (script, touch) = (RefCell::new(None), Cell::new(true));
        let page =
            Self { web, reach, window, current, address, scene, touch, script, wall_ms, since_ms };
        page.focus().await;
        page.size(page.scene.viewport).await;
        page.prepare_window().await;
        page.prepare().await;
        page
    }

    /// Puts the clock and the recorders in front of every document from the next one on.
    async fn prepare(&self) {
        self.put_script(&script::source(&self.scene, self.since_ms.get())).await;
    }

    /// What the phone is like, from the next load on.
    pub fn scene(&self) -> &Scene {
        &self.scene
    }

    /// Changes what the phone is like, from the next load on.
    pub async fn change(&mut self, change: impl FnOnce(&mut Scene)) {
        change(&mut self.scene);
        self.prepare().await;
    }

    /// Goes to the page, at `fragment` (empty, or from its `#` on), and waits for its heading.
    pub async fn open(&self, fragment: &str) {
        self.load(fragment).await;
        self.until_heading().await;
    }

    /// Goes to the page and waits for the browser only: the page itself may not have begun.
    pub async fn load(&self, fragment: &str) {
        self.focus().await;
        let address = format!("{}{fragment}", self.address);
        self.web.goto(address).await.expect("the page is reached");
        self.until("document.readyState === 'complete'").await;
    }

    /// Reloads as the page itself would, and waits for the heading.
    pub async fn reload(&self) {
        let before = self.eval("__clock.now().load").await;
        // The answer may be lost with the document.
        let _ = self.try_eval("location.reload(); 0").await;
        let again = format!("__clock.now().load > {before} && document.readyState === 'complete'");
        self.until(&again).await;
        self.until_heading().await;
    }

    /// Waits in real time, as the browser does. The page's own time stands still unless it is real.
    pub async fn wait_real(&self, seconds: f64) {
        tokio::time::sleep(Duration::from_secs_f64(seconds)).await;
    }

    /// Waits, in real time, until the page shows a heading. The page's time stands still.
    pub async fn until_heading(&self) {
        self.until("__clock.advance(0).then(() => __clock.eyes.heading() !== null)").await;
    }

    /// Waits in real time until a condition holds that only the browser can bring about.
    pub async fn until(&self, condition: &str) {
        let waiting = async {
            while self.try_eval(condition).await != Ok(Value::Bool(true)) {
                tokio::time::sleep(Duration::from_millis(15)).await;
            }
        };
        if tokio::time::timeout(Duration::from_secs(15), waiting).await.is_err() {
            let text = self.try_eval("document.body.innerText").await;
            panic!("waited in vain for: {condition}\non the screen: {text:?}");
        }
    }

    /// Everything recorded so far, over all loads of this window.
    pub async fn heard(&self) -> Heard {
        Heard::new(self.eval("__clock.heard()").await)
    }

    /// What an expression of the page's language comes to, awaited.
    pub async fn eval(&self, expression: &str) -> Value {
        let mut came = self.try_eval(expression).await;
        // Where the page goes to another address by itself, Firefox shows an empty document between.
        for _ in 0..100 {
            let Err(error) = &came else { break };
            if !error.contains("__clock is not defined") {
                break;
            }
            tokio::time::sleep(Duration::from_millis(20)).await;
            came = self.try_eval(expression).await;
        }
        came.unwrap_or_else(|error| panic!("{error}\nin: {expression}"))
    }

    /// A command of Chromium's own protocol.
    pub async fn cdp(&self, method: &str, params: Value) -> Value {
        self.focus().await;
        let came = self.web.cdp().send_raw(method, params).await;
        came.unwrap_or_else(|error| panic!("{method}: {error}"))
    }

    /// Makes the driver speak to this window.
    async fn focus(&self) {
        if *self.current.borrow() == self.window {
            return;
        }
        self.web.switch_to_window(self.window.clone()).await.expect("the window is open");
        *self.current.borrow_mut() = self.window.clone();
    }

    /// A picture of the window, as a PNG.
    pub async fn png(&self) -> Vec<u8> {
        self.focus().await;
        self.web.screenshot_as_png().await.expect("a picture")
    }

    /// The window as it is printed, as a PDF.
    pub async fn pdf(&self) -> Vec<u8> {
        self.focus().await;
        self.web.print_page(PrintParameters::default()).await.expect("it is printed")
    }

    /// The same in letters, as data addresses have it.
    pub async fn png_as_text(&self) -> String {
        self.focus().await;
        self.web.screenshot_as_png_base64().await.expect("a picture")
    }

    /// How its browser is reached.
    pub fn way(self) -> (WebDriver, Reach) {
        (self.web, self.reach)
    }

    /// Closes this window.
    pub async fn close(self) {
        self.focus().await;
        self.web.close_window().await.expect("the window is open");
    }
}
