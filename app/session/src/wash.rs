//! The last wash: counted up, ended by the eye.

use crate::entry::Look;

/// From one change of water to the next: one soak-minute.
pub const FILL_MS: i64 = 60_000;

/// Fewer fills than this do not end a wash, however clear the water looks.
///
/// # Source
///
/// Our rule: five soak-minutes, the nominal 5:00 of the two-bath sheet.
pub const LEAST_FILLS: i64 = 5;

/// What has been seen of the wash water.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wash {
    /// One judgement a fill at most: which fill, and how the water looked. In order.
    judged: Vec<(i64, Look)>,
}

/// What a judgement would do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The wash goes on.
    GoesOn,
    /// Clear twice running, but too early: so many more fills.
    ClearTooEarly {
        /// How many. One or more.
        more: i64,
    },
    /// The wash is over.
    Ends,
}

impl Wash {
    /// What judging the water so, `elapsed_ms` after the pour, does in a wash of at least
    /// `least_ms`.
    pub fn verdict(&self, elapsed_ms: i64, look: Look, least_ms: i64) -> Verdict {
        let fill = fill_at(elapsed_ms);
        let before = self.judged.iter().rev().find(|(judged, _)| *judged != fill);
        let twice = look == Look::Clear && matches!(before, Some((_, Look::Clear)));
        if !twice {
            return Verdict::GoesOn;
        }
        let more = self.fills_short_of_the_end(elapsed_ms, least_ms);
        if more > 0 { Verdict::ClearTooEarly { more } } else { Verdict::Ends }
    }

    /// How many more fills there must be before the water may end the wash. Zero or less: none.
    pub fn fills_short_of_the_end(&self, elapsed_ms: i64, least_ms: i64) -> i64 {
        let to_least = (least_ms - elapsed_ms).max(0);
        (LEAST_FILLS - fill_at(elapsed_ms)).max((to_least + FILL_MS - 1) / FILL_MS)
    }

    /// Keeps a judgement made `elapsed_ms` after the pour. A second one in a fill replaces the
    /// first.
    pub fn look(&mut self, elapsed_ms: i64, look: Look) {
        let fill = fill_at(elapsed_ms);
        self.judged.retain(|(judged, _)| *judged != fill);
        self.judged.push((fill, look));
    }

    /// The last judgement: in which fill it was made, and how the water looked.
    pub fn last(&self) -> Option<(i64, Look)> {
        self.judged.last().copied()
    }

    /// Whether the last two judgements were both clear.
    pub fn is_clear_twice(&self) -> bool {
        matches!(self.judged.as_slice(), [.., (_, Look::Clear), (_, Look::Clear)])
    }
}

/// How many fills are complete `elapsed_ms` after the pour.
pub fn fill_at(elapsed_ms: i64) -> i64 {
    elapsed_ms.max(0) / FILL_MS
}

/// One part in how many of what the film carried is left after so many fills at 38 °C.
///
/// # Source
///
/// Estimate, our own model of the wash, from one fill to seven; more fills count as seven.
pub fn left_over_one_in(fills: i64) -> Option<u32> {
    const ONE_IN: [u32; 7] = [3, 9, 26, 75, 220, 670, 2000];
    let index = usize::try_from(fills).ok()?.checked_sub(1)?;
    ONE_IN.get(index.min(ONE_IN.len() - 1)).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    const LEAST: i64 = 180_000;

    #[track_caller]
    fn check(seen: &[(i64, Look)], at_s: i64, look: Look, expected: Verdict) {
        let mut wash = Wash::default();
        for (seen_s, look) in seen {
            wash.look(seen_s * 1_000, *look);
        }
        assert_eq!(wash.verdict(at_s * 1_000, look, LEAST), expected);
    }

    #[test]
    fn a_wash_ends_when_the_water_is_clear_twice_running() {
        check(&[(305, Look::Clear)], 365, Look::Clear, Verdict::Ends);
        check(&[(305, Look::Clear), (362, Look::Tinted)], 425, Look::Clear, Verdict::GoesOn);
        check(&[], 365, Look::Clear, Verdict::GoesOn);
    }

    #[test]
    fn two_taps_in_one_fill_are_one_look() {
        check(&[(362, Look::Clear)], 364, Look::Clear, Verdict::GoesOn);
        check(&[(305, Look::Clear), (362, Look::Tinted)], 364, Look::Clear, Verdict::Ends);
    }

    #[test]
    fn clear_too_early_says_how_many_more_fills() {
        check(&[(125, Look::Clear)], 185, Look::Clear, Verdict::ClearTooEarly { more: 2 });
        check(&[(185, Look::Clear)], 245, Look::Clear, Verdict::ClearTooEarly { more: 1 });
    }

    #[test]
    fn the_sheets_minimum_counts_too() {
        let mut wash = Wash::default();
        wash.look(245_000, Look::Clear);
        let verdict = wash.verdict(305_000, Look::Clear, 420_000);
        assert_eq!(verdict, Verdict::ClearTooEarly { more: 2 });
    }

    #[test]
    fn what_is_left_over_falls_with_every_fill() {
        assert_eq!(left_over_one_in(0), None);
        assert_eq!(left_over_one_in(1), Some(3));
        assert_eq!(left_over_one_in(7), Some(2000));
        assert_eq!(left_over_one_in(12), Some(2000));
    }
}
