//! Rolls: written down, put into a tank, and the evening they were developed in.

use leptos::prelude::*;
use session::notebook::{Kind, Record};
use session::rolls::{Stage, stage};
use session::run::Tank;
use session::sheets;
use session::shelf::standing;
use session::timestamp::Timestamp;

use super::records::Changes;
use super::{KeptRun, OpenRun, Store};
use crate::browser::events;
use crate::route::Route;

/// Runs that begin within this time of the first belong to one evening; our choice.
const EVENING_MS: i64 = 12 * 3_600_000;

impl Store {
    /// Changes fields of a roll, which begins to be with the first of them.
    pub fn write_roll(self, id: &str, changes: Changes) {
        if self.record_untracked(id).is_some() {
            return self.change_record(id, changes);
        }
        if changes.iter().all(|(_, value)| value.is_null()) {
            return;
        }
        let roll = Record::new(Kind::Roll, id, &self.device(), self.wall_now())
            .with("number", self.next_number());
        self.put_record(
            changes.into_iter().fold(roll, |roll, (field, value)| roll.with(field, value)),
        );
    }

    fn next_number(self) -> u64 {
        self.records.with_untracked(|records| {
            let numbers = records.iter().filter_map(|record| record.value("number")?.as_u64());
            numbers.max().unwrap_or_default() + 1
        })
    }

    /// Puts a roll into the tank that is next, or takes it out.
    pub fn tick_roll(self, id: &str) {
        let mut ticked = self.ticked.get_untracked();
        let before = ticked.len();
        ticked.retain(|other| other != id);
        if ticked.len() == before {
            ticked.push(id.to_owned());
        }
        self.ticked.set(ticked);
    }

    /// What a run's beginning means for rolls and the evening.
    pub(super) fn run_began(self) {
        let Some(run) = self.run.with_untracked(|open| {
            let open = open.as_ref().filter(|open| !open.run.plan.practice)?;
            Some(open.record.clone())
        }) else {
            return;
        };
        for roll in self.ticked.get_untracked() {
            self.change_record(&roll, vec![("run", run.id().into())]);
        }
        self.ticked.set(Vec::new());
        if !run.record.text("session").is_empty() {
            return;
        }
        let now = self.wall_now();
        let evening = self.records.with_untracked(|records| {
            let tonight = |record: &&Record| {
                let began = record.instant("began_at").unwrap_or_default();
                record.kind() == Kind::Session && (0..EVENING_MS).contains(&now.since_ms(began))
            };
            records.iter().find(tonight).map(|record| record.id().to_owned())
        });
        let evening = evening.unwrap_or_else(|| {
            self.add_record(Kind::Session, vec![("began_at", now.to_iso().into())])
        });
        let device = self.device();
        let changes = [("session", evening.into()), ("solutions", self.poured_by_the_run())];
        self.picked.set(Vec::new());
        self.run.update(|open| {
            if let Some(open) = open {
                open.record.record = open.record.record.edited(&device, now, changes);
            }
        });
        self.run.with_untracked(|open| {
            if let Some(open) = open {
                self.keep_record(&open.record);
            }
        });
    }

    /// The latest run that began.
    pub fn last_run(self) -> Option<OpenRun> {
        self.kept.with(|kept| {
            kept.iter().find_map(|kept| match kept {
                KeptRun::Readable(open) => Some(open.as_ref().clone()),
                KeptRun::Unreadable { .. } => None,
            })
        })
    }

    /// Where a run by that sheet may not begin: what is shown instead.
    pub fn instead_of_a_run(self, sheet: &str) -> Option<Route> {
        // A real film is not put into an invented notebook.
        if events::is_demo() {
            return Some(Route::Practise);
        }
        // A solution that something ruined is not poured onto another roll.
        if self.blocked_solution(sheet).is_some() {
            return Some(Route::Shelf);
        }
        // What was put aside is not gone on with unasked, nor another in its place.
        if !self.records.with(|records| sheets::is_there(records, sheet)) {
            return Some(Route::Sheets);
        }
        // A sheet that nobody has compared with a leaflet does not drive a prompt.
        let sheet = self.sheet(sheet);
        (!sheet.can_start()).then(|| Route::Sheet(sheet.sheet.key.to_string()))
    }

    /// The sheet of the latest run again.
    pub fn same_again(self) {
        let Some(last) = untrack(|| self.last_run()) else { return };
        if let Some(instead) = untrack(|| self.instead_of_a_run(&last.run.plan.sheet)) {
            return self.go(instead);
        }
        self.change_habits(|habits| habits.sheet.clone_from(&last.run.plan.sheet));
        self.go(untrack(|| self.first_screen_again()));
    }

    /// Where the same again begins: with Tempering, but for what has to be read or chosen before.
    pub fn first_screen_again(self) -> Route {
        if !self.cautions_read.get() {
            return Route::LayOut(0);
        }
        // The longer time of a worn developer is offered where things are laid out, and a suspect
        // solution is named there.
        let plan = self.next_plan();
        let is_suspect = plan.steps.iter().filter_map(|step| self.in_use(step.bath));
        // Which it is follows from what was done with it; what went through it changes nothing.
        let is_suspect = is_suspect.into_iter().any(|used| standing(&used, &[]).suspect.is_some());
        let asks = is_suspect || self.has_a_choice(&plan) || self.worn(&plan).is_some();
        if asks { Route::LayOut(1) } else { Route::Tempering }
    }

    /// Does so for one who asked from outside of the page, by its address.
    pub(super) fn same_if_asked(self) {
        if self.route.get_untracked() != Route::Same {
            return;
        }
        if self.is_live() {
            return self.return_to_run();
        }
        self.route.set(Route::Bench);
        events::set_fragment(&Route::Bench.fragment(), true);
        self.same_again();
    }

    /// Whether a roll is in the tank of the open run.
    pub fn is_in_the_tank(self, roll: &Record) -> bool {
        self.run.with(|open| open.as_ref().is_some_and(|open| open.record.id() == roll.text("run")))
    }

    /// A run that was kept, by its id.
    pub fn kept_run(self, id: &str) -> Option<OpenRun> {
        self.kept.with(|kept| {
            kept.iter().find_map(|kept| match kept {
                KeptRun::Readable(open) if open.record.id() == id => Some(open.as_ref().clone()),
                KeptRun::Readable(_) | KeptRun::Unreadable { .. } => None,
            })
        })
    }

    /// The rolls at one place on their way. Only those are copied: there may be ten thousand others.
    pub fn rolls_at(self, at: Stage) -> Vec<Record> {
        self.records.with(|records| {
            let is_there = |roll: &&Record| {
                roll.kind() == Kind::Roll && !roll.is_deleted() && stage(roll) == at
            };
            records.iter().filter(is_there).cloned().collect()
        })
    }

    /// The rolls of a run. Only those are copied.
    pub fn rolls_in(self, run: &str) -> Vec<Record> {
        self.records.with(|records| {
            let is_in = |roll: &&Record| {
                roll.kind() == Kind::Roll && !roll.is_deleted() && roll.text("run") == run
            };
            records.iter().filter(is_in).cloned().collect()
        })
    }

    /// Whether the film of a run that was kept was hung or the run was stopped, and when.
    pub fn hung_or_stopped(self, id: &str) -> Option<(bool, Timestamp)> {
        self.kept.with(|kept| {
            kept.iter().find_map(|kept| match kept {
                KeptRun::Readable(open) if open.record.id() == id => match open.run.state.tank {
                    Tank::Done { at } => Some((true, at)),
                    Tank::Left { at } => Some((false, at)),
                    Tank::Ready | Tank::Bath { .. } | Tank::Asking { .. } => None,
                },
                KeptRun::Readable(_) | KeptRun::Unreadable { .. } => None,
            })
        })
    }
}
