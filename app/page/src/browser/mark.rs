//! Marks that are there or not, kept where they can be read at once: by a tab until it is closed, by a
//! browser until it dies. Nothing that matters hangs on one.

use wasm_bindgen::JsValue;

use super::{call, events, property, window};

/// A mark: where it is kept, and its name.
#[derive(Clone, Copy, Debug)]
pub struct Mark(&'static str, &'static str);

impl Mark {
    /// One that this tab remembers over a reload.
    pub const fn of_tab(name: &'static str) -> Self {
        Self("sessionStorage", name)
    }

    /// Whether there was a run in the notebook when it was last read: what the front page is drawn by
    /// until the notebook itself has been read, so that nothing moves under a finger then. Lost with a
    /// phone that dies; what is drawn first is then drawn anew.
    pub fn of_a_run() -> Self {
        Self("localStorage", if events::is_demo() { "begun-demo" } else { "begun" })
    }

    /// Whether it is there.
    pub fn is_there(self) -> bool {
        self.asked("getItem", &[]).is_some_and(|it| it.is_string())
    }

    /// Puts it there or takes it away, if the browser lets it.
    pub fn put(self, there: bool) {
        let _ = if there {
            self.asked("setItem", &[self.1.into()])
        } else {
            self.asked("removeItem", &[])
        };
    }

    fn asked(self, method: &str, more: &[JsValue]) -> Option<JsValue> {
        let Self(place, name) = self;
        call(&property(&window(), place)?, method, &[&[name.into()], more].concat())
    }
}
