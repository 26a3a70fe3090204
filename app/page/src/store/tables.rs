//! What goes out for other programs: tables and calendars.

use leptos::prelude::*;
use session::notebook::{Kind, Record, csv};
use session::trial;

use super::{Store, spawn};
use crate::browser::events;
use crate::screens::rolls::title;

impl Store {
    /// Hands all rolls over as a table.
    pub fn save_rolls_table(self) {
        let developed = |run: &str| {
            let at = self.kept_run(run).and_then(|open| open.run.started_at());
            at.map(events::iso_day).unwrap_or_default()
        };
        let rolls = untrack(|| self.records_of(Kind::Roll));
        let text = csv::rolls(&rolls, developed);
        self.hand_over(format!("sinkside-rolls-{}.csv", events::iso_day(self.wall_now())), text);
    }

    /// Hands the log of a run over as a table.
    pub fn save_log_table(self, id: &str) {
        let Some(open) = untrack(|| self.kept_run(id)) else { return };
        let text = csv::log(&open.record.with_log(&open.run.log));
        self.hand_over(open.file_name().replace(".json", ".csv"), text);
    }

    /// Hands the days of a trial over as a calendar.
    pub fn save_calendar(self, id: &str) {
        let Some(record) = self.record_untracked(id) else { return };
        let rolls: Vec<String> = untrack(|| {
            let ids = record.list("rolls").iter();
            let rolls = ids.filter_map(|id| self.record(id.as_str()?));
            let named = |roll: Record| match roll.text("filed_as") {
                "" => title(&roll),
                place => [&title(&roll), ", ", place].concat(),
            };
            rolls.map(named).collect()
        });
        let text = trial::calendar(&record, &rolls.join("; "), self.wall_now());
        self.hand_over("sinkside-look-again.ics".to_owned(), text);
    }

    /// Hands a file over, and says what became of it.
    pub(super) fn hand_over(self, name: String, text: String) {
        spawn(async move {
            let papers = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.papers));
            let handed = papers.hand_over(name, text).await;
            self.say_backup(super::backup::said(handed).to_owned());
        });
    }
}
