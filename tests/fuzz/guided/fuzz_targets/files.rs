//! No file makes the reader panic; what is read is written and read again.
#![no_main]

use libfuzzer_sys::fuzz_target;
use session::notebook::file::{preview, read, write};
use session::notebook::log_of;
use session::timestamp::Timestamp;

fuzz_target!(|text: &str| {
    let Ok(file) = read(text) else { return };
    for record in &file.records {
        let _ = log_of(record);
    }
    let again = write(file.records.clone(), Timestamp::from_milliseconds(1));
    let again = read(&again).expect("what was read is written and read again");
    assert!(again.untouched);
    let twice = preview(&preview(&[], &file.records).writes, &again.records);
    assert_eq!((twice.new, twice.changed), (0, 0), "the second time nothing changes");
});
