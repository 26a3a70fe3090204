//! What each engine does its own way: a look from the page's language, the script in front of every
//! document, the window's size.

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use reqwest::Method;
use serde_json::{Value, json};
use thirtyfour::WebElement;
use thirtyfour::common::command::{Command, ExtensionCommand};

use super::Page;
use crate::harness::reach::{Reach, order, plain};
use crate::harness::scene::{Clock, Viewport};

impl Page {
    /// Before the first document: what outlives every load.
    pub(super) async fn prepare_window(&self) {
        match self.reach {
            Reach::Chromium => (),
            Reach::Firefox(_) => return,
            Reach::WebKit(_) => {
                // Counted on the page's own time, which passes fast: never.
                let never = self.web.set_script_timeout(Duration::from_secs(2_000_000)).await;
                never.expect("the driver waits");
                return;
            }
        }
        let colours = json!([{ "name": "prefers-color-scheme", "value": self.scene.colours }]);
        self.cdp("Emulation.setEmulatedMedia", json!({ "features": colours })).await;
        self.cdp("Page.enable", json!({})).await;
        if self.scene.clock == Clock::Real {
            // The recorder of rendered samples is a script that the policy does not know.
            self.cdp("Page.setBypassCSP", json!({ "enabled": true })).await;
        }
    }

    /// Puts a script in front of every document from the next one on, in the place of the one before.
    pub(super) async fn put_script(&self, source: &str) {
        let before = self.script.borrow_mut().take();
        let put = match &self.reach {
            Reach::Chromium => {
                if let Some(identifier) = before {
                    let which = json!({ "identifier": identifier });
                    self.cdp("Page.removeScriptToEvaluateOnNewDocument", which).await;
                }
                let put = json!({ "source": source });
                self.cdp("Page.addScriptToEvaluateOnNewDocument", put).await["identifier"].take()
            }
            Reach::Firefox(bidi) => {
                if let Some(script) = before {
                    let which = json!({ "script": script });
                    bidi.ask("script.removePreloadScript", which).expect("it was put");
                }
                let put = json!({
                    "functionDeclaration": format!("() => {{ {source} }}"),
                    "contexts": [self.window.to_string()],
                });
                let put = bidi.ask("script.addPreloadScript", put);
                put.expect("the script is taken")["script"].take()
            }
            Reach::WebKit(profile) => {
                order(profile, "script.js", source).await;
                Value::Null
            }
        };
        *self.script.borrow_mut() = put.as_str().map(str::to_owned);
    }

    /// What an expression of the page's language comes to, awaited, or what it threw.
    pub(super) async fn try_eval(&self, expression: &str) -> Result<Value, String> {
        self.focus().await;
        match &self.reach {
            Reach::Chromium => {
                let asked = json!({
                    "expression": expression, "awaitPromise": true, "returnByValue": true,
                });
                let came = self.web.cdp().send_raw("Runtime.evaluate", asked).await;
                let mut came = came.map_err(|error| error.to_string())?;
                match came.get("exceptionDetails") {
                    Some(details) => Err(details["exception"]["description"].to_string()),
                    None => Ok(came["result"]["value"].take()),
                }
            }
            Reach::Firefox(bidi) => {
                let asked = json!({
                    "expression": expression, "awaitPromise": true,
                    "target": { "context": self.window.to_string() },
                });
                let came = bidi.ask("script.evaluate", asked)?;
                match came.get("exceptionDetails") {
                    Some(details) => Err(details["text"].to_string()),
                    None => Ok(plain(&came["result"])),
                }
            }
            Reach::WebKit(_) => {
                let (before, last) = parted(expression);
                let script = format!(
                    "const done = arguments[arguments.length - 1];
                    (async () => {{ {before}; return [true, await ({last}\n)]; }})()
                        .then(done, (error) => done([false, `${{error}} ${{error?.stack}}`]));"
                );
                let came = self.web.execute_async(script, Vec::new()).await;
                let mut came = came.map_err(|error| error.to_string())?.json().clone();
                if came[0] == true { Ok(came[1].take()) } else { Err(came[1].to_string()) }
            }
        }
    }

    /// The elements that a script of the driver gives back.
    pub(super) async fn elements(&self, script: &str) -> Vec<WebElement> {
        self.focus().await;
        let given = self.web.execute(script, Vec::new()).await.expect("the script runs");
        given.elements().expect("elements")
    }

    /// What the browser's accessibility tree says of an element: `computedrole`, `computedlabel`.
    pub(super) async fn computed(&self, element: &WebElement, what: &'static str) -> String {
        let asked = Computed { element: element.element_id().to_string(), what };
        let said = self.web.cmd(Command::ExtensionCommand(Box::new(asked))).await;
        said.and_then(|said| said.value()).expect("the browser tells")
    }

    /// Says where files go that the page gives out. The others have been told from the start.
    pub async fn give_files_to(&self, folder: &Path) {
        if let Reach::Chromium = self.reach {
            let to = json!({ "behavior": "allow", "downloadPath": folder.display().to_string() });
            self.cdp("Browser.setDownloadBehavior", to).await;
        }
    }

    /// Makes the window's inside exactly this large, as turning the phone does.
    pub async fn size(&self, to: Viewport) {
        let Viewport { width, height, scale, mobile } = to;
        match &self.reach {
            Reach::Chromium => {
                let (turned, angle) =
                    if width > height { ("landscapePrimary", 90) } else { ("portraitPrimary", 0) };
                let size = json!({
                    "width": width, "height": height, "screenWidth": width, "screenHeight": height,
                    "deviceScaleFactor": scale, "mobile": mobile,
                    "screenOrientation": { "type": turned, "angle": angle },
                });
                self.cdp("Emulation.setDeviceMetricsOverride", size).await;
                let touch = json!({ "enabled": mobile });
                self.cdp("Emulation.setTouchEmulationEnabled", touch).await;
            }
            Reach::Firefox(bidi) => {
                let size = json!({
                    "context": self.window.to_string(), "devicePixelRatio": scale,
                    "viewport": { "width": width, "height": height },
                });
                bidi.ask("browsingContext.setViewport", size).expect("the window has this size");
            }
            Reach::WebKit(_) => {
                self.focus().await;
                self.eval(TURNED).await;
                let sized = self.web.set_window_rect(0, 0, width, height).await;
                sized.expect("the window has this size");
                // It has its size before the page is laid out anew: a finger that goes down between
                // would come up on another key.
                self.until(&format!("window.__turned === '{width} {height}'")).await;
            }
        }
        self.touch.set(mobile && !matches!(self.reach, Reach::WebKit(_)));
    }
}

/// Remembers the size of the window in which the page was last drawn.
const TURNED: &str = "(() => {
    const frame = window.__clock?.real.requestAnimationFrame ?? ((run) => run());
    const drawn = () => (window.__turned = `${innerWidth} ${innerHeight}`);
    if (!window.__turned) addEventListener('resize', () => frame(() => frame(drawn)));
    drawn();
    return 0;
})()";

/// A question about an element that every driver answers.
#[derive(Debug)]
struct Computed {
    element: String,
    what: &'static str,
}

impl ExtensionCommand for Computed {
    fn parameters_json(&self) -> Option<Value> {
        None
    }

    fn method(&self) -> Method {
        Method::GET
    }

    fn endpoint(&self) -> Arc<str> {
        format!("/element/{}/{}", self.element, self.what).into()
    }
}

/// A program in two: what is done before, and the expression that it comes to.
fn parted(program: &str) -> (&str, &str) {
    let program = program.trim_end().trim_end_matches(';');
    let Some((before, last)) = program.rsplit_once(';') else { return ("", program) };
    // What is cut inside brackets is one expression.
    let count = |bracket| last.matches(bracket).count();
    let is_whole = count('(') == count(')') && count('{') == count('}') && count('\'') % 2 == 0;
    if is_whole && !last.trim().is_empty() { (before, last) } else { ("", program) }
}
