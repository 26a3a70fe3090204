//! `Date.now` and `performance.now`.

use session::clock::Both;

use crate::ports::Clock;

/// The browser's clocks.
#[derive(Clone, Copy, Debug)]
pub struct BrowserClock;

impl Clock for BrowserClock {
    #[expect(clippy::cast_possible_truncation, reason = "a date in milliseconds fits")]
    fn both(&self) -> Both {
        let wall_ms = js_sys::Date::now() as i64;
        Both { wall_ms, mono_ms: mono_ms() }
    }

    #[expect(clippy::cast_possible_truncation, reason = "at most a day of minutes")]
    fn utc_offset_min(&self) -> i32 {
        -js_sys::Date::new_0().get_timezone_offset() as i32
    }
}

/// The monotonic clock, in milliseconds.
pub fn mono_ms() -> f64 {
    super::window().performance().map_or(0.0, |performance| performance.now())
}
