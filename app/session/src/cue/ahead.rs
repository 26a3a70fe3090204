//! The cues of the next while, worked out once for as long as the run stays as it is.
//!
//! A page asks every second, and every second would put all the words of a step together anew.

use super::{Cue, shown};
use crate::entry::Entry;
use crate::plan::Plan;
use crate::run::Run;
use crate::timestamp::Timestamp;

/// How far ahead is worked out.
const AHEAD_MS: i64 = 20_000;

/// Cues that were worked out, and what they follow from.
#[derive(Clone, Debug, Default)]
pub struct Ahead {
    of: Option<Of>,
    cues: Vec<Cue>,
}

/// A run is its plan and its log, and a log only grows.
#[derive(Clone, Debug, PartialEq)]
struct Of {
    plan: Plan,
    entries: usize,
    last: Option<Entry>,
    from: Timestamp,
    until: Timestamp,
}

impl Ahead {
    /// What [`shown`] gives for the run and the span.
    pub fn shown(&mut self, run: &Run, from: Timestamp, until: Timestamp) -> Vec<Cue> {
        if !self.of.as_ref().is_some_and(|of| of.holds(run, from, until)) {
            let until = until.max(from.plus_ms(AHEAD_MS));
            self.cues = shown(run, from, until);
            let (entries, last) = (run.log.len(), run.log.last().cloned());
            self.of = Some(Of { plan: run.plan.clone(), entries, last, from, until });
        }
        self.cues.iter().filter(|cue| from <= cue.at && cue.at < until).copied().collect()
    }
}

impl Of {
    fn holds(&self, run: &Run, from: Timestamp, until: Timestamp) -> bool {
        self.from <= from
            && until <= self.until
            && self.entries == run.log.len()
            && self.last.as_ref() == run.log.last()
            && self.plan == run.plan
    }
}
