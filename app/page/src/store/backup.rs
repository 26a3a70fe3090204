//! The notebook as a file: out, looked at, and in.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::file::{self, FileError, Preview};
use session::notebook::photos::Photos;
use session::notebook::shelves::Text;
use session::notebook::{Kind, Record, habits, shelves};

use super::{KeptRun, Store, spawn};
use crate::browser::{Ports, events, papers};
use crate::ports::{Handed, Shelf, StoreError, Truth};
use crate::text;

/// What became of the last file.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Backup {
    /// Nothing yet.
    #[default]
    None,
    /// Something to say.
    Said(String),
    /// A file was read, and waits to be taken in.
    Waits {
        /// What taking it in would do.
        preview: Box<Preview>,
        /// Whether it is what it was when it was saved.
        untouched: bool,
        /// Its photos.
        photos: Arc<Photos>,
    },
}

/// A single thing that is kept: when a file was last saved.
pub(super) const FILE_SAVED: &str = "file_saved";

impl Store {
    /// Hands the whole notebook over as a file.
    pub fn save_notebook(self) {
        let name = format!("sinkside-notebook-{}.json", events::iso_day(self.wall_now()));
        spawn(async move {
            let (records, unreadable) = match self.gather().await {
                Ok(gathered) => gathered,
                Err(error) => return self.say_backup(text::store_error(error).to_owned()),
            };
            let now = self.wall_now();
            let photos = self.gather_photos().await;
            let text = file::write_with(records, &photos, now);
            // What is handed over is what reads back; anything else is not worth having.
            let read = file::read(&text).ok().filter(|file| file.untouched);
            let Some(left_out) = read.map(|file| text::photos::left_out(file.photos.left_out))
            else {
                return self.say_backup("The file could not be made. Try again.".to_owned());
            };
            let papers = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.papers));
            let handed = papers.hand_over(name, text).await;
            if matches!(handed, Handed::Shared | Handed::Saved | Handed::Downloaded) {
                self.file_saved.set(Some(now));
                self.keep_single(FILE_SAVED, now.milliseconds().to_string());
            }
            let left = match unreadable {
                0 => String::new(),
                1 => " 1 unreadable text is not in it.".to_owned(),
                count => format!(" {count} unreadable texts are not in it."),
            };
            self.say_backup(format!("{}{left} {left_out}", said(handed)));
        });
    }

    /// Hands one sheet over as a file.
    pub fn save_record(self, record: Record, name: String) {
        self.hand_over(name, file::write(vec![record], self.wall_now()));
    }

    pub(super) fn say_backup(self, words: String) {
        self.backup.set(Backup::Said(words));
    }

    /// Reads a file and shows what taking it in would do. Nothing is changed.
    pub fn look_at_file(self, text: String) {
        if self.is_live() {
            return self.say_backup("A run is going on. Read the file when it is over.".to_owned());
        }
        spawn(async move {
            let read = match file::read(&text) {
                Ok(read) => read,
                Err(error) => return self.say_backup(file_error(&error)),
            };
            match self.gather().await {
                Ok((here, _)) => self.backup.set(Backup::Waits {
                    preview: Box::new(file::preview(&here, &read.records)),
                    untouched: read.untouched,
                    photos: Arc::new(read.photos),
                }),
                Err(error) => self.say_backup(text::store_error(error).to_owned()),
            }
        });
    }

    /// Takes the file in that was looked at: all of it or nothing.
    pub fn take_file_in(self) {
        let Backup::Waits { preview, photos, .. } = self.backup.get_untracked() else { return };
        if self.is_live() {
            return self.say_backup("A run is going on. Read the file when it is over.".to_owned());
        }
        spawn(async move {
            let device = self.device();
            let is_new_here = self.live.with_value(|live| live.habits.is_none());
            let (mut mine, others): (Vec<_>, Vec<_>) = preview
                .writes
                .into_iter()
                .partition(|record| record.kind() == Kind::Habits && record.id() == device);
            // On a phone that has no habits yet, the person goes on with those of the last one.
            let last = others.iter().rfind(|record| record.kind() == Kind::Habits);
            if let Some(last) = last.filter(|_| is_new_here && mine.is_empty()) {
                self.habits.set(habits::of(last));
                mine.push(self.habits_record());
            }
            let mine = mine.into_iter().next();
            match self.keep_together(&others, mine.as_ref(), &photos.taken).await {
                Ok(()) => {
                    if let Some(record) = mine {
                        self.habits.set(habits::of(&record));
                        self.live.update_value(|live| live.habits = Some(record));
                        self.follow_habits();
                    }
                    self.load_kept();
                    self.ports.with_value(|ports| ports.hold.tell());
                    // What is on the screen may have been waiting for photos.
                    self.live.update_value(|live| live.photos_of.clear());
                    self.say_backup("The file has been read into the notebook.".to_owned());
                }
                Err(error) => {
                    let why = text::store_error(error);
                    self.say_backup(format!("{why}. Nothing was changed."));
                }
            }
        });
    }

    /// Keeps all of these records or none, and the habits of this phone with them.
    async fn keep_together(
        self,
        others: &[Record],
        mine: Option<&Record>,
        photos: &[Text],
    ) -> Result<(), StoreError> {
        let texts = shelves::scatter(others);
        let on = |shelf: Shelf| move |(key, text): (String, String)| (shelf, key, text);
        let mut all: Vec<_> = texts.runs.into_iter().map(on(Shelf::Runs)).collect();
        all.extend(texts.logs.into_iter().map(on(Shelf::Logs)));
        all.extend(texts.records.into_iter().map(on(Shelf::Records)));
        all.extend(photos.iter().cloned().map(on(Shelf::Photos)));
        all.extend(
            mine.map(|record| (Shelf::Single, super::kept::HABITS.to_owned(), record.to_text())),
        );
        let notebooks = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.notebooks));
        notebooks.keep_all(all).await
    }

    /// Puts the invented rolls into the demonstration, where it is empty.
    pub(super) async fn fill_demo(self) {
        let is_empty = self.gather().await.is_ok_and(|(records, _)| records.len() < 2);
        let demo = if is_empty { papers::published("demo-notebook.json").await } else { None };
        let read = demo.and_then(|text| file::read(&text).ok());
        let Some(read) = read else { return };
        if self.keep_together(&read.records, None, &[]).await.is_ok() {
            self.load_kept();
        }
    }

    /// Throws the notebook away. The page begins anew.
    pub fn erase_everything(self) {
        if self.is_live() {
            return self.say_backup("A run is going on. Erase when it is over.".to_owned());
        }
        let notebooks = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.notebooks));
        spawn(async move {
            match notebooks.erase().await {
                Ok(()) => events::reload(),
                Err(error) => self.say_backup(text::store_error(error).to_owned()),
            }
        });
    }

    /// Asks the browser about the place where the notebook is kept.
    pub fn ask_for_truth(self) {
        let asked = self.ports.with_value(|ports| ports.notebooks.truth());
        spawn(async move {
            let truth: Truth = asked.await;
            self.truth.set(truth);
        });
    }

    /// Everything that is kept and can be read, and how many texts cannot.
    async fn gather(self) -> Result<(Vec<Record>, usize), StoreError> {
        let notebooks = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.notebooks));
        let all = |shelf| notebooks.all(shelf, String::new());
        let texts = shelves::Texts {
            runs: all(Shelf::Runs).await?,
            logs: all(Shelf::Logs).await?,
            entries: all(Shelf::Entries).await?,
            records: all(Shelf::Records).await?,
        };
        let (mut records, unreadable) = shelves::gather(&texts);
        records.retain(|record| record.kind() != Kind::Habits || record.id() != self.device());
        records.push(self.habits_record());
        Ok((records, unreadable))
    }

    /// The photos that are in this phone, if files are to take them along.
    async fn gather_photos(self) -> Vec<Text> {
        if !self.photos.get_untracked().in_files {
            return Vec::new();
        }
        let all = |ports: &Ports| ports.notebooks.all(Shelf::Photos, String::new());
        // What cannot be read is left out, and the file says so.
        self.ports.with_value(all).await.unwrap_or_default()
    }

    /// How many sessions have run since a file was saved.
    pub fn unsaved_sessions(self) -> usize {
        let saved = self.file_saved.get();
        self.kept.with(|kept| {
            let mut sessions: Vec<&str> = Vec::new();
            for run in kept {
                if let KeptRun::Readable(open) = run
                    && open.run.started_at() > saved
                    && !sessions.contains(&open.record.record.text("session"))
                {
                    sessions.push(open.record.record.text("session"));
                }
            }
            sessions.len()
        })
    }
}

/// What became of a file.
pub(super) fn said(handed: Handed) -> &'static str {
    match handed {
        Handed::Shared => "Handed over. See that it arrived.",
        Handed::Saved => "Saved, read back, and the same.",
        Handed::Downloaded => "Downloaded. See that it is there.",
        Handed::Nowhere => "Not saved.",
        Handed::Failed => "Not saved: the file is not what it should be. Try another place.",
    }
}

fn file_error(error: &FileError) -> String {
    error.to_string()
}
