//! Instants: wall-clock milliseconds, so that a run outlives a reload.

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
        let (year, month, day) = date_of(held.div_euclid(DAY_MS));
        let ms = held.rem_euclid(DAY_MS);
        let (hour, minute) = (ms / 3_600_000, ms / 60_000 % 60);
        let (second, ms) = (ms / 1000 % 60, ms % 1000);
        format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}.{ms:03}Z")
    }

    /// The instant that a file holds, if it is one: as RFC 3339 has it.
    pub fn from_iso(text: &str) -> Option<Self> {
        let rest = &mut text.as_bytes();
        let year = take(rest, 4)?;
        skip(rest, b"-")?;
        let month = take(rest, 2)?;
        skip(rest, b"-")?;
        let day = take(rest, 2)?;
        skip(rest, b"Tt ")?;
        let hour = take(rest, 2)?;
        skip(rest, b":")?;
        let minute = take(rest, 2)?;
        skip(rest, b":")?;
        let second = take(rest, 2)?;
        let mut ms = 0;
        if skip(rest, b".").is_some() {
            ms = take(rest, 1)? * 100;
            let mut unit = 10;
            while let Some(digit) = take(rest, 1) {
                ms += digit * unit;
                unit /= 10;
            }
        }
        let east_min = match skip(rest, b"Zz+-")? {
            sign @ (b'+' | b'-') => {
                let hours = take(rest, 2).filter(|hours| *hours < 24)?;
                skip(rest, b":")?;
                let minutes = take(rest, 2).filter(|minutes| *minutes < 60)?;
                (hours * 60 + minutes) * if sign == b'-' { -1 } else { 1 }
            }
            _ => 0,
        };
        let days = days_of(year, month, day);
        // A day that there is not comes back as another; a minute may have a leap second.
        let is_one = (1..=12).contains(&month) && date_of(days) == (year, month, day);
        let is_one = is_one && hour < 24 && minute < 60 && second <= 60 && rest.is_empty();
        let minutes = (days * 24 + hour) * 60 + minute - east_min;
        is_one.then_some(Self(minutes * 60_000 + second * 1000 + ms))
    }
}

const DAY_MS: i64 = 86_400_000;

/// So many digits from the front, as a number.
fn take(rest: &mut &[u8], count: usize) -> Option<i64> {
    let (digits, left) = rest.split_at_checked(count)?;
    let mut number = 0;
    for digit in digits {
        number = number * 10 + i64::from(char::from(*digit).to_digit(10)?);
    }
    *rest = left;
    Some(number)
}

/// One of these signs from the front.
fn skip(rest: &mut &[u8], signs: &[u8]) -> Option<u8> {
    let (first, left) = rest.split_first()?;
    if !signs.contains(first) {
        return None;
    }
    *rest = left;
    Some(*first)
}

/// Days since the start of 1970 in the Gregorian calendar, counted in years that begin with March and
/// in eras of 400 years. The two functions were worked out for this; the tests compare them with a
/// library.
const fn days_of(year: i64, month: i64, day: i64) -> i64 {
    let year = if month <= 2 { year - 1 } else { year };
    let (era, of_era) = (year.div_euclid(400), year.rem_euclid(400));
    let of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719_468
}

/// Year, month and day of that many days since the start of 1970.
const fn date_of(days: i64) -> (i64, i64, i64) {
    let (era, day) = ((days + 719_468).div_euclid(146_097), (days + 719_468).rem_euclid(146_097));
    let of_era = (day - day / 1_460 + day / 36_524 - day / 146_096) / 365;
    let of_year = day - (365 * of_era + of_era / 4 - of_era / 100);
    let month = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month + 2) / 5 + 1;
    let month = if month < 10 { month + 3 } else { month - 9 };
    let year = era * 400 + of_era;
    (if month <= 2 { year + 1 } else { year }, month, day)
}

#[cfg(test)]
mod tests {
    use chrono::{DateTime, SecondsFormat, Utc};
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
        fn an_instant_is_written_and_read_as_a_library_does(ms in -62_167_219_200_000_i64..253_402_300_799_999) {
            let theirs: DateTime<Utc> = DateTime::from_timestamp_millis(ms).unwrap();
            let at = Timestamp::from_milliseconds(ms);
            prop_assert_eq!(at.to_iso(), theirs.to_rfc3339_opts(SecondsFormat::Millis, true));
            for format in [SecondsFormat::Secs, SecondsFormat::Micros, SecondsFormat::Nanos] {
                let text = theirs.to_rfc3339_opts(format, false);
                let read = DateTime::parse_from_rfc3339(&text).unwrap().timestamp_millis();
                prop_assert_eq!(Timestamp::from_iso(&text), Some(Timestamp::from_milliseconds(read)));
            }
        }

        #[test]
        fn what_is_nearly_an_instant_is_read_or_refused_as_a_library_does(
            text in "[0-9]{4}-[01][0-9]-[0-3][0-9][Tt ][0-2][0-9]:[0-6][0-9]:[0-6][0-9](\\.[0-9]{0,12})?(Z|z|[+-][0-2][0-9]:[0-6][0-9]|)( |Z)?",
        ) {
            let theirs = DateTime::parse_from_rfc3339(&text).ok().map(|at| at.timestamp_millis());
            prop_assert_eq!(Timestamp::from_iso(&text).map(Timestamp::milliseconds), theirs, "{}", text);
        }

        #[test]
        fn no_text_makes_it_panic(text in ".*") {
            let _ = Timestamp::from_iso(&text);
        }

        #[test]
        fn any_instant_can_be_written(ms: i64) {
            prop_assert!(Timestamp::from_iso(&Timestamp::from_milliseconds(ms).to_iso()).is_some());
        }
    }
}
