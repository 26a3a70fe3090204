//! `Date.now` and `performance.now`.

use session::clock::Both;
use web_sys::Performance;

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

thread_local! {
    /// Asked for once: the clock is read several times a second.
    static PERFORMANCE: Option<Performance> = super::window().performance();
}

/// The monotonic clock, in milliseconds.
pub fn mono_ms() -> f64 {
    PERFORMANCE.with(|found| found.as_ref().map_or(0.0, Performance::now))
}
