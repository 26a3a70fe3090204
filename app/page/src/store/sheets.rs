//! The person's own sheets, and what they said about those that are shipped.

use leptos::prelude::*;
use session::notebook::{self, Kind, Record};
use session::sheets::{self, Known};

use super::Store;
use crate::route::Route;

impl Store {
    /// Makes a copy of a sheet and opens its fields.
    pub fn copy_sheet(self, key: &str) {
        let id = self.new_id();
        let copy = untrack(|| sheets::copy_of(&self.sheet(key), &id));
        let now = self.wall_now();
        let record = Record::new(Kind::Sheet, &id, &self.device(), now).with("of", key);
        let fields = notebook::sheets::fields(&copy, None, now).into_iter();
        self.put_record(fields.fold(record, |record, (field, value)| record.with(field, value)));
        self.go(Route::SheetEdit(id));
    }

    /// Changes a sheet of the person's own, unless it would make no sense then.
    ///
    /// # Errors
    ///
    /// The sentence to show; nothing has changed then.
    pub fn change_sheet(self, key: &str, change: &dyn Fn(&mut Known)) -> Result<(), String> {
        let before = untrack(|| self.sheet(key));
        if before.sheet.key != key {
            return Err("This sheet is not here any more.".to_owned());
        }
        let mut after = before.clone();
        change(&mut after);
        if let Some((at, fault)) =
            after.faults().into_iter().find(|fault| !before.faults().contains(fault))
        {
            let step = at.map_or_else(String::new, |at| format!("Step {}: ", at + 1));
            return Err(format!("{step}{fault} The old value stays."));
        }
        self.change_record(key, notebook::sheets::fields(&after, Some(&before), self.wall_now()));
        Ok(())
    }

    /// Notes that the person's leaflet says the same as a shipped sheet, or a step of it.
    pub fn confirm_sheet(self, key: &str, what: &str, so: bool) {
        let mut confirmed = untrack(|| self.sheet(key)).confirmed;
        confirmed.retain(|other| other != what);
        if so {
            confirmed.push(what.to_owned());
        }
        let confirmed = ("confirmed", confirmed.into_iter().collect());
        let said = self.records.with_untracked(|records| {
            let about = |record: &&Record| {
                record.kind() == Kind::Sheet
                    && record.text("of") == key
                    && record.list("steps").is_empty()
            };
            records.iter().find(about).map(|record| record.id().to_owned())
        });
        match said {
            Some(id) => self.change_record(&id, vec![confirmed]),
            None => {
                self.add_record(Kind::Sheet, vec![("of", key.into()), confirmed]);
            }
        }
    }

    /// Puts a sheet aside. Rolls keep the sheet they were run with.
    pub fn put_sheet_aside(self, key: &str) {
        self.change_record(key, vec![("deleted", true.into())]);
        self.go(Route::Sheets);
    }
}
