//! What was done with a solution, as its record has it: a list that only grows.

use serde_json::{Value, json};

use super::record::Record;
use crate::timestamp::Timestamp;

/// What may be done with a solution that says whether it may be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Done {
    /// It was mixed anew.
    Mixed,
    /// Something got in that may matter.
    Suspect,
    /// Something got in that ruins it.
    Blocked,
}

impl Done {
    const fn name(self) -> &'static str {
        match self {
            Self::Mixed => "mixed",
            Self::Suspect => "suspect",
            Self::Blocked => "blocked",
        }
    }
}

/// The events of a solution with one more; of one that has no record yet, that one alone.
pub fn events_with(known: Option<&Record>, at: Timestamp, done: Done, note: &str) -> Value {
    let mut events: Vec<Value> =
        known.map(|known| known.list("events").to_vec()).unwrap_or_default();
    events.push(json!({ "at": at.to_iso(), "event": done.name(), "note": note }));
    Value::Array(events)
}

/// Why a solution may not be used, if it may not: nothing was mixed since something ruined it.
pub fn blocked(solution: &Record) -> Option<String> {
    let decides = |event: &&Value| {
        [Done::Mixed, Done::Blocked].iter().any(|done| event["event"] == done.name())
    };
    let last = solution.list("events").iter().rev().find(decides)?;
    (last["event"] == Done::Blocked.name())
        .then(|| last["note"].as_str().unwrap_or_default().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notebook::Kind;

    fn after(done: &[Done]) -> Record {
        let solution = Record::new(Kind::Solution, "s", "d", Timestamp::default());
        let solution = solution.with("name", "Developer").with("bath", "developer");
        done.iter().fold(solution, |solution, done| {
            let events = events_with(Some(&solution), Timestamp::default(), *done, "bleach-fix");
            solution.with("events", events)
        })
    }

    #[test]
    fn a_solution_is_blocked_until_it_is_mixed_anew() {
        assert_eq!(blocked(&after(&[])), None);
        assert_eq!(blocked(&after(&[Done::Mixed, Done::Blocked])).as_deref(), Some("bleach-fix"));
        assert_eq!(blocked(&after(&[Done::Blocked, Done::Mixed])), None);
        // A doubt about it changes nothing.
        let doubted = after(&[Done::Blocked, Done::Suspect]);
        assert_eq!(blocked(&doubted).as_deref(), Some("bleach-fix"));
        assert_eq!(blocked(&after(&[Done::Suspect])), None);
    }

    #[test]
    fn what_was_done_before_is_kept() {
        assert_eq!(after(&[Done::Mixed, Done::Blocked, Done::Mixed]).list("events").len(), 3);
    }
}
