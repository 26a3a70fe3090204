//! Whether there was anything in the notebook when it was last read: what the front page is drawn by
//! until the notebook itself has been read, so that nothing moves under a finger then.
//!
//! Kept where it can be read at once. That place is lost with a phone that dies; what is drawn first
//! is then drawn anew, and nothing else comes of it.

use super::{call, events, property, window};
use wasm_bindgen::JsValue;

/// Whether there was anything.
pub fn was() -> bool {
    asked("getItem", &[]).is_some_and(|it| it.is_string())
}

/// Remembers whether there is.
pub fn note(any: bool) {
    if any != was() {
        let _ = if any { asked("setItem", &["1".into()]) } else { asked("removeItem", &[]) };
    }
}

fn asked(method: &str, more: &[JsValue]) -> Option<JsValue> {
    let key = if events::is_demo() { "begun-demo" } else { "begun" };
    let arguments = [&[JsValue::from(key)], more].concat();
    call(&property(&window(), "localStorage")?, method, &arguments)
}
