//! What there is to read, fetched when it is looked at.

use session::notebook::primer::{Section, sections};

use super::{Store, spawn};
use crate::browser::papers;

impl Store {
    /// One part of what there is to read; nothing as long as it is not here.
    pub fn primer(self, part: &str) -> Vec<Section> {
        let file = self.finding.primer.get();
        file.first().and_then(|file| sections(file, part)).unwrap_or_default()
    }

    /// Fetches what there is to read, unless it is here and can be read.
    pub fn fetch_primer(self) {
        let here = self.finding.primer.get_untracked();
        if here.iter().any(|file| sections(file, "").is_some()) {
            return;
        }
        spawn(async move {
            let file = papers::published("primer.json").await;
            self.finding.primer.set(vec![file.unwrap_or_default()]);
        });
    }
}
