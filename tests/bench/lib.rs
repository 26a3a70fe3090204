//! Work of the model that is measured natively and in a browser, a digest by which the two are
//! compared bit by bit, and the notebook in the browser's database, reached by the page's own code.

mod digest;
pub mod made;
#[cfg(target_arch = "wasm32")]
#[path = "../../app/page/src/ports.rs"]
#[expect(dead_code, reason = "most of the page's doors are shut here")]
mod ports;
#[cfg(target_arch = "wasm32")]
mod store;
mod work;

use wasm_bindgen::prelude::wasm_bindgen;

/// What is measured, by name.
pub const WORK: [&str; 4] =
    ["fit, two bottles, five readings", "fit and arrival, 64 draws", "two tanks", "three tanks"];

/// A digest over the bits of several thousand results: the same on every machine.
#[wasm_bindgen]
pub fn digest() -> String {
    digest::digest()
}

/// Does a named piece of work so often. Gives a number that depends on every result, so that none is
/// left out.
#[wasm_bindgen]
pub fn work(name: &str, times: u32) -> f64 {
    (0..times).map(|time| work::once(name, time)).sum()
}
