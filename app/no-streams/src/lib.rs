//! Stands in for the crate `wasm-streams`, so that the page does not ship it.
//!
//! Leptos brings it along for functions that run on a server, and this page has no server. The
//! crate hands classes over to the browser by name, so no compiler can tell that nobody calls them;
//! they and what they need are 2 kB of what a phone downloads. What is here is what Leptos
//! names, and every stream ends with an error at once.

use std::future::{Ready, ready};

use futures_util::stream::{Once, once};
use wasm_bindgen::{JsCast as _, JsValue};

/// A stream of the browser.
#[derive(Debug)]
pub struct ReadableStream {
    raw: web_sys::ReadableStream,
}

impl ReadableStream {
    /// The stream `raw`.
    pub fn from_raw(raw: web_sys::ReadableStream) -> Self {
        Self { raw }
    }

    /// No stream at all, whatever is given: a browser that is handed it throws.
    pub fn from_stream<S>(_stream: S) -> Self {
        Self::from_raw(JsValue::UNDEFINED.unchecked_into())
    }

    /// The stream as the browser has it.
    pub fn into_raw(self) -> web_sys::ReadableStream {
        self.raw
    }

    /// Nothing of the stream but an error.
    pub fn into_stream(self) -> Once<Ready<Result<JsValue, JsValue>>> {
        once(ready(Err(JsValue::from_str("This page reads no streams."))))
    }
}
