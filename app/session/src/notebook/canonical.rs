//! One text for one value, and its hash.
//!
//! Keys sorted by code point, no white space, numbers to nine decimals as the shortest text that
//! reads back.
//! Two programs that write the same value this way write the same bytes.

use serde_json::{Map, Number, Value};
use sha2::{Digest, Sha256};

use crate::order;

/// The canonical text of `value`.
pub fn text(value: &Value) -> String {
    let mut text = String::new();
    write(value, &mut text);
    text
}

/// The canonical text of an object with these fields.
pub(super) fn text_of_fields(fields: &Map<String, Value>) -> String {
    let mut text = String::new();
    write_fields(fields, &mut text);
    text
}

// Sorted here: whether the map itself is depends on how the crate was built.
fn write_fields(fields: &Map<String, Value>, into: &mut String) {
    let places = if fields.keys().is_sorted() {
        (0..fields.len()).collect()
    } else {
        order::places(fields.keys().map(String::as_str))
    };
    let fields: Vec<_> = fields.iter().collect();
    into.push('{');
    let sorted = places.into_iter().filter_map(|place| fields.get(place));
    for (index, (key, item)) in sorted.enumerate() {
        into.push_str(if index == 0 { "" } else { "," });
        write_text(key, into);
        into.push(':');
        write(item, into);
    }
    into.push('}');
}

/// A text as JSON has it (RFC 8259, section 7): written here, because the crate's own way brings
/// along how every other value would be written.
fn write_text(text: &str, into: &mut String) {
    into.push('"');
    // Most texts stand in a file as they are.
    if !text.bytes().any(|byte| byte < b' ' || byte == b'"' || byte == b'\\') {
        into.push_str(text);
        into.push('"');
        return;
    }
    for sign in text.chars() {
        let short = match sign {
            '"' | '\\' => sign,
            '\n' => 'n',
            '\r' => 'r',
            '\t' => 't',
            '\u{8}' => 'b',
            '\u{c}' => 'f',
            '\0'..' ' => {
                into.push_str("\\u00");
                for four in [u32::from(sign) >> 4, u32::from(sign) & 15] {
                    into.extend(char::from_digit(four, 16));
                }
                continue;
            }
            _ => {
                into.push(sign);
                continue;
            }
        };
        into.push('\\');
        into.push(short);
    }
    into.push('"');
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
        Value::Object(fields) => write_fields(fields, into),
        Value::String(text) => write_text(text, into),
        Value::Number(number) => {
            let broken = number.as_f64().filter(|_| number.is_f64());
            let broken = broken.and_then(|broken| Number::from_f64(kept(broken)));
            into.push_str(&broken.as_ref().unwrap_or(number).to_string());
        }
        Value::Bool(so) => into.push_str(if *so { "true" } else { "false" }),
        Value::Null => into.push_str("null"),
    }
}

/// The number that is written for `number`: to nine decimals, and to fifteen digits if that is
/// fewer.
///
/// Fifteen digits and a power of ten below the twenty-third read back exactly by one division, or one
/// multiplication, so that a reader needs no long numbers and a number stays the same however often
/// it is written. Beyond that there is nothing that anybody measures.
pub fn kept(number: f64) -> f64 {
    const DIGITS: f64 = 1e15;
    let mut unit = 1.0;
    while unit < 1e22 && number.abs() >= DIGITS * unit {
        unit *= 10.0;
    }
    if unit > 1.0 {
        return (number / unit).round() * unit;
    }
    let mut scale = 1e9;
    while scale > 1.0 && number.abs() * scale >= DIGITS {
        scale /= 10.0;
    }
    (number * scale).round() / scale
}

/// The SHA-256 of `text`, in hexadecimal.
pub fn sha_256(text: &str) -> String {
    sha_256_of(&mut |put| put(text))
}

/// The SHA-256 of the canonical text of a list of which these are the texts, which are never put
/// into one.
pub fn sha_256_of_list(texts: impl Iterator<Item = impl AsRef<str>>) -> String {
    let mut texts = Some(texts);
    sha_256_of(&mut |put| {
        put("[");
        for (index, text) in texts.take().into_iter().flatten().enumerate() {
            put(if index == 0 { "" } else { "," });
            put(text.as_ref());
        }
        put("]");
    })
}

/// Takes texts, one after another.
type Put<'a> = dyn FnMut(&str) + 'a;

fn sha_256_of(texts: &mut dyn FnMut(&mut Put<'_>)) -> String {
    let mut hash = Sha256::new();
    texts(&mut |text| hash.update(text));
    let digest = hash.finalize();
    let digit = |four: u8| char::from_digit(u32::from(four), 16).unwrap_or('0');
    digest.iter().flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn read(text: &str) -> f64 {
        serde_json::from_str(text).unwrap()
    }

    proptest! {
        #[test]
        fn a_text_is_written_as_others_write_it_and_reads_back(
            letters: String, odd in prop::collection::vec(0..128_u8, 0..40),
        ) {
            let odd = odd.into_iter().map(char::from).collect();
            for said in [letters, odd] {
                let written = text(&said.clone().into());
                prop_assert_eq!(&written, &serde_json::to_string(&said).unwrap());
                prop_assert_eq!(serde_json::from_str::<String>(&written).unwrap(), said);
            }
        }

        #[test]
        fn a_number_stays_what_it_was_written_as(number in -1e9_f64..=1e9, by in 0..8_usize) {
            let number = number / [1.0, 1e1, 1e2, 1e4, 1e6, 1e8, 1e10, 1e12][by];
            let written = text(&number.into());
            prop_assert!((read(&written) - number).abs() <= 1e-9 * number.abs().max(1.0));
            prop_assert_eq!(read(&written).to_bits(), kept(number).to_bits());
            prop_assert_eq!(text(&serde_json::from_str(&written).unwrap()), written);
        }

        #[test]
        fn a_longer_number_is_read_as_itself_or_its_neighbour(number in 1e-3_f64..1e9) {
            let apart = read(&format!("{number:.16e}")).to_bits().abs_diff(number.to_bits());
            prop_assert!(apart <= 1);
        }

        #[test]
        fn any_number_is_written_the_same_however_it_was_read(number in 1e-12_f64..1e9) {
            let long: Value = serde_json::from_str(&format!("{number:.16e}")).unwrap();
            let again: Value = serde_json::from_str(&text(&long)).unwrap();
            prop_assert_eq!(text(&again), text(&long));
        }
    }

    proptest! {
        #[test]
        fn a_number_far_beyond_all_measures_is_written_the_same_again(
            number in 1e15_f64..1e22, by in prop::sample::select(vec![0.1, 1.0, 1e3, 1e7, 1e11, 1e14]),
        ) {
            let long: Value = serde_json::from_str(&format!("{number:.16e}")).unwrap();
            let far = Value::from(long.as_f64().unwrap() * by);
            let again: Value = serde_json::from_str(&text(&far)).unwrap();
            prop_assert_eq!(text(&again), text(&far));
        }
    }

    #[test]
    fn whole_numbers_and_the_ends_of_the_range_are_written_whole() {
        let written = [-0.0, 20.0, 0.1, 1e9, 123_456_789.123_456_78, 1e300]
            .map(|number: f64| text(&number.into()));
        let says = ["-0.0", "20.0", "0.1", "1000000000.0", "123456789.123457", "1e+300"];
        assert_eq!(written, says);
        assert_eq!(text(&u64::MAX.into()), "18446744073709551615");
    }

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
