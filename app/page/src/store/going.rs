//! From screen to screen, with the address.

use leptos::prelude::*;
use session::run::Tank;

use super::Store;
use crate::browser::events;
use crate::route::Route;

impl Store {
    /// Goes to another screen.
    pub fn go(self, route: Route) {
        if self.route.get_untracked() != route {
            self.route.set(route.clone());
        }
        if events::fragment() != route.fragment() {
            events::set_fragment(&route.fragment(), false);
        }
    }

    /// Moves between Last check, Run and Hang as the run does.
    pub(super) fn go_where_the_run_is(self) {
        let on_session = self.route.get_untracked().is_session();
        let tank =
            self.run.with_untracked(|open| open.as_ref().map(|open| open.run.state.tank.clone()));
        let Some(tank) = tank.filter(|_| on_session) else { return };
        self.go(match tank {
            // Before the start the person goes from screen to screen.
            Tank::Ready => {
                let route = self.route.get_untracked();
                let stays = matches!(route, Route::Tempering | Route::ToTheDark | Route::Dark);
                if stays { route } else { Route::LastCheck }
            }
            Tank::Bath { .. } | Tank::Asking { .. } => Route::Run,
            Tank::Done { .. } | Tank::Left { .. } => Route::Hang,
        });
    }

    /// Back to the run, wherever it is.
    pub fn return_to_run(self) {
        self.go_to_run();
        self.tick();
    }

    /// To the screen on which the run is, without a step in the history.
    pub(super) fn go_to_run(self) {
        self.route.set(Route::Run);
        self.go_where_the_run_is();
        let route = self.route.get_untracked();
        events::set_fragment(&route.fragment(), true);
    }
}
