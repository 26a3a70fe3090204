//! Which solution may not be used any more, and since when it may again.

use leptos::prelude::*;
use process_model::sheet::Bath;
use session::entry::Fault;
use session::notebook::solutions::{Done, blocked, events_with};
use session::notebook::{Kind, Named, Record};

use super::Store;
use crate::text;

impl Store {
    /// What a fault means for the solutions of the open run.
    pub(super) fn note_on_solution(self, fault: Fault) {
        let of = |is_meant: fn(Bath) -> bool| {
            self.run.with_untracked(|open| {
                let steps = &open.as_ref()?.run.plan.steps;
                steps.iter().map(|step| step.bath).find(|bath| is_meant(*bath))
            })
        };
        let (bath, done, note) = if fault == Fault::BleachFixInDeveloper {
            (of(Bath::is_developer), Done::Blocked, "bleach-fix got in")
        } else if fault == Fault::DeveloperInBleachFix {
            (of(|bath| bath == Bath::BleachFix), Done::Suspect, "developer got in")
        } else {
            return;
        };
        if let Some(bath) = bath {
            self.note_solution(bath, done, note);
        }
    }

    /// Writes down what was done with the solution of a bath.
    pub fn note_solution(self, bath: Bath, done: Done, note: &str) {
        let known = untrack(|| self.solution_of(bath));
        let events = events_with(known.as_ref(), self.wall_now(), done, note);
        if let Some(known) = known {
            return self.change_record(known.id(), vec![("events", events)]);
        }
        let fields = vec![
            ("name", text::bath(bath).into()),
            ("bath", bath.file_name().into()),
            ("events", events),
        ];
        self.add_record(Kind::Solution, fields);
    }

    fn solution_of(self, bath: Bath) -> Option<Record> {
        let solutions = self.records_of(Kind::Solution);
        solutions.into_iter().find(|solution| solution.text("bath") == bath.file_name())
    }

    /// The first solution that may not be used: its bath, and why.
    pub fn blocked_solution(self) -> Option<(Bath, String)> {
        let solutions = self.records_of(Kind::Solution);
        solutions.iter().find_map(|solution| {
            Some((Bath::from_file_name(solution.text("bath"))?, blocked(solution)?))
        })
    }
}
