//! What there is to read, fetched when it is looked at.

use session::notebook::primer::sections;

use super::{Store, spawn};
use crate::browser::papers;

impl Store {
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
