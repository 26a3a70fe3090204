//! Solutions: what is done with them, which of them a run pours, and how they stand by now.

use leptos::prelude::*;
use process_model::sheet::Bath;
use session::entry::{Event, Fault};
use session::notebook::solutions::{Deed, Done, blocked, deeds, events_with, events_without_last};
use session::notebook::{Kind, Named, Record, Value};
use session::plan::Plan;
use session::shelf::{self, Standing};
use session::timestamp::Timestamp;

use super::{KeptRun, Store};
use crate::text;

/// What stands among what was picked where the longer time of a worn developer was.
const WORN: &str = "worn";
/// The name under which the page remembers which solution UNDO is offered for.
const UNDO: &str = "UNDO";

impl Store {
    /// What a fault means for the solutions of the open run; taken `back`, as if it had never been
    /// noted.
    pub(super) fn note_on_solution(self, fault: Fault, back: bool) {
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
        let Some(bath) = bath else { return };
        let known = untrack(|| self.in_the_run(bath).or_else(|| self.in_use(bath)));
        if back {
            let Some(known) = known else { return };
            let last = deeds(&known).pop();
            if last.is_some_and(|last| last.done == done && last.note == note) {
                self.take_back(known.id());
            }
            return;
        }
        let id = known.map_or_else(|| self.new_solution(bath), |known| known.id().to_owned());
        self.note_deed(&id, &Deed { note: note.to_owned(), ..Deed::new(self.wall_now(), done) });
    }

    /// What is done with a solution when the fault noted as entry `of` is taken back, or is so after
    /// all.
    pub(super) fn fault_taken_back(self, of: u32, back: bool) {
        let fault = self.run.with_untracked(|open| {
            let run = &open.as_ref().filter(|open| !open.run.plan.practice)?.run;
            let entry = run.log.iter().find(|entry| entry.seq == of)?;
            if let Event::FaultNoted(fault) = entry.event { Some(fault) } else { None }
        });
        if let Some(fault) = fault {
            self.note_on_solution(fault, back);
        }
    }

    /// A solution of which nothing is known yet but what it is used as. Gives its id.
    pub fn new_solution(self, bath: Bath) -> String {
        let fields = vec![("name", text::bath(bath).into()), ("bath", bath.file_name().into())];
        self.add_record(Kind::Solution, fields)
    }

    /// Writes down what was done with a solution, and offers UNDO.
    pub fn note_deed(self, id: &str, deed: &Deed) {
        let known = self.record_untracked(id);
        self.change_record(id, vec![("events", events_with(known.as_ref(), deed))]);
        self.hint.set((UNDO.to_owned(), id.to_owned()));
    }

    /// Writes down that whatever stood against a solution is settled.
    pub fn note_fine(self, id: &str) {
        let deed = Deed::new(self.wall_now(), Done::LookedAt);
        self.note_deed(id, &Deed { fine: true, ..deed });
    }

    /// Writes down something done now.
    pub fn note_done(self, id: &str, done: Done, ml: Option<f64>) {
        self.note_deed(id, &Deed { ml, ..Deed::new(self.wall_now(), done) });
    }

    /// Whether what was just done with a solution can be taken back here.
    pub fn can_take_back(self, id: &str) -> bool {
        let (what, of) = self.hint.get();
        what == UNDO && of == id
    }

    /// Takes the last thing back that was done with a solution.
    pub fn take_back(self, id: &str) {
        if let Some(known) = self.record_untracked(id) {
            self.change_record(id, vec![("events", events_without_last(&known))]);
        }
        self.hint.set((String::new(), String::new()));
    }

    /// How a solution stands: what went through it follows from the runs that were kept.
    pub fn standing(self, solution: &Record) -> Standing {
        self.standing_at(solution, Timestamp::from_milliseconds(i64::MAX))
    }

    /// How a solution stood at an instant.
    pub fn standing_at(self, solution: &Record, until: Timestamp) -> Standing {
        let records = self.records.read();
        let kept = self.kept.read();
        let lost_ml = self.vessels().carry_over_ml;
        let film = |kept: &KeptRun| match kept {
            KeptRun::Readable(open) => {
                shelf::film_of(solution, &open.record, &open.run, &records, lost_ml)
            }
            KeptRun::Unreadable { .. } => None,
        };
        let films: Vec<_> = kept.iter().filter_map(film).collect();
        shelf::standing_at(solution, &films, until)
    }

    /// The solution of a bath that the next run pours.
    pub fn in_use(self, bath: Bath) -> Option<Record> {
        let solutions = self.records_of(Kind::Solution);
        let suits = |solution: &Record| self.suits(solution);
        shelf::in_use(&solutions, bath, &self.picked.get(), suits).cloned()
    }

    /// How well a solution goes with the sheet of the next run: what was poured by it last time well,
    /// what was poured by another badly; of what was never poured nobody knows.
    fn suits(self, solution: &Record) -> u8 {
        let sheet = self.habits.with(|habits| habits.sheet.clone());
        self.kept.with(|kept| {
            let last = kept.iter().find_map(|kept| match kept {
                KeptRun::Readable(open) => {
                    let poured = open.record.record.list("solutions").iter();
                    let is_in = poured.into_iter().any(|id| id.as_str() == Some(solution.id()));
                    is_in.then(|| open.run.plan.sheet == sheet)
                }
                KeptRun::Unreadable { .. } => None,
            });
            last.map_or(1, |same| if same { 2 } else { 0 })
        })
    }

    /// Whether the person has to say which of several bottles a plan pours.
    pub fn has_a_choice(self, plan: &Plan) -> bool {
        let solutions = self.records_of(Kind::Solution);
        let usable = |solution: &&Record| blocked(solution).is_none();
        let count = |bath| shelf::on_the_shelf(&solutions, bath).filter(usable).count();
        plan.steps.iter().any(|step| count(step.bath) > 1)
    }

    /// The solution of a bath that the open run pours.
    fn in_the_run(self, bath: Bath) -> Option<Record> {
        let poured = self
            .run
            .with(|open| open.as_ref().map(|open| open.record.record.list("solutions").to_vec()));
        let ids = poured.unwrap_or_default();
        let records = ids.iter().filter_map(|id| self.record(id.as_str()?));
        records.into_iter().find(|solution| solution.text("bath") == bath.file_name())
    }

    /// The solutions that the open run pours, as its record names them; nothing if none are known.
    pub(super) fn poured_by_the_run(self) -> Value {
        let baths: Vec<Bath> = self.run.with_untracked(|open| {
            let steps = open.as_ref().map(|open| open.run.plan.steps.as_slice());
            steps.unwrap_or_default().iter().map(|step| step.bath).collect()
        });
        let ids = untrack(|| {
            let of = |bath: Bath| Some(Value::from(self.in_use(bath)?.id()));
            let mut ids: Vec<Value> = Vec::new();
            for id in baths.into_iter().filter_map(of) {
                if !ids.contains(&id) {
                    ids.push(id);
                }
            }
            ids
        });
        if ids.is_empty() { Value::Null } else { Value::Array(ids) }
    }

    /// Picks a solution for the next run, in place of others of its kind.
    pub fn pick_solution(self, solution: &Record) {
        let mut picked = self.picked.get_untracked();
        picked.retain(|id| {
            let other = self.record_untracked(id);
            other.is_none_or(|other| other.text("bath") != solution.text("bath"))
        });
        picked.push(solution.id().to_owned());
        self.picked.set(picked);
    }

    /// The first developer of a plan that is worn: its step, and the time that its leaflet's rule
    /// would give, in milliseconds.
    pub fn worn(self, plan: &Plan) -> Option<(usize, i64)> {
        let addition = self.sheet(&plan.sheet).addition;
        plan.steps.iter().enumerate().find_map(|(index, step)| {
            let solution = self.in_use(step.bath).filter(|_| step.bath.is_developer())?;
            let standing = self.standing(&solution);
            let rule = shelf::rule_of(&solution, &standing, addition);
            Some((index, standing.next_ms(step.time_ms, rule)?))
        })
    }

    /// The plan of the next run, its times as the sheet has them.
    pub fn next_plan(self) -> Plan {
        self.plan_by(&self.habits.with(|habits| habits.sheet.clone()))
    }

    /// The plan of a run by that sheet.
    fn plan_by(self, sheet: &str) -> Plan {
        Plan::new(&self.habits.get(), &self.sheet(sheet), 0)
    }

    /// Whether the longer time of a worn developer was chosen.
    pub fn takes_longer(self) -> bool {
        self.picked.get().iter().any(|what| what == WORN)
    }

    /// Chooses the longer time of a worn developer, or the sheet's.
    pub fn take_longer(self, longer: bool) {
        let mut picked = self.picked.get_untracked();
        picked.retain(|what| what != WORN);
        if longer {
            picked.push(WORN.to_owned());
        }
        self.picked.set(picked);
    }

    /// The plan with the longer time of a worn developer, if that was chosen.
    pub(super) fn with_longer(self, mut plan: Plan) -> Plan {
        let worn = if plan.practice || !self.takes_longer() { None } else { self.worn(&plan) };
        if let Some((index, time_ms)) = worn
            && let Some(step) = plan.steps.get_mut(index)
        {
            step.time_ms = time_ms;
        }
        plan
    }

    /// The first solution that would be poured by a sheet and may not be: its bath, and why.
    pub fn blocked_solution(self, sheet: &str) -> Option<(Bath, String)> {
        let plan = self.plan_by(sheet);
        plan.steps.iter().find_map(|step| {
            let used = self.in_use(step.bath)?;
            Some((step.bath, blocked(&used)?))
        })
    }
}
