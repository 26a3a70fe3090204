//! The shelves of the database.

use wasm_bindgen::JsValue;

use super::{call, property};
use crate::ports::Shelf;

/// Goes up with each new shelf.
pub const VERSION: u32 = 4;

pub const SHELVES: [&str; 6] = ["runs", "entries", "single", "records", "photos", "logs"];

/// What a shelf is called in the database.
pub const fn name_of(shelf: Shelf) -> &'static str {
    match shelf {
        Shelf::Runs => SHELVES[0],
        Shelf::Entries => SHELVES[1],
        Shelf::Single => SHELVES[2],
        Shelf::Records => SHELVES[3],
        Shelf::Photos => SHELVES[4],
        Shelf::Logs => SHELVES[5],
    }
}

/// Puts up the shelves that are missing in the database that a request has brought.
pub fn put_up(request: &JsValue) {
    let Some(database) = property(request, "result") else { return };
    let Some(there) = property(&database, "objectStoreNames") else { return };
    for shelf in SHELVES {
        if !call(&there, "contains", &[shelf.into()]).is_some_and(|is| is.is_truthy()) {
            let _ = call(&database, "createObjectStore", &[shelf.into()]);
        }
    }
}
