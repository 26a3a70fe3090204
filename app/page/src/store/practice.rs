//! Practice with water: a run that is no roll.

use leptos::prelude::*;
use session::practice::{Hands, hands};

use super::Store;
use crate::route::Route;

impl Store {
    /// Begins practice by the sheet that is in use.
    pub fn start_practice(self) {
        self.open_run(true);
        self.take_hold();
        self.route.set(Route::Run);
        let _ = self.start(false);
        self.return_to_run();
    }

    /// Whether the open run is practice.
    pub fn is_practice(self) -> bool {
        self.run.with(|open| open.as_ref().is_some_and(|open| open.run.plan.practice))
    }

    /// What practice has shown of the person's hands.
    pub fn practised_hands(self) -> Hands {
        let none = Hands { fill_s: None, drain_s: None };
        self.run.with(|open| open.as_ref().map_or(none, |open| hands(&open.run)))
    }

    /// Takes what practice has shown as habits, and closes it.
    pub fn take_hands(self) {
        let shown = untrack(|| self.practised_hands());
        self.change_habits(|habits| {
            habits.fill_s = shown.fill_s.unwrap_or(habits.fill_s);
            habits.drain_s = shown.drain_s.unwrap_or(habits.drain_s);
        });
        self.close_run();
    }
}
