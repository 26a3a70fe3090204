//! A browser with nothing put into its pages but what a measurement needs: what is measured is what
//! a person has.

use std::path::PathBuf;
use std::time::Duration;

use serde_json::{Value, json};
use thirtyfour::WebDriver;

use crate::harness::browser::Browser;
use crate::harness::scene::Scene;
use crate::harness::server::Server;

/// A browser, its one window, and the host of its page.
#[derive(Debug)]
pub struct Plain {
    pub server: Server,
    browser: Browser,
    web: WebDriver,
}

/// Runs something with a browser whose host serves `root`.
pub fn run<T>(root: PathBuf, work: impl AsyncFnOnce(&mut Plain) -> T) -> T {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build();
    runtime.expect("a runtime").block_on(async {
        let mut browser = Browser::new(&Scene::default());
        let (web, _) = browser.open().await;
        let mut plain = Plain { server: Server::under(root, "/"), browser, web };
        work(&mut plain).await
    })
}

impl Plain {
    /// Closes the browser as a person does, and opens it again on the same profile.
    pub async fn start_again(&mut self) {
        self.browser.close(&self.web).await;
        self.web = self.browser.open().await.0;
    }

    /// A command of the browser's own protocol.
    pub async fn cdp(&self, method: &str, params: Value) -> Value {
        let came = self.web.cdp().send_raw(method, params).await;
        came.unwrap_or_else(|error| panic!("{method}: {error}"))
    }

    /// Puts a script in front of every document from the next one on.
    pub async fn put_in_front(&self, source: &str) {
        self.cdp("Page.enable", json!({})).await;
        self.cdp("Page.addScriptToEvaluateOnNewDocument", json!({ "source": source })).await;
    }

    /// Makes the page's processor so many times slower.
    pub async fn slow_down(&self, times: u32) {
        self.cdp("Emulation.setCPUThrottlingRate", json!({ "rate": times })).await;
    }

    /// Goes to a path of the host, and does not wait for it.
    pub async fn go(&self, path: &str) {
        let url = format!("{}{path}", self.server.address());
        self.cdp("Page.navigate", json!({ "url": url })).await;
    }

    /// What an expression of the page's language comes to, awaited; null if it cannot be said.
    pub async fn eval(&self, expression: &str) -> Value {
        let asked =
            json!({ "expression": expression, "awaitPromise": true, "returnByValue": true });
        let came = self.web.cdp().send_raw("Runtime.evaluate", asked).await;
        came.map_or(Value::Null, |mut came| came["result"]["value"].take())
    }

    /// Waits until an expression is something, and gives it.
    pub async fn until(&self, expression: &str) -> Value {
        for _ in 0..6_000 {
            let came = self.eval(expression).await;
            if !came.is_null() && came != Value::Bool(false) {
                return came;
            }
            wait(0.05).await;
        }
        panic!("waited in vain for {expression}: {}", self.eval("document.body.innerText").await);
    }

    /// The bytes in use on the page's heap after its garbage was collected.
    pub async fn heap_bytes(&self) -> f64 {
        for _ in 0..2 {
            self.cdp("HeapProfiler.collectGarbage", json!({})).await;
        }
        super::number(&self.cdp("Runtime.getHeapUsage", json!({})).await["usedSize"])
    }

    /// How long the page has spent on these, by the names of its browser, since it began, in milliseconds.
    pub async fn spent_ms<const N: usize>(&self, on: [&str; N]) -> [f64; N] {
        let came = self.cdp("Performance.getMetrics", json!({})).await;
        let metrics = came["metrics"].as_array().cloned().unwrap_or_default();
        on.map(|name| {
            let metric = metrics.iter().find(|metric| metric["name"] == name);
            metric.map_or(f64::NAN, |spent| super::number(&spent["value"]) * 1_000.0)
        })
    }
}

/// Waits in real time.
pub async fn wait(seconds: f64) {
    tokio::time::sleep(Duration::from_secs_f64(seconds)).await;
}
