//! Time: one timer, armed for the next change of the digits; coming and going of the page.

use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use session::Command;
use session::clock::Found;
use session::cue::Tone;
use session::entry::Absence;
use session::run::Tank;
use session::timestamp::Timestamp;

use super::{Held, Keeping, Overlay, Store};
use crate::ports::Shelf;
use crate::route::Route;
use crate::text;

/// From one sign of life to the next.
const BEAT_MS: i64 = 5_000;
/// From one comparison of the audio clock to the next.
const CHECK_MS: i64 = 10_000;
/// Tones are planned again at the latest after this long.
const PLAN_AGAIN_MS: i64 = 240_000;
/// How often what takes a while to work out is worked out anew.
const COARSE_MS: i64 = 10_000;
/// A shorter absence is not worth a word.
const AWAY_MS: i64 = 3_000;
/// After the end of a run the screen goes on for as long as a tap can be undone.
const AFTER_END_MS: i64 = 61_000;

impl Store {
    /// The run's time now.
    pub fn read_clock(self) -> Timestamp {
        self.read_both().0
    }

    /// The run's time now, and the monotonic clock's, which tones are planned by.
    pub(super) fn read_both(self) -> (Timestamp, f64) {
        let both = self.ports.with_value(|ports| ports.clock.both());
        (self.live.with_value(|live| live.clock.now(both)), both.mono_ms)
    }

    /// Arms the one timer for the next change of the digits, if anything changes.
    pub(super) fn arm(self) {
        let phase = self.run.with_untracked(|open| {
            open.as_ref().and_then(|open| match open.run.state.tank {
                Tank::Ready => None,
                Tank::Bath { tone_at, .. } => Some((tone_at, i64::MAX)),
                Tank::Asking { since, .. } => Some((since, i64::MAX)),
                Tank::Done { at } | Tank::Left { at } => Some((at, AFTER_END_MS)),
            })
        });
        let phase = phase.or_else(|| Some((self.watched()?, i64::MAX)));
        let now = self.read_clock();
        let timer =
            phase.filter(|(phase, for_ms)| now.since_ms(*phase) < *for_ms).map(|(phase, _)| {
                let left = 1_000 - now.since_ms(phase).rem_euclid(1_000);
                let left = u32::try_from(left).unwrap_or(1_000);
                Timeout::new(left, move || self.tick())
            });
        // In Tempering only the estimate moves.
        let timer = timer.or_else(|| {
            let left = COARSE_MS - now.milliseconds().rem_euclid(COARSE_MS);
            let left = u32::try_from(left).unwrap_or(10_000);
            let tempers = self.route.get_untracked() == Route::Tempering && self.is_before_start();
            tempers.then(|| Timeout::new(left, move || self.tick()))
        });
        self.live.try_update_value(|live| live.timer = timer);
    }

    /// Since when the stopwatch of the screen that is open runs, if it does.
    fn watched(self) -> Option<Timestamp> {
        let since = self.watch.get_untracked();
        let route = self.route.get_untracked();
        let has_one = matches!(route, Route::Clip(_) | Route::Mixing(..));
        (has_one && since != Timestamp::default()).then_some(since)
    }

    /// Starts the stopwatch of a desk, with a tone after so long; a run's tones stay as they are.
    pub fn start_watch(self, tone_after_ms: Option<f64>) {
        self.watch.set(self.read_clock());
        if let Some(ms) = tone_after_ms.filter(|_| !self.is_live()) {
            self.sound_now(&[(ms, Tone::GetReady)]);
        }
        self.tick();
    }

    /// Stops the stopwatch, and takes back its tone.
    pub fn stop_watch(self) {
        self.watch.set(Timestamp::default());
        self.plan_tones();
    }

    /// Looks at the clock, draws, says what is due, and arms the timer again.
    pub(super) fn tick(self) {
        self.reconcile();
        let now = self.read_clock();
        if self.now.get_untracked() != now {
            self.now.set(now);
        }
        self.set_coarse(now);
        self.close_overlay_in_time(now);
        self.say_due();
        self.say_next();
        if self.held.get_untracked() == Held::Here {
            self.beat(now);
            self.look_after_tones(now);
        }
        self.look_at_ports();
        self.arm();
    }

    /// Sets the time in steps of ten seconds.
    pub(super) fn set_coarse(self, now: Timestamp) {
        let ms = now.milliseconds();
        let coarse = Timestamp::from_milliseconds(ms - ms.rem_euclid(COARSE_MS));
        if self.coarse_now.get_untracked() != coarse {
            self.coarse_now.set(coarse);
        }
    }

    /// The end control is in its field for the last twenty seconds, whatever lay over it.
    fn close_overlay_in_time(self, now: Timestamp) {
        let armed = self.view.with_untracked(|view| view.as_ref().is_some_and(|view| view.armed));
        if armed && self.overlay.get_untracked() != Overlay::None && !self.is_kept_open(now) {
            self.overlay.set(Overlay::None);
            self.hold_presses();
        }
    }

    /// An overlay that was opened after the control was armed stays.
    fn is_kept_open(self, now: Timestamp) -> bool {
        let before = now.plus_ms(-1_500);
        self.run.with_untracked(|open| {
            open.as_ref().is_some_and(|open| session::command::is_armed(&open.run, before))
        })
    }

    /// A sign of life, so that a reload knows how long the page was away.
    fn beat(self, now: Timestamp) {
        let due = self.live.with_value(|live| now.since_ms(live.beaten_at) >= BEAT_MS);
        if due && self.is_live() {
            self.live.update_value(|live| live.beaten_at = now);
            if self.keeping.get_untracked() != Keeping::Kept && self.keep_what_was_missed() {
                return;
            }
            let text = now.milliseconds().to_string();
            self.ports
                .with_value(|ports| ports.notebooks.jot(Shelf::Single, "beat".to_owned(), text));
        }
    }

    fn look_after_tones(self, now: Timestamp) {
        let (check, plan) = self.live.with_value(|live| {
            let check = now.since_ms(live.checked_at) >= CHECK_MS;
            (check, now.since_ms(live.planned_at) >= PLAN_AGAIN_MS)
        });
        if check {
            self.live.update_value(|live| live.checked_at = now);
        }
        let slipped = check && self.ports.with_value(|ports| ports.tones.has_slipped());
        if slipped || plan {
            self.plan_tones();
        }
    }

    /// What the ports say of themselves, for the top line.
    pub(super) fn look_at_ports(self) {
        let (sound, speech, lit) = self
            .ports
            .with_value(|ports| (ports.tones.sound(), ports.voice.speech(), ports.screen.lit()));
        if self.sound.get_untracked() != sound {
            self.sound.set(sound);
        }
        if self.speech.get_untracked() != speech {
            self.speech.set(speech);
        }
        if self.lit.get_untracked() != lit {
            self.lit.set(lit);
        }
    }

    /// Brings the phone's two clocks together. Says what was found.
    fn reconcile(self) -> Found {
        let both = self.ports.with_value(|ports| ports.clock.both());
        let found = self.live.try_update_value(|live| live.clock.reconcile(both));
        let found = found.unwrap_or(Found::Steady);
        if let Found::Set { by_ms } = found
            && self.is_live()
        {
            let _ = self.dispatch(Command::ClockWasSet { by_ms });
        }
        found
    }

    /// The page went out of view.
    pub fn hide(self) {
        let now = self.read_clock();
        self.live.update_value(|live| {
            live.clock.hide();
            live.hidden_at = Some(now);
        });
    }

    /// The page is in view again: time is found again, and said.
    pub fn show(self) {
        self.reconcile();
        let now = self.read_clock();
        self.now.set(now);
        let hidden_at = self.live.try_update_value(|live| live.hidden_at.take()).flatten();
        let Some(hidden_at) = hidden_at else { return };
        let ms = now.since_ms(hidden_at);
        if self.held.get_untracked() == Held::Elsewhere || !self.is_live() {
            self.arm();
            return;
        }
        self.ports.with_value(|ports| ports.screen.keep_lit());
        if ms >= AWAY_MS {
            // What should have been said meanwhile is not said now.
            self.live.update_value(|live| live.heard_until = now);
            let _ = self.dispatch(Command::WasAway { ms, why: Absence::Hidden });
            self.away_ms.set(Some(ms));
            self.catch_up(true);
        }
        self.tick();
    }

    /// Where the run is, in one sentence: on the screen at once, and aloud if it may be.
    pub(super) fn catch_up(self, aloud: bool) {
        let now = self.now.get_untracked();
        let sentence = self.run.with_untracked(|open| {
            open.as_ref().map(|open| text::catch_up(&open.run, &session::view(&open.run, now)))
        });
        let Some(sentence) = sentence else { return };
        self.show_sentence(&sentence);
        self.said_at.set(now);
        if aloud {
            self.ports.with_value(|ports| ports.voice.say(&sentence));
        }
    }
}
