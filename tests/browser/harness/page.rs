//! One window: time moved, things touched, the screen read and measured.

mod measure;
mod read;
mod time;
mod touch;

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::time::Duration;

use serde_json::{Value, json};
use thirtyfour::common::print::PrintParameters;
use thirtyfour::{WebDriver, WindowHandle};

pub use measure::{Piece, gap};
pub use read::{Control, Look, Rect};

use crate::harness::heard::Heard;
use crate::harness::scene::{Clock, Scene, Viewport};
use crate::harness::script;

/// A window of the browser with the page in it.
#[derive(Debug)]
pub struct Page {
    web: WebDriver,
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
    pub async fn first(web: WebDriver, address: String, scene: Scene, since_ms: f64) -> Self {
        let window = web.window().await.expect("a window");
        let current = Rc::new(RefCell::new(window.clone()));
        Self::ready(web, window, current, address, scene, since_ms).await
    }

    /// A second window of the same browser, at the same address, time and scene; still empty.
    pub async fn another(&self) -> Self {
        self.focus().await;
        let window = self.web.new_window().await.expect("a second window");
        let scene = Scene { wall_ms: self.wall_ms.get(), ..self.scene.clone() };
        let (current, address) = (Rc::clone(&self.current), self.address.clone());
        Self::ready(self.web.clone(), window, current, address, scene, self.since_ms.get()).await
    }

    async fn ready(
        web: WebDriver,
        window: WindowHandle,
        current: Rc<RefCell<WindowHandle>>,
        address: String,
        scene: Scene,
        since_ms: f64,
    ) -> Self {
        let (wall_ms, since_ms) = (Cell::new(scene.wall_ms), Cell::new(since_ms));
        let (script, touch) = (RefCell::new(None), Cell::new(true));
        let page = Self { web, window, current, address, scene, touch, script, wall_ms, since_ms };
        page.size(page.scene.viewport).await;
        let colours = json!([{ "name": "prefers-color-scheme", "value": page.scene.colours }]);
        page.cdp("Emulation.setEmulatedMedia", json!({ "features": colours })).await;
        page.cdp("Page.enable", json!({})).await;
        if page.scene.clock == Clock::Real {
            // The recorder of rendered samples is a script that the policy does not know.
            page.cdp("Page.setBypassCSP", json!({ "enabled": true })).await;
        }
        page.prepare().await;
        page
    }

    /// Puts the clock and the recorders in front of every document from the next one on.
    async fn prepare(&self) {
        let before = self.script.borrow_mut().take();
        if let Some(identifier) = before {
            let which = json!({ "identifier": identifier });
            self.cdp("Page.removeScriptToEvaluateOnNewDocument", which).await;
        }
        let source = script::source(&self.scene, self.since_ms.get());
        let put = json!({ "source": source });
        let put = self.cdp("Page.addScriptToEvaluateOnNewDocument", put).await;
        *self.script.borrow_mut() = put["identifier"].as_str().map(str::to_owned);
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

    /// Makes the window's inside exactly this large, as turning the phone does.
    pub async fn size(&self, to: Viewport) {
        let Viewport { width, height, scale, mobile } = to;
        let turned = if width > height { "landscapePrimary" } else { "portraitPrimary" };
        let size = json!({
            "width": width, "height": height, "screenWidth": width, "screenHeight": height,
            "deviceScaleFactor": scale, "mobile": mobile,
            "screenOrientation": { "type": turned, "angle": if width > height { 90 } else { 0 } },
        });
        self.cdp("Emulation.setDeviceMetricsOverride", size).await;
        self.touch.set(mobile);
        self.cdp("Emulation.setTouchEmulationEnabled", json!({ "enabled": mobile })).await;
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
        self.cdp("Runtime.evaluate", json!({ "expression": "location.reload()" })).await;
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
        let came = self.try_eval(expression).await;
        came.unwrap_or_else(|error| panic!("{error}\nin: {expression}"))
    }

    async fn try_eval(&self, expression: &str) -> Result<Value, String> {
        let asked = json!({
            "expression": expression, "awaitPromise": true, "returnByValue": true,
        });
        self.focus().await;
        let came = self.web.cdp().send_raw("Runtime.evaluate", asked).await;
        let mut came = came.map_err(|error| error.to_string())?;
        match came.get("exceptionDetails") {
            Some(details) => Err(details["exception"]["description"].to_string()),
            None => Ok(came["result"]["value"].take()),
        }
    }

    /// A command of the browser's own protocol.
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

    /// Closes this window.
    pub async fn close(self) {
        self.focus().await;
        self.web.close_window().await.expect("the window is open");
    }
}
