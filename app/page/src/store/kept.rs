//! What outlives the page: entries as they happen, habits, and which run is open.

use leptos::prelude::*;
use session::clock::{Clock, Found};
use session::entry::Absence;
use session::notebook::shelves::Logs;
use session::notebook::{self, Record, RunRecord};
use session::order;
use session::timestamp::Timestamp;
use session::view::Scene;
use session::{Command, Entry, Run};

use super::backup::FILE_SAVED;
use super::{Held, Keeping, KeptRun, OpenRun, Overlay, Store, spawn};
use crate::browser::events;
use crate::browser::mark::Mark;
use crate::ports::{Kept, Shelf, StoreError};

/// Which run is open, by its id; empty: none.
pub(super) const OPEN: &str = "open";
const BEAT: &str = "beat";
pub(super) const HABITS: &str = "habits";
const DEVICE: &str = "device";
const CAUTIONS: &str = "cautions";
/// After so long nobody knows what is in the tank.
const GAP_MS: i64 = 120_000;

impl Store {
    pub(super) fn keep_record(self, record: &RunRecord) {
        self.keep_text(Shelf::Runs, record.id().to_owned(), record.to_json());
    }

    pub(super) fn keep_entry(self, entry: &Entry) {
        if let Some(id) = self.open_id() {
            let key = notebook::shelves::entry_key(&id, entry.seq);
            self.keep_text(Shelf::Entries, key, notebook::entry_to_json(entry));
        }
    }

    pub(super) fn keep_habits(self) {
        let record = self.habits_record();
        self.keep_text(Shelf::Single, HABITS.to_owned(), record.to_text());
        self.live.update_value(|live| live.habits = Some(record));
    }

    /// The cautions have been read for this kit.
    pub fn keep_cautions_read(self) {
        self.cautions_read.set(true);
        self.keep_text(Shelf::Single, CAUTIONS.to_owned(), "read".to_owned());
    }

    /// Keeps a single thing.
    pub(super) fn keep_single(self, key: &str, text: String) {
        self.keep_text(Shelf::Single, key.to_owned(), text);
    }

    fn open_id(self) -> Option<String> {
        self.run.with_untracked(|open| open.as_ref().map(|open| open.record.id().to_owned()))
    }

    /// Remembers which run to return to, or that there is none.
    pub(super) fn remember_open(self, open: bool) {
        // While the notebook is still being read, the run that it names is not open yet.
        if open && !self.loaded.get_untracked() && !self.is_live() {
            return;
        }
        let text = self.open_id().filter(|_| open).unwrap_or_default();
        self.keep_text(Shelf::Single, OPEN.to_owned(), text);
    }

    /// Keeps the record of the open run.
    pub(super) fn keep_open_record(self) {
        let record = self.run.with_untracked(|open| open.as_ref().map(|open| open.record.clone()));
        if let Some(record) = record {
            self.keep_record(&record);
        }
    }

    /// Keeps a text, and with it everything that could not be kept before: all of it or nothing.
    pub(super) fn keep_text(self, shelf: Shelf, key: String, text: String) {
        let one = (shelf, key, text);
        let keeping = self.ports.with_value(|ports| {
            let all = self.live.try_update_value(|live| {
                live.unkept.retain(|other| other.0 != one.0 || other.1 != one.1);
                live.unkept.push(one);
                live.unkept.clone()
            });
            let all = all.unwrap_or_default();
            (ports.notebooks.keep_all(all.clone()), all)
        });
        spawn(async move {
            let (writing, all) = keeping;
            match writing.await {
                Ok(()) => {
                    self.live.update_value(|live| live.unkept.retain(|one| !all.contains(one)));
                    let all_kept = self.live.with_value(|live| live.unkept.is_empty());
                    if all_kept && self.keeping.get_untracked() != Keeping::Kept {
                        self.keeping.set(Keeping::Kept);
                    }
                    self.ports.with_value(|ports| ports.hold.tell());
                }
                Err(error) => {
                    // Habits and the like may never have been read: they are not written later over
                    // what is there.
                    let misses = self.live.try_update_value(|live| {
                        let misses = live.unkept.iter().any(|one| all.contains(one));
                        live.unkept.retain(|one| one.0 != Shelf::Single || one.1 == OPEN);
                        misses
                    });
                    // What was kept since then by another try is not missing.
                    if misses == Some(true) {
                        self.keeping.set(Keeping::NotKept(error));
                    }
                }
            }
        });
    }

    /// Tries again to keep what could not be kept. Says whether there is such a thing.
    pub(super) fn keep_what_was_missed(self) -> bool {
        let last = self.live.with_value(|live| live.unkept.last().cloned());
        last.map(|(shelf, key, text)| self.keep_text(shelf, key, text)).is_some()
    }

    /// Reads the notebook when the page starts, and returns to an open run.
    pub async fn load(self) {
        let notebooks = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.notebooks));
        let single = notebooks.all(Shelf::Single, String::new()).await;
        let was_read = single.is_ok();
        let single = single.unwrap_or_else(|error| {
            self.keeping.set(Keeping::NotKept(error));
            Vec::new()
        });
        let single = |key: &str| single.iter().find(|(of, _)| of == key).map(|(_, text)| text);
        if let Some(Ok(record)) = single(HABITS).map(|text| Record::from_text(text)) {
            self.habits.set(notebook::habits::of(&record));
            self.live.update_value(|live| live.habits = Some(record));
        }
        self.follow_habits();
        let saved = single(FILE_SAVED).and_then(|saved| saved.parse().ok());
        self.file_saved.set(saved.map(Timestamp::from_milliseconds));
        self.cautions_read.set(single(CAUTIONS).is_some());
        self.name_device(single(DEVICE).cloned(), was_read);
        // Whoever has begun meanwhile, because the storage was slow, goes on with that.
        if let Some(id) = single(OPEN).filter(|id| !id.is_empty() && !self.is_live()) {
            let beat = single(BEAT).and_then(|beat| beat.parse().ok());
            self.reopen(id.clone(), beat.map(Timestamp::from_milliseconds)).await;
        }
        self.loaded.set(true);
        if self.route.get_untracked().is_before_start() {
            self.open_run(false);
            self.keep_open_record();
            self.remember_open(true);
            self.arm();
        }
        self.load_kept();
        if events::is_demo() {
            self.fill_demo().await;
        }
    }

    /// A name that is new is kept, but never over one that could not be read.
    fn name_device(self, known: Option<String>, was_read: bool) {
        let device = known.unwrap_or_else(|| {
            let id = self.ports.with_value(|ports| ports.papers.random_id());
            if was_read {
                self.keep_text(Shelf::Single, DEVICE.to_owned(), id.clone());
            }
            id
        });
        self.live.update_value(|live| live.device = device);
    }

    /// Returns to the run that was open: digits first, sound when it may.
    async fn reopen(self, id: String, beat: Option<Timestamp>) {
        let Some(open) = self.read_run(&id).await else { return };
        if open.run.started_at().is_none() {
            self.run.set(Some(open));
            return;
        }
        let last = open.run.log.last().map(|entry| entry.at);
        let shift = open.run.state.clock_shift_ms;
        let floor = beat.into_iter().chain(last).max().unwrap_or_default();
        let both = self.ports.with_value(|ports| ports.clock.both());
        let (clock, found) = Clock::new(both, shift).no_earlier_than(floor);
        self.live.update_value(|live| live.clock = clock);
        let now = self.read_clock();
        self.live.update_value(|live| live.heard_until = now);
        self.now.set(now);
        self.run.set(Some(open));
        self.go_to_run();
        self.catch_up(false);
        let held = self.ports.with_value(|ports| ports.hold.take(false));
        if held.await {
            self.held.set(Held::Here);
            if let Found::Set { by_ms } = found {
                let _ = self.dispatch(Command::ClockWasSet { by_ms });
            }
            let ms = now.since_ms(floor);
            let _ = self.dispatch(Command::WasAway { ms, why: Absence::Reloaded });
            self.away_ms.set(Some(ms).filter(|ms| *ms >= 3_000));
            self.ports.with_value(|ports| ports.screen.keep_lit());
            self.ask_about_the_gap(ms);
        } else {
            self.held.set(Held::Elsewhere);
        }
        self.tick();
    }

    /// A phone that was dead for minutes while a bath ran out does not know what is in the tank.
    fn ask_about_the_gap(self, ms: i64) {
        let now = self.read_clock();
        let ran_out = self.run.with_untracked(|open| {
            let scene = open.as_ref().map(|open| session::view(&open.run, now).scene);
            matches!(scene, Some(Scene::Over { .. } | Scene::Waiting { .. }))
        });
        if ms >= GAP_MS && ran_out {
            self.overlay.set(Overlay::Gap(None));
        }
    }

    /// Reads one run with its log. Entries that cannot be read are left where they are.
    pub(super) async fn read_run(self, id: &str) -> Option<OpenRun> {
        let notebooks = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.notebooks));
        let record = notebooks.find(Shelf::Runs, id.to_owned()).await.ok().flatten()?;
        let record = RunRecord::from_json(&record).ok()?;
        let log = notebooks.find(Shelf::Logs, id.to_owned()).await.ok().flatten();
        let log: Vec<_> = log.into_iter().map(|text| (id.to_owned(), text)).collect();
        let entries = notebooks.all(Shelf::Entries, format!("{id}/")).await.ok()?;
        let (mut logs, _) = Logs::read(&log, &entries);
        let log =
            logs.take(id).into_iter().filter_map(|entry| notebook::entry_of_value(entry).ok());
        let log: Vec<Entry> = log.collect();
        // No later entry takes the place of one that cannot be read.
        let place = |(key, _): &Kept| key.rsplit('/').next()?.parse::<u32>().ok();
        let places = entries.iter().filter_map(place).chain(log.iter().map(|entry| entry.seq));
        let least_seq = places.max().map_or(0, |last| last.saturating_add(1));
        self.live.update_value(|live| live.least_seq = least_seq);
        let run = Run::replay(record.plan.clone(), log);
        Some(OpenRun { record, run })
    }

    /// Reads the list of runs.
    pub fn load_kept(self) {
        let notebooks = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.notebooks));
        spawn(async move {
            let all = |shelf| notebooks.all(shelf, String::new());
            let (logs, entries) = (all(Shelf::Logs).await, all(Shelf::Entries).await);
            let (runs, records) = (all(Shelf::Runs).await, all(Shelf::Records).await);
            if let (Ok(runs), Ok(logs), Ok(entries), Ok(records)) = (runs, logs, entries, records) {
                let mut kept = sorted_out(runs, &logs, &entries);
                kept.extend(self.take_records(records));
                Mark::of_a_run().put(!kept.is_empty());
                self.kept.set(kept);
                self.expected.set(false);
                if self.loaded.get_untracked() {
                    self.same_if_asked();
                }
                // What is not swept now is swept the next time.
                let _ = notebooks.keep_all(self.swept_photos()).await;
            }
        });
    }

    /// Whether no run has been kept yet, as far as anybody knows.
    pub fn is_new(self) -> bool {
        self.kept.read().is_empty() && !self.expected.get()
    }

    /// Why the notebook does not keep, in memory only.
    pub fn not_kept(self) -> Option<StoreError> {
        match self.keeping.get() {
            Keeping::Kept => None,
            Keeping::NotKept(error) => Some(error),
        }
    }
}

/// Runs with their logs, the newest first, and everything that cannot be read.
fn sorted_out(runs: Vec<Kept>, logs: &[Kept], entries: &[Kept]) -> Vec<KeptRun> {
    let (mut logs, unreadable) = Logs::read(logs, entries);
    let as_text = |(key, text)| KeptRun::Unreadable { key, text };
    let mut unreadable: Vec<_> = unreadable.into_iter().map(as_text).collect();
    let mut readable = Vec::new();
    for (key, text) in runs {
        match RunRecord::from_json(&text) {
            Ok(record) => {
                let mut log = Vec::new();
                for entry in logs.take(&key) {
                    match notebook::entry_of_value(entry) {
                        Ok(entry) => log.push(entry),
                        Err(entry) => {
                            unreadable.push(as_text((key.clone(), notebook::text(&entry))));
                        }
                    }
                }
                let run = Run::replay(record.plan.clone(), log);
                readable.push(OpenRun { record, run });
            }
            Err(_) => unreadable.push(as_text((key, text))),
        }
    }
    // Practice is kept while it goes on, and is no roll.
    readable.retain(|open| open.run.started_at().is_some() && !open.run.plan.practice);
    let began = |open: &OpenRun| open.run.started_at().unwrap_or_default().milliseconds().max(0);
    let readable = order::by(readable, |open| order::number(began(open).unsigned_abs()));
    let readable = readable.into_iter().rev().map(|open| KeptRun::Readable(Box::new(open)));
    readable.chain(unreadable).collect()
}
