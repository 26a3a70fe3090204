//! Several windows: one holds the live run, the others show it.

use leptos::prelude::*;
use session::clock::Clock;

use super::kept::OPEN;
use super::{Held, Overlay, Store, spawn};
use crate::ports::{Offline, Shelf};

impl Store {
    /// Holds the run for this window, or shows that another has it.
    pub fn take_hold(self) {
        let held = self.ports.with_value(|ports| ports.hold.take(false));
        spawn(async move {
            if held.await {
                // A reload comes back to the readings of Last check too.
                self.remember_open(true);
            } else {
                self.follow_other_window().await;
            }
        });
    }

    /// Takes the live run from the window that holds it.
    pub fn take_over(self) {
        let taken = self.ports.with_value(|ports| {
            ports.tones.unlock();
            ports.hold.take(true)
        });
        spawn(async move {
            if !taken.await {
                return;
            }
            self.read_again().await;
            self.held.set(Held::Here);
            self.live.update_value(|live| live.primed = true);
            self.ports.with_value(|ports| ports.screen.keep_lit());
            self.catch_up(true);
            self.plan_tones();
            self.tick();
        });
    }

    /// Another window has taken the run: this one falls silent.
    pub fn lose_hold(self) {
        self.held.set(Held::Elsewhere);
        self.overlay.set(Overlay::None);
        self.ports.with_value(|ports| {
            ports.tones.plan(0.0, &[]);
            ports.voice.hush();
            ports.screen.let_go();
        });
    }

    /// Another window has kept something: if this one only looks on, it looks again.
    pub fn told(self) {
        if self.held.get_untracked() == Held::Elsewhere {
            spawn(async move {
                self.read_again().await;
                self.tick();
            });
        } else if self.run.with_untracked(Option::is_none) {
            self.load_kept();
        }
    }

    async fn follow_other_window(self) {
        self.held.set(Held::Elsewhere);
        self.read_again().await;
        self.go_to_run();
        self.tick();
    }

    /// Reads the open run as another window has left it.
    async fn read_again(self) {
        let notebooks = self.ports.with_value(|ports| std::rc::Rc::clone(&ports.notebooks));
        let id = notebooks.find(Shelf::Single, OPEN.to_owned()).await;
        let Some(id) = id.ok().flatten().filter(|id| !id.is_empty()) else {
            if self.held.get_untracked() == Held::Elsewhere {
                self.close_looking_on();
            }
            return;
        };
        let Some(open) = self.read_run(&id).await else { return };
        let both = self.ports.with_value(|ports| ports.clock.both());
        let last = open.run.log.last().map(|entry| entry.at).unwrap_or_default();
        let clock = Clock::new(both, open.run.state.clock_shift_ms);
        let (clock, _) = clock.no_earlier_than(last);
        self.live.update_value(|live| live.clock = clock);
        let now = self.read_clock();
        self.live.update_value(|live| live.heard_until = now);
        self.now.set(now);
        self.run.set(Some(open));
        self.go_where_the_run_is();
    }

    /// The other window has finished its run.
    fn close_looking_on(self) {
        self.run.set(None);
        self.held.set(Held::Here);
        self.load_kept();
        self.go(crate::route::Route::Bench);
    }

    /// Connects the store to what happens to the page. Once.
    pub fn connect(self) {
        self.ports.with_value(|ports| {
            ports.tones.on_change(Box::new(move || self.sound_changed()));
            ports.hold.on_lost(Box::new(move || self.lose_hold()));
            ports.hold.on_told(Box::new(move || self.told()));
        });
    }

    /// Starts the worker that keeps the page. After the first paint.
    pub fn start_shell(self) {
        self.ports.with_value(|ports| {
            let on_state = move |state: Offline| self.offline.set(state);
            let on_update = move || self.update_waits.set(true);
            ports.shell.start(Box::new(on_state), Box::new(on_update));
        });
    }
}
