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
}
