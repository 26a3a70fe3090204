//! Records of the notebook other than runs: read, changed, kept.

use leptos::prelude::*;
use session::habits::Habits;
use session::notebook::{Kind, Record, Value, habits, merge};
use session::sheets::{self, Known};
use session::timestamp::Timestamp;

use super::{KeptRun, Store, spawn};
use crate::ports::{Kept, Shelf};

/// Changed fields of a record.
pub type Changes = Vec<(&'static str, Value)>;

impl Store {
    /// The wall clock now: for records, which know nothing of a run's clock.
    pub fn wall_now(self) -> Timestamp {
        let wall = self.ports.with_value(|ports| ports.clock.both().wall_ms);
        Timestamp::from_milliseconds(wall)
    }

    /// A new id.
    pub fn new_id(self) -> String {
        self.ports.with_value(|ports| ports.papers.random_id())
    }

    pub(super) fn device(self) -> String {
        self.live.with_value(|live| live.device.clone())
    }

    /// A new record with these fields, kept. Gives its id.
    pub fn add_record(self, kind: Kind, changes: Changes) -> String {
        let id = self.new_id();
        let record = Record::new(kind, &id, &self.device(), self.wall_now());
        let fill = |record: Record, (field, value)| record.with(field, value);
        self.put_record(changes.into_iter().fold(record, fill));
        id
    }

    /// Changes fields of a record, and keeps it.
    pub fn change_record(self, id: &str, changes: Changes) {
        let Some(before) = self.record_untracked(id) else { return };
        let after = before.edited(&self.device(), self.wall_now(), changes);
        if after != before {
            self.put_record(after);
        }
    }

    /// Settles on the version that is shown.
    pub fn settle_record(self, id: &str) {
        if let Some(before) = self.record_untracked(id) {
            self.put_record(before.settled(&self.device(), self.wall_now()));
        }
    }

    /// A record by its id.
    pub fn record(self, id: &str) -> Option<Record> {
        self.records.with(|records| find(records, id).cloned())
    }

    /// The same, without listening.
    pub fn record_untracked(self, id: &str) -> Option<Record> {
        self.records.with_untracked(|records| find(records, id).cloned())
    }

    /// The records of a kind that were not put aside.
    pub fn records_of(self, kind: Kind) -> Vec<Record> {
        self.records.with(|records| {
            let shown = |record: &&Record| record.kind() == kind && !record.is_deleted();
            records.iter().filter(shown).cloned().collect()
        })
    }

    /// The sheet of that key or id; the usual one if there is none.
    pub fn sheet(self, key: &str) -> Known {
        self.records.with(|records| sheets::find(records, key))
    }

    /// Shows a record at once and keeps it, merged with what another window may have kept.
    pub fn put_record(self, record: Record) {
        self.show_record(record.clone());
        let notebooks = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.notebooks));
        spawn(async move {
            let id = record.id().to_owned();
            let there = notebooks.find(Shelf::Records, id.clone()).await.ok().flatten();
            let there = there.and_then(|text| Record::from_text(&text).ok());
            let merged = there.map_or_else(|| record.clone(), |there| merge(&record, &there));
            self.keep_text(Shelf::Records, id, merged.to_text());
            if merged != record {
                self.show_record(merged);
            }
        });
    }

    fn show_record(self, record: Record) {
        self.records.update(|records| {
            records.retain(|other| other.id() != record.id());
            records.push(record);
        });
    }

    /// Takes what the shelf of records holds. What cannot be read is listed with the runs.
    pub(super) fn take_records(self, kept: Vec<Kept>) -> Vec<KeptRun> {
        let mut unreadable = Vec::new();
        let mut records = Vec::new();
        for (key, text) in kept {
            match Record::from_text(&text) {
                Ok(record) => records.push(record),
                Err(_) => unreadable.push(KeptRun::Unreadable { key, text }),
            }
        }
        if self.records.with_untracked(|before| *before != records) {
            self.records.set(records);
        }
        unreadable
    }

    /// Changes the habits and keeps them.
    pub fn change_habits(self, change: impl FnOnce(&mut Habits)) {
        self.habits.update(change);
        self.keep_habits();
        self.follow_habits();
    }

    /// What outside the screens goes by habits.
    pub(super) fn follow_habits(self) {
        self.habits.with_untracked(|habits| {
            crate::text::set_units(habits.scale, habits.volumes);
            self.ports.with_value(|ports| ports.voice.tune(habits.pace, &habits.voice));
        });
    }

    /// The habits of this device as a record.
    pub(super) fn habits_record(self) -> Record {
        let device = self.device();
        let fields = self.habits.with_untracked(habits::fields);
        let kept = self.live.with_value(|live| live.habits.clone());
        match kept {
            Some(before) => before.edited(&device, self.wall_now(), fields),
            None => fields.into_iter().fold(
                Record::new(Kind::Habits, &device, &device, self.wall_now()),
                |record, (field, value)| record.with(field, value),
            ),
        }
    }
}

fn find<'a>(records: &'a [Record], id: &str) -> Option<&'a Record> {
    records.iter().find(|record| record.id() == id)
}
