//! Photos of negatives: taken in, fetched for the roll that is looked at, removed and brought back.

use leptos::prelude::*;
use session::notebook::Record;
use session::notebook::photos::id_of;
use session::photos::{Place, all, key, of, with, with_mark};

use super::{Store, spawn};
use crate::ports::{Picked, Shelf};
use crate::text;

/// Photos that are on the screen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Photos {
    /// The roll whose photos were fetched, and which version of it.
    pub of: String,
    /// The key of each photo that is here, what its file was called, and its address.
    pub shown: Vec<(String, String, String)>,
    /// How many bytes they are, all together.
    pub bytes: usize,
    /// The key of the one that is shown large; empty: none.
    pub large: String,
    /// Whether files take photos along.
    pub in_files: bool,
}

/// Under what name a sentence about photos is shown.
pub const HINT: &str = "photos";

/// A version of a roll: once it is another, its photos may be, too.
pub fn version(roll: &Record) -> String {
    key(roll.id(), &roll.rev().to_string())
}

impl Store {
    /// Lets the person pick photos for a roll, and keeps each as soon as it is smaller.
    pub fn add_photos(self, roll: String) {
        self.hint.set((String::new(), String::new()));
        self.ports.with_value(|ports| {
            ports.photos.pick(Box::new(move |picked| self.keep_photo(roll.clone(), picked)));
        });
    }

    /// The picture first: a roll lists nothing that was not kept.
    fn keep_photo(self, roll: String, (name, picture): Picked) {
        let id = picture.as_deref().map(id_of).unwrap_or_default();
        let keeping = picture.map(|base64| {
            let key = key(&roll, &id);
            self.ports
                .with_value(|ports| ports.notebooks.keep_all(vec![(Shelf::Photos, key, base64)]))
        });
        spawn(async move {
            let why = match keeping {
                Err(error) => text::photos::error(error),
                Ok(keeping) => {
                    let Err(error) = keeping.await else {
                        let record = self.record_untracked(&roll);
                        let list = record.map(|roll| with(&roll, &id, &name)).unwrap_or_default();
                        return self.change_record(&roll, vec![("photos", list)]);
                    };
                    text::store_error(error)
                }
            };
            let said = [&name, ": ", why, ". The photo was not added; nothing else changed."];
            self.hint.set((HINT.to_owned(), said.concat()));
        });
    }

    /// Removes a photo of a roll, or brings it back.
    pub fn mark_photo(self, roll: &Record, key: &str, removed: bool) {
        let at = removed.then(|| self.wall_now());
        self.change_record(roll.id(), vec![("photos", with_mark(roll, key, at))]);
        self.enlarge(String::new());
    }

    /// Shows a photo large; none if it is empty.
    pub fn enlarge(self, large: String) {
        self.photos.set(Photos { large, ..self.photos.get_untracked() });
    }

    /// Fetches the photos of a roll, unless that has been done.
    pub fn fetch_photos(self, roll: &Record) {
        let version = version(roll);
        if self.live.with_value(|live| live.photos_of == version) {
            return;
        }
        self.live.update_value(|live| live.photos_of.clone_from(&version));
        let listed = of(roll, self.wall_now());
        let first = key(roll.id(), "");
        let kept = self.ports.with_value(|ports| ports.notebooks.all(Shelf::Photos, first));
        spawn(async move {
            let kept = kept.await.unwrap_or_default();
            if self.live.with_value(|live| live.photos_of != version) {
                return;
            }
            let mut now = self.photos.get_untracked();
            now.of = version;
            now.bytes = 0;
            now.large.clear();
            self.ports.with_value(|ports| {
                for (_, _, address) in now.shown.drain(..) {
                    ports.photos.forget(&address);
                }
                for photo in listed {
                    let base64 = kept.iter().find(|(key, _)| *key == photo.key);
                    if let Some((_, base64)) = base64.filter(|_| photo.place == Place::Shown) {
                        now.bytes += base64.len() / 4 * 3;
                        now.shown.push((photo.key, photo.name, ports.photos.show(base64)));
                    }
                }
            });
            self.photos.set(now);
        });
    }

    /// Nothing in the place of the pictures that nothing brings back any more.
    pub(super) fn swept_photos(self) -> Vec<(Shelf, String, String)> {
        let now = self.wall_now();
        let gone = self.records.with_untracked(|records| all(records, now, Place::Gone));
        gone.into_iter().map(|photo| (Shelf::Photos, photo.key, String::new())).collect()
    }

    /// How many photos rolls show, or will show again with their rolls.
    pub fn photo_count(self) -> usize {
        let now = self.wall_now();
        self.records.with(|records| all(records, now, Place::Shown).len())
    }
}
