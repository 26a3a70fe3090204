//! Two records of one id merge to the same, whichever comes first, and a second time to nothing new.
#![no_main]

use libfuzzer_sys::fuzz_target;
use session::notebook::{Record, merge};

fuzz_target!(|text: &str| {
    let mut records = text.lines().filter_map(|line| Record::from_text(line).ok());
    let (Some(one), Some(other)) = (records.next(), records.next()) else { return };
    if one.id() != other.id() || one.kind() != other.kind() {
        return;
    }
    let merged = merge(&one, &other);
    assert_eq!(merged.to_text(), merge(&other, &one).to_text(), "in either order");
    assert_eq!(merged.to_text(), merge(&merged, &other).to_text(), "and once is enough");
    assert!(Record::from_text(&merged.to_text()).is_ok(), "and it can be read");
});
