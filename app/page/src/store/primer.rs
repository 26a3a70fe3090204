//! What there is to read, fetched when it is looked at.

use std::sync::Arc;

use session::notebook::primer::{Section, of_part, read};

use super::{Store, spawn};
use crate::browser::papers;

impl Store {
    /// One part of what there is to read; nothing as long as it is not here.
    pub fn primer(self, part: &str) -> Vec<Section> {
        self.finding.primer.get().map(|all| of_part(&all, part)).unwrap_or_default()
    }

    /// Fetches what there is to read, unless it is here and could be read.
    pub fn fetch_primer(self) {
        let here = self.finding.primer.get_untracked();
        if here.is_some_and(|all| !all.is_empty()) {
            return;
        }
        spawn(async move {
            let file = papers::published("primer.json").await;
            // Read once: faults are looked up in it with each key.
            let all = file.and_then(|file| read(&file)).unwrap_or_default();
            self.finding.primer.set(Some(Arc::new(all)));
        });
    }
}
