//! The run's clock: made from the phone's two clocks, neither of which is safe alone.
//!
//! The monotonic clock stops while a phone sleeps; the wall clock can be set. While the page was
//! visible the whole time the monotonic clock wins in both directions. After the page was hidden
//! a forward difference is sleep and the wall clock wins; a backward one is somebody's hand.

use crate::timestamp::Timestamp;

/// A smaller difference between the two clocks is left alone.
const THRESHOLD_MS: i64 = 2_000;

/// Both clocks of the phone at one instant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Both {
    /// Milliseconds since 1970 on the wall clock.
    pub wall_ms: i64,
    /// Milliseconds on the monotonic clock, from an origin of its own.
    pub mono_ms: f64,
}

/// What was found when the clocks were compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// They agree.
    Steady,
    /// Somebody set the wall clock; the run's clock did not follow.
    Set {
        /// By how much it moved.
        by_ms: i64,
    },
    /// The phone slept, and the run's clock caught up.
    Slept {
        /// How long the monotonic clock stood.
        ms: i64,
    },
}

/// The run's clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// The phone's clocks when they were last brought together.
    anchor: Both,
    /// The run's time then.
    run_ms: i64,
    /// Whether the page has been hidden since then.
    hidden: bool,
}

impl Clock {
    /// A clock that starts from the wall clock less `shift_ms`: how far the wall clock had been
    /// moved away from the run's clock before.
    pub fn new(both: Both, shift_ms: i64) -> Self {
        Self { anchor: both, run_ms: both.wall_ms.saturating_sub(shift_ms), hidden: false }
    }

    /// A clock that must not be earlier than `floor`, such as the last thing that was kept.
    ///
    /// Also says by how much the wall clock must have been set back, if it must have been.
    pub fn no_earlier_than(self, floor: Timestamp) -> (Self, Found) {
        let behind = floor.milliseconds() - self.run_ms;
        if behind <= 0 {
            return (self, Found::Steady);
        }
        (Self { run_ms: floor.milliseconds(), ..self }, Found::Set { by_ms: -behind })
    }

    /// The run's time.
    #[expect(clippy::cast_possible_truncation, reason = "a page lives far shorter than 2^53 ms")]
    pub fn now(&self, both: Both) -> Timestamp {
        let passed = (both.mono_ms - self.anchor.mono_ms).round() as i64;
        Timestamp::from_milliseconds(self.run_ms + passed.max(0))
    }

    /// The page was hidden: the monotonic clock may have stood since.
    pub fn hide(&mut self) {
        self.hidden = true;
    }

    /// Compares the clocks and starts anew from here.
    pub fn reconcile(&mut self, both: Both) -> Found {
        let by_mono = self.now(both);
        let by_wall = both.wall_ms - self.anchor.wall_ms;
        let skew = self.run_ms + by_wall - by_mono.milliseconds();
        let (found, run_ms) = if skew.abs() <= THRESHOLD_MS {
            // The anchor stays, so that small differences cannot add up to a drift unseen.
            self.hidden = false;
            return Found::Steady;
        } else if self.hidden && skew > 0 {
            (Found::Slept { ms: skew }, by_mono.milliseconds() + skew)
        } else {
            (Found::Set { by_ms: skew }, by_mono.milliseconds())
        };
        *self = Self { anchor: both, run_ms, hidden: false };
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOUR: i64 = 3_600_000;

    fn both(wall_ms: i64, mono_ms: f64) -> Both {
        Both { wall_ms, mono_ms }
    }

    #[test]
    fn setting_the_clock_while_the_page_is_visible_changes_nothing() {
        for by in [HOUR, -HOUR] {
            let mut clock = Clock::new(both(10 * HOUR, 5.0), 0);
            let later = both(10 * HOUR + 1_000 + by, 1_005.0);
            assert_eq!(clock.reconcile(later), Found::Set { by_ms: by });
            assert_eq!(clock.now(later).milliseconds(), 10 * HOUR + 1_000);
        }
    }

    #[test]
    fn a_phone_that_slept_catches_up() {
        let mut clock = Clock::new(both(10 * HOUR, 0.0), 0);
        clock.hide();
        let later = both(10 * HOUR + 61_000, 1_000.0);
        assert_eq!(clock.reconcile(later), Found::Slept { ms: 60_000 });
        assert_eq!(clock.now(later).milliseconds(), 10 * HOUR + 61_000);
    }

    #[test]
    fn a_clock_set_back_while_the_page_was_hidden_does_not_turn_time_back() {
        let mut clock = Clock::new(both(10 * HOUR, 0.0), 0);
        clock.hide();
        let later = both(9 * HOUR + 61_000, 61_000.0);
        assert_eq!(clock.reconcile(later), Found::Set { by_ms: -HOUR });
        assert_eq!(clock.now(later).milliseconds(), 10 * HOUR + 61_000);
    }

    #[test]
    fn after_a_reload_time_is_never_earlier_than_what_was_kept() {
        let floor = Timestamp::from_milliseconds(10 * HOUR);
        let (clock, found) = Clock::new(both(9 * HOUR, 0.0), 0).no_earlier_than(floor);
        assert_eq!(found, Found::Set { by_ms: -HOUR });
        assert_eq!(clock.now(both(9 * HOUR, 250.0)).milliseconds(), 10 * HOUR + 250);
    }

    #[test]
    fn a_clock_that_was_set_before_a_reload_is_still_set_after_it() {
        let clock = Clock::new(both(11 * HOUR, 0.0), HOUR);
        assert_eq!(clock.now(both(11 * HOUR, 0.0)).milliseconds(), 10 * HOUR);
    }
}
