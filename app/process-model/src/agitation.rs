//! How the tank is moved while a bath is in it.

use crate::quantity::Seconds;

/// The rhythm of one step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Agitation {
    /// The tank stays still.
    Still,
    /// A first spell, then still.
    Once {
        /// Length of the spell. More than zero.
        first: Seconds,
    },
    /// A first spell, then a shorter one at every multiple of the interval.
    Repeated {
        /// Length of the first spell. More than zero.
        first: Seconds,
        /// Length of each later spell. More than zero.
        repeat: Seconds,
        /// From the start of one spell to the start of the next. More than zero.
        interval: Seconds,
    },
    /// Moved until it is poured back.
    Continuous,
}

impl Agitation {
    /// The rhythm that three numbers of a sheet mean.
    ///
    /// An `interval` of zero or less with a `repeat` is until drain, and is never divided by.
    pub fn from_numbers(first: Seconds, repeat: Seconds, interval: Seconds) -> Self {
        let moves = |length: Seconds| length.get() > 0.0;
        match (moves(first), moves(repeat), moves(interval)) {
            (_, true, false) => Self::Continuous,
            (true, true, true) => Self::Repeated { first, repeat, interval },
            (false, true, true) => Self::Repeated { first: repeat, repeat, interval },
            (true, false, _) => Self::Once { first },
            (false, false, _) => Self::Still,
        }
    }

    /// The three numbers of a sheet: first spell, each later one, and the interval between starts.
    pub const fn numbers(self) -> (Seconds, Seconds, Seconds) {
        let none = Seconds::whole(0);
        match self {
            Self::Still => (none, none, none),
            Self::Once { first } => (first, none, none),
            Self::Repeated { first, repeat, interval } => (first, repeat, interval),
            Self::Continuous => (none, Seconds::whole(1), none),
        }
    }
}

/// One stretch of moving the tank, on the clock of its step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spell {
    /// When the hands begin.
    pub start: Seconds,
    /// When they rest. Later than `start`.
    pub end: Seconds,
}

/// How long before pour-back a repeating spell must have ended: pouring moves the bath too.
pub const STILL_BEFORE_POUR_BACK: Seconds = Seconds::new(3.0);

/// Two spells closer than this become one longer spell.
pub const SHORTEST_GAP: Seconds = Seconds::new(2.0);

/// The spells of a step whose first can start at `first_start` and which is poured back at
/// `pour_back`, in order, with at least [`SHORTEST_GAP`] between them.
///
/// A first spell that would reach `pour_back` is cut there; one that has no room is left out.
/// Repeating spells that would end later than [`STILL_BEFORE_POUR_BACK`] before it are left out.
///
/// # Source
///
/// The rhythm is the sheet's. Joining and leaving out are our own rules.
pub fn spells(agitation: Agitation, first_start: Seconds, pour_back: Seconds) -> Vec<Spell> {
    let mut found = Vec::new();
    let first = |length: f64| Spell {
        start: first_start,
        end: Seconds::new((first_start.get() + length).min(pour_back.get())),
    };
    match agitation {
        Agitation::Still => {}
        Agitation::Continuous => found.push(Spell { start: first_start, end: pour_back }),
        Agitation::Once { first: length } => found.push(first(length.get())),
        Agitation::Repeated { first: length, repeat, interval } => {
            found.push(first(length.get()));
            let last_end = pour_back.get() - STILL_BEFORE_POUR_BACK.get();
            let mut multiple = (first_start.get() / interval.get()).ceil().max(0.0);
            while multiple * interval.get() + repeat.get() <= last_end {
                let start = multiple * interval.get();
                let end = Seconds::new(start + repeat.get());
                found.push(Spell { start: Seconds::new(start), end });
                multiple += 1.0;
            }
        }
    }
    found.retain(|spell| spell.start < spell.end);
    joined(found)
}

/// The same spells with those that overlap or nearly touch made into one.
fn joined(spells: Vec<Spell>) -> Vec<Spell> {
    let mut out: Vec<Spell> = Vec::with_capacity(spells.len());
    for spell in spells {
        match out.last_mut() {
            Some(last) if spell.start.get() - last.end.get() < SHORTEST_GAP.get() => {
                if spell.end > last.end {
                    last.end = spell.end;
                }
            }
            _ => out.push(spell),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const USUAL: Agitation = Agitation::Repeated {
        first: Seconds::new(10.0),
        repeat: Seconds::new(5.0),
        interval: Seconds::new(30.0),
    };

    #[track_caller]
    fn check(agitation: Agitation, first_start: f64, pour_back: f64, expected: &[(f64, f64)]) {
        let found: Vec<_> = spells(agitation, Seconds::new(first_start), Seconds::new(pour_back))
            .into_iter()
            .map(|spell| (spell.start.get(), spell.end.get()))
            .collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn a_developer_is_moved_first_and_then_at_every_half_minute() {
        let expected = [(10., 20.), (30., 35.), (60., 65.), (90., 95.), (120., 125.)];
        check(USUAL, 10.0, 128.0, &expected);
    }

    #[test]
    fn a_spell_that_would_end_within_three_seconds_of_pour_back_is_left_out() {
        check(USUAL, 10.0, 37.9, &[(10.0, 20.0)]);
        check(USUAL, 10.0, 38.0, &[(10.0, 20.0), (30.0, 35.0)]);
    }

    #[test]
    fn a_slow_filler_gets_one_longer_spell() {
        check(USUAL, 18.5, 60.0, &[(18.5, 35.0)]);
        check(USUAL, 30.0, 60.0, &[(30.0, 40.0)]);
    }

    #[test]
    fn continuous_agitation_goes_on_until_pour_back() {
        check(Agitation::Continuous, 10.0, 185.0, &[(10.0, 185.0)]);
    }

    #[test]
    fn an_interval_of_nothing_is_never_divided_by() {
        let zero = Seconds::new(0.0);
        let five = Seconds::new(5.0);
        assert_eq!(Agitation::from_numbers(five, five, zero), Agitation::Continuous);
        assert_eq!(Agitation::from_numbers(five, five, Seconds::new(-1.0)), Agitation::Continuous);
        assert_eq!(Agitation::from_numbers(zero, zero, zero), Agitation::Still);
        assert_eq!(Agitation::from_numbers(five, zero, zero), Agitation::Once { first: five });
    }

    proptest! {
        #[test]
        fn spells_come_in_order_and_leave_the_pour_alone(
            first in 0_u32..40, repeat in 0_u32..40, interval in 0_u32..120,
            start in 0_u32..40, time in 20_u32..900,
        ) {
            let whole = Seconds::whole;
            let rhythm = Agitation::from_numbers(whole(first), whole(repeat), whole(interval));
            let found = spells(rhythm, whole(start), whole(time));
            for pair in found.windows(2) {
                let gap = pair[1].start.get() - pair[0].end.get();
                prop_assert!(gap >= SHORTEST_GAP.get());
                prop_assert!(pair[1].end.get() <= f64::from(time) - 3.0);
            }
            for spell in found {
                prop_assert!(spell.start < spell.end && spell.end <= whole(time));
            }
        }
    }
}
