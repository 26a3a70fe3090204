//! The clock of one step: its spans in milliseconds from the clock's zero.

use process_model::agitation::spells;
use process_model::quantity::Seconds;

use crate::habits::Convention;
use crate::plan::{Plan, PlannedStep};
use crate::timestamp::Timestamp;

/// A span on a step's clock. Its start belongs to it, its end does not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// Milliseconds from the clock's zero.
    pub start: i64,
    /// Milliseconds from the clock's zero. Later than `start`.
    pub end: i64,
}

impl Span {
    /// Whether `at` is in the span.
    pub fn holds(self, at: i64) -> bool {
        self.start <= at && at < self.end
    }
}

/// When things happen in one step, in milliseconds from its clock's zero.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepClock {
    /// The pour tone: zero, or earlier where the clock starts when pouring is complete.
    pub tone: i64,
    /// When pouring in is done.
    pub filled: i64,
    /// When the tank is moved, in order.
    pub spells: Vec<Span>,
    /// When pouring back begins, where it is announced.
    pub pour_back: Option<i64>,
    /// When the step's time is up.
    pub end: i64,
}

impl StepClock {
    /// The clock of `step` under `plan`.
    pub fn new(plan: &Plan, step: &PlannedStep) -> Self {
        let (tone, filled) = match plan.convention {
            Convention::AsYouBegin => (0, plan.fill_ms),
            Convention::WhenComplete => (-plan.fill_ms, 0),
        };
        let end = step.time_ms;
        let pour_back =
            step.is_poured_back().then(|| (end - plan.drain_ms).clamp(filled.min(end), end));
        let still_by = pour_back.unwrap_or(end);
        let spells = spells(step.agitation, seconds(filled), seconds(still_by))
            .into_iter()
            .map(|spell| Span {
                start: spell.start.to_milliseconds(),
                end: spell.end.to_milliseconds(),
            })
            .collect();
        Self { tone, filled, spells, pour_back, end }
    }

    /// The instant of the clock's zero, if the pour tone sounds at `tone_at`.
    pub fn zero(&self, tone_at: Timestamp) -> Timestamp {
        tone_at.plus_ms(-self.tone)
    }

    /// Whether the spell that starts at `start` follows the one before it so closely that there
    /// is no time for words.
    pub fn gap_before(&self, index: usize) -> Option<i64> {
        let before = index.checked_sub(1)?;
        Some(self.spells.get(index)?.start - self.spells.get(before)?.end)
    }
}

#[expect(clippy::cast_precision_loss, reason = "a step is far shorter than 2^53 ms")]
fn seconds(ms: i64) -> Seconds {
    Seconds::new(ms as f64 / 1000.0)
}
