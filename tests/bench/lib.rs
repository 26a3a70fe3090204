//! Work of the model that is measured natively and in a browser, and a digest by which the two are
//! compared bit by bit.

mod digest;
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
