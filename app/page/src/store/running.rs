//! A run from its opening to its end.

use leptos::prelude::*;
use session::clock::Clock;
use session::entry::Event;
use session::notebook::RunRecord;
use session::plan::Plan;
use session::run::Tank;
use session::{Command, Entry, Refusal, Run, apply, decide};

use super::{Held, OpenRun, Overlay, Store};
use crate::route::Route;

impl Store {
    /// Opens a new run for Last check, unless one is open that has not begun under these habits.
    pub fn open_run(self, practice: bool) {
        if self.is_live() {
            return;
        }
        let habits = self.habits.get_untracked();
        let offset = self.ports.with_value(|ports| ports.clock.utc_offset_min());
        let known = untrack(|| self.sheet(&habits.sheet));
        let plan = Plan { practice, ..Plan::new(&habits, &known, offset) };
        let plan = untrack(|| self.with_longer(plan));
        let same = self.run.with_untracked(|open| {
            let plan_of = |open: &OpenRun| open.run.plan == plan;
            open.as_ref().is_some_and(|open| open.run.state.tank == Tank::Ready && plan_of(open))
        });
        let stale = self.is_stale();
        if !stale && (same || self.plan_anew(&plan)) {
            return;
        }
        let (clock, id) = self
            .ports
            .with_value(|ports| (Clock::new(ports.clock.both(), 0), ports.papers.random_id()));
        self.live.update_value(|live| {
            live.clock = clock;
            live.least_seq = 0;
        });
        let now = self.read_clock();
        let device = self.live.with_value(|live| live.device.clone());
        let record = RunRecord::new(&id, &device, plan.clone(), now);
        // While the notebook is still being read, the run that it names may take this one's place.
        if self.loaded.get_untracked() {
            self.keep_record(&record);
        }
        self.run.set(Some(OpenRun { record, run: Run::new(plan) }));
        self.overlay.set(Overlay::None);
        self.away_ms.set(None);
    }

    /// Whether what was read for a run that has not begun is of another day's water.
    fn is_stale(self) -> bool {
        const STALE_MS: i64 = 6 * 3_600_000;
        let now = self.wall_now();
        self.run.with_untracked(|open| {
            let last = open.as_ref().and_then(|open| open.run.log.last());
            last.is_some_and(|entry| now.since_ms(entry.at) > STALE_MS)
        })
    }

    /// Gives a run that has not begun another plan: what has been read for it stays. Says whether
    /// there is such a run.
    fn plan_anew(self, plan: &Plan) -> bool {
        let (device, now) = (self.device(), self.wall_now());
        let open = self.run.with_untracked(|open| {
            let open = open.as_ref().filter(|open| open.run.state.tank == Tank::Ready)?;
            if open.run.plan.practice != plan.practice || open.run.log.is_empty() {
                return None;
            }
            let run = Run::replay(plan.clone(), open.run.log.clone());
            Some(OpenRun { record: open.record.planned_anew(plan.clone(), &device, now), run })
        });
        let is_there = open.is_some();
        if let Some(open) = open {
            self.keep_record(&open.record);
            self.run.set(Some(open));
            self.overlay.set(Overlay::None);
        }
        is_there
    }

    /// Begins the run. The clock is read before sound is asked for, which takes its time.
    ///
    /// # Errors
    ///
    /// A [`Refusal`] if the run has begun.
    pub fn start(self, anyway: bool) -> Result<Entry, Refusal> {
        if !untrack(|| self.is_practice()) {
            self.keep_learned();
        }
        let entry = self.dispatch(Command::Start { anyway })?;
        self.ports.with_value(|ports| ports.tones.unlock());
        self.live.update_value(|live| live.primed = true);
        self.plan_tones();
        self.look_at_ports();
        Ok(entry)
    }

    /// Does `command` now: decides, applies, keeps, and sounds what follows.
    ///
    /// # Errors
    ///
    /// A [`Refusal`] if it makes no sense now; nothing has changed then.
    pub fn dispatch(self, command: Command) -> Result<Entry, Refusal> {
        let now = self.read_clock();
        let decided = self.run.with_untracked(|open| {
            open.as_ref().map_or(Err(Refusal::NoBath), |open| decide(&open.run, command, now))
        });
        let mut entry = decided?;
        // The place of an entry that could not be read is not taken by another.
        entry.seq = entry.seq.max(self.live.with_value(|live| live.least_seq));
        let waits = self.ports.with_value(|ports| ports.hold.waits());
        if waits || self.held.get_untracked() == Held::Elsewhere {
            return Err(Refusal::NoBath);
        }
        self.run.update(|open| {
            *open = open.take().map(|OpenRun { record, run }| {
                let run = apply(run, entry.clone());
                OpenRun { record, run }
            });
        });
        self.keep_entry(&entry);
        self.live.update_value(|live| live.heard_until = live.heard_until.min(now));
        self.now.set(now);
        self.follow_up(&entry);
        Ok(entry)
    }

    /// What the rest of the page does about a new entry.
    fn follow_up(self, entry: &Entry) {
        if super::tempering::is_tempering(&entry.event) && self.is_before_start() {
            // A reload finds what was read.
            self.remember_open(true);
        }
        if let Event::Undone { of } | Event::Redone { of } = entry.event {
            let back = matches!(entry.event, Event::Undone { .. });
            self.fault_taken_back(of, back);
        }
        if let Event::Started { .. } = entry.event {
            self.keep_open_record();
            self.remember_open(true);
            self.run_began();
            self.ports.with_value(|ports| {
                ports.screen.keep_lit();
                ports.notebooks.ask_to_persist();
            });
        }
        if entry.event.is_tap() {
            self.away_ms.set(None);
        }
        self.go_where_the_run_is();
        self.say_due();
        self.plan_tones();
        self.arm();
    }

    /// Closes the run that is over: a roll is written up, practice is not.
    pub fn finish_run(self) {
        let run = self.run.with_untracked(|open| {
            let open = open.as_ref().filter(|open| !open.run.plan.practice)?;
            Some(open.record.id().to_owned())
        });
        self.close_run();
        if let Some(id) = run {
            self.go(Route::WriteUp(id));
        }
    }

    /// Closes the run that is over and goes to the Bench.
    pub fn close_run(self) {
        self.remember_open(false);
        self.ports.with_value(|ports| {
            ports.screen.let_go();
            ports.hold.release();
            ports.tones.plan(0.0, &[]);
        });
        self.run.set(None);
        self.held.set(Held::Here);
        self.live.update_value(|live| live.timer = None);
        self.load_kept();
        self.go(Route::Bench);
    }
}
