//! One text for one value, and its hash.
//!
//! Keys sorted by code point, no white space, numbers as the shortest text that reads back.
//! Two programs that write the same value this way write the same bytes.

use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::order;

/// The canonical text of `value`.
pub fn text(value: &Value) -> String {
    let mut text = String::new();
    write(value, &mut text);
    text
}

fn write(value: &Value, into: &mut String) {
    match value {
        Value::Array(items) => {
            into.push('[');
            for (index, item) in items.iter().enumerate() {
                into.push_str(if index == 0 { "" } else { "," });
                write(item, into);
            }
            into.push(']');
        }
        // Sorted here: whether the map itself is depends on how the crate was built.
        Value::Object(fields) => {
            let places = order::places(fields.keys().map(String::as_str));
            let fields: Vec<_> = fields.iter().collect();
            into.push('{');
            let sorted = places.into_iter().filter_map(|place| fields.get(place));
            for (index, (key, item)) in sorted.enumerate() {
                into.push_str(if index == 0 { "" } else { "," });
                write(&Value::from(key.as_str()), into);
                into.push(':');
                write(item, into);
            }
            into.push('}');
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {
            into.push_str(&value.to_string());
        }
    }
}

/// The SHA-256 of `text`, in hexadecimal.
pub fn sha_256(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    let digit = |four: u8| char::from_digit(u32::from(four), 16).unwrap_or('0');
    digest.iter().flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hash_is_the_standards() {
        // FIPS 180-4, the example of one block.
        let known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(sha_256("abc"), known);
    }

    #[test]
    fn the_order_of_keys_makes_no_difference() {
        let one: Value = serde_json::from_str("{\"b\": 1.50, \"a\": [ ]}").unwrap();
        let other: Value = serde_json::from_str("{\"a\":[],\"b\":1.5}").unwrap();
        assert_eq!(text(&one), text(&other));
        assert_eq!(text(&one), "{\"a\":[],\"b\":1.5}");
    }
}
