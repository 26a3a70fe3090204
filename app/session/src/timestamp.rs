//! Instants: wall-clock milliseconds, so that a run outlives a reload.

use chrono::{DateTime, SecondsFormat, Utc};

/// Milliseconds since 1 January 1970, UTC, on the clock of the run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Timestamp(i64);

impl Timestamp {
    /// The instant `ms` milliseconds after the start of 1970.
    pub const fn from_milliseconds(ms: i64) -> Self {
        Self(ms)
    }

    /// Milliseconds since the start of 1970.
    pub const fn milliseconds(self) -> i64 {
        self.0
    }

    /// The instant `ms` later. Held at the ends of what an instant can be.
    #[must_use]
    pub const fn plus_ms(self, ms: i64) -> Self {
        Self(self.0.saturating_add(ms))
    }

    /// Milliseconds from `earlier` to here; negative if `earlier` is later.
    pub const fn since_ms(self, earlier: Self) -> i64 {
        self.0.saturating_sub(earlier.0)
    }

    /// The instant as ISO 8601 in UTC, to the millisecond. Held within the years 0 to 9999.
    pub fn to_iso(self) -> String {
        const YEAR_0_MS: i64 = -62_167_219_200_000;
        const YEAR_9999_END_MS: i64 = 253_402_300_799_999;
        let held = self.0.clamp(YEAR_0_MS, YEAR_9999_END_MS);
        let at: DateTime<Utc> = DateTime::from_timestamp_millis(held).unwrap_or_default();
        at.to_rfc3339_opts(SecondsFormat::Millis, true)
    }

    /// The instant that a file holds, if it is one.
    pub fn from_iso(text: &str) -> Option<Self> {
        DateTime::parse_from_rfc3339(text).ok().map(|at| Self(at.timestamp_millis()))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn an_instant_is_written_in_iso_8601() {
        let at = Timestamp::from_milliseconds(1_773_498_600_123);
        assert_eq!(at.to_iso(), "2026-03-14T14:30:00.123Z");
        assert_eq!(Timestamp::from_iso("2026-03-14T15:30:00.123+01:00"), Some(at));
        assert_eq!(Timestamp::from_iso("2026-02-30T00:00:00Z"), None);
    }

    proptest! {
        #[test]
        fn an_instant_of_our_era_reads_back(ms in 0_i64..253_402_300_799_999) {
            let at = Timestamp::from_milliseconds(ms);
            prop_assert_eq!(Timestamp::from_iso(&at.to_iso()), Some(at));
        }

        #[test]
        fn any_instant_can_be_written(ms: i64) {
            prop_assert!(Timestamp::from_iso(&Timestamp::from_milliseconds(ms).to_iso()).is_some());
        }
    }
}
