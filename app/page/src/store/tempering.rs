//! The evening: what the water does, what the vessels are, and the dark.

use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use process_model::advice::HandsInTub;
use process_model::development::{Advice, Pair};
use process_model::quantity::{Celsius, Seconds};
use process_model::sheet::{Bath, Direction};
use process_model::water;
use session::Command;
use session::developing::{Developing, developing};
use session::entry::{Event, Place};
use session::evening::{self, Evening, milliseconds};
use session::plan::PlannedStep;
use session::reading;
use session::run::{Run, Tank};
use session::tempering::Next;
use session::timestamp::Timestamp;
use session::vessels::Vessels;

use super::{Overlay, Store};
use crate::route::Route;
use crate::text;

/// A reading in the tank is invited from here on, for as long again.
const INVITED_MS: i64 = 55_000;
/// A touch wakes the black screen if it lasts so long.
const HOLD_MS: u32 = 1_500;
/// So long after a sentence the next may come.
const QUIET_MS: i64 = 5_000;

/// What the person says about water: how much out, how much in, how warm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Water {
    /// Taken out, in half litres.
    pub drain_halves: u32,
    /// Put in, in half litres.
    pub add_halves: u32,
    /// Whether it is the cold tap.
    pub is_cold: bool,
}

impl Default for Water {
    fn default() -> Self {
        Self { drain_halves: 4, add_halves: 4, is_cold: false }
    }
}

impl Water {
    /// So many half litres more, out and in.
    #[must_use]
    pub fn more(self, by: i32) -> Self {
        let to = |halves: u32| halves.saturating_add_signed(by).clamp(1, 40);
        Self { drain_halves: to(self.drain_halves), add_halves: to(self.add_halves), ..self }
    }
}

/// What an evening was worked out from.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Of {
    now: Timestamp,
    log: usize,
    dark_min: u32,
    vessels: Vessels,
}

impl Store {
    /// Comes into Tempering, with a run to write into.
    pub fn enter_tempering(self) {
        self.open_run(false);
        self.take_hold();
        self.ports.with_value(|ports| ports.screen.keep_lit());
        let now = self.read_clock();
        self.now.set(now);
        self.set_coarse(now);
        self.arm();
    }

    /// What the thermometer should say before the start, as the estimate has it.
    pub fn expected_before_start(self, place: Place) -> Option<(Celsius, Celsius)> {
        let open = self.run.read();
        if open.as_ref()?.run.state.tank != Tank::Ready {
            return None;
        }
        let now = self.coarse_now.get();
        let expected = self.with_evening(|evening| {
            text::tempering::expected(evening, evening.node_of(place)?, now)
        });
        let (least, most) = expected.flatten()?;
        // To the degree: no more is known.
        Some((Celsius::new(least.floor()), Celsius::new(most.ceil())))
    }

    /// How much hot and cold water make the pre-soak water. Nothing where these taps cannot.
    pub fn pre_soak_water(self) -> Option<String> {
        let open = self.run.read();
        let (least, most) = reading::target(&open.as_ref()?.run, Place::Bottle(Bath::PreSoak))?;
        let target_c = f64::midpoint(least.get(), most.get());
        let vessels = self.vessels();
        // A little more than the tank holds: some is spilled, some is measured.
        let millilitres = (vessels.tank_l * 1.2 * 20.0).ceil() * 50.0;
        let blend = water::blend(millilitres, target_c, vessels.hot_c, vessels.cold_c).ok()?;
        let of = |ml: f64| text::volume((ml / 10.0).round() * 10.0);
        Some(format!("About {} hot, {} cold.", of(blend.hot), of(blend.cold)))
    }

    /// About how many minutes in a hot or a cold tub bring a bottle into its band. Estimate.
    pub fn minutes_to_mend(self, place: Place) -> Option<i64> {
        let Place::Bottle(bath) = place else { return None };
        let open = self.run.read();
        let run = &open.as_ref()?.run;
        let (least, most) = reading::target(run, place)?;
        let vessels = self.vessels();
        let celsius = Celsius::new(run.last_reading(place)?.celsius.get() - vessels.offset_k);
        let (to, tub_c) = if celsius < least {
            (least, HandsInTub::Yes.planned_most_c())
        } else {
            (most, vessels.cold_c)
        };
        let minutes = evening::minutes_in(&vessels, bath, (celsius.get(), to.get()), tub_c)?;
        #[expect(clippy::cast_possible_truncation, reason = "held within an hour")]
        let minutes = minutes.ceil().clamp(1.0, 60.0) as i64;
        Some(minutes)
    }

    /// Whether a bottle stands beside the tub.
    pub fn is_lifted(self, place: Place) -> bool {
        self.with_evening(|evening| evening.is_lifted(place)).unwrap_or(false)
    }

    /// Says what is next, once, when it has become something else and nobody is speaking.
    pub(super) fn say_next(self) {
        if self.route.get_untracked() != Route::Tempering {
            return;
        }
        let now = self.now.get_untracked();
        let next = untrack(|| self.with_evening(text::tempering::next_aloud)).flatten();
        let is_new = self.live.with_value(|live| live.next_said != next);
        if is_new && now.since_ms(self.said_at.get_untracked()) >= QUIET_MS {
            self.live.update_value(|live| live.next_said.clone_from(&next));
            if let Some(words) = next {
                self.say(&words, true);
            }
        }
    }

    /// Looks at what the water does: worked out anew where anything it comes from has changed.
    pub fn with_evening<T>(self, look: impl FnOnce(&Evening) -> T) -> Option<T> {
        self.work_out_the_evening();
        self.live.with_value(|live| live.evening.as_ref().map(|(_, evening)| look(evening)))
    }

    fn work_out_the_evening(self) {
        let vessels = self.vessels();
        let now = self.coarse_now.get();
        let dark_min = self.habits.read().dark_min;
        let open = self.run.read();
        let run = open.as_ref().map(|open| &open.run);
        let Some(run) = run.filter(|_| vessels.tub_l >= 0.5) else {
            return self.live.update_value(|live| live.evening = None);
        };
        // After the dark nothing is left to wait for.
        let dark_min = if run.state.dark.is_some() { 0 } else { dark_min };
        // What was just read counts at once.
        let now = run.held().last().map_or(now, |entry| entry.at.max(now));
        let of = Of { now, log: run.log.len(), dark_min, vessels };
        if self.live.with_value(|live| live.evening.as_ref().is_some_and(|(from, _)| *from == of)) {
            return;
        }
        let evening = evening::evening(run, &of.vessels, f64::from(dark_min) * 60.0, now);
        self.live.update_value(|live| live.evening = evening.map(|evening| (of, evening)));
    }

    /// Opens the question about water, with the advice filled in.
    pub fn open_water(self) {
        let next = untrack(|| self.with_evening(|evening| evening.tempering.next));
        let cold_c = untrack(|| self.vessels()).cold_c;
        let water = if let Some(Next::Swap { round, tap_c }) = next {
            Water {
                drain_halves: halves(round.drain_l),
                add_halves: halves(round.add_l),
                is_cold: (tap_c - cold_c).abs() < 1e-9,
            }
        } else {
            Water::default()
        };
        self.overlay.set(Overlay::Water(water));
    }

    /// Writes down what was done with the water.
    pub fn take_water(self, water: Water, drains: bool, adds: bool) {
        let vessels = untrack(|| self.vessels());
        let tap_c = if water.is_cold { vessels.cold_c } else { vessels.hot_c };
        let drain_ml = if drains { water.drain_halves * 500 } else { 0 };
        let add_ml = if adds { water.add_halves * 500 } else { 0 };
        let celsius = Celsius::new(tap_c);
        let _ = self.dispatch(Command::SwapWater { drain_ml, add_ml, celsius });
        self.close_overlay();
    }

    /// After a reading of the tub in a run: what was done about it. Half of the tub, or a litre.
    pub fn note_tub(self, swapped: bool) {
        let Vessels { tub_l, hot_c, .. } = untrack(|| self.vessels());
        let half_ml = halves(tub_l / 2.0) * 500;
        let (drain_ml, add_ml) = if swapped { (half_ml, half_ml) } else { (0, 1_000) };
        let _ =
            self.dispatch(Command::SwapWater { drain_ml, add_ml, celsius: Celsius::new(hot_c) });
        self.close_overlay();
    }

    /// The light goes out: the screen is black, and the phone may sleep.
    pub fn go_dark(self) {
        if self.dispatch(Command::GoDark).is_ok() {
            self.say("Leave me outside. Lid on, then lights on.", true);
            self.ports.with_value(|ports| ports.screen.let_go());
            self.dark_asks.set(false);
            self.go(Route::Dark);
        }
    }

    /// A finger comes down or goes up in the dark: one that stays for a second and a half asks.
    pub fn touched_in_the_dark(self, is_down: bool) {
        let waits = is_down && self.route.get_untracked() == Route::Dark;
        let touch = waits.then(|| Timeout::new(HOLD_MS, move || self.dark_asks.set(true)));
        self.live.update_value(|live| live.touch = touch);
    }

    /// The light is on and the lid is locked: Last check.
    pub fn lights_on(self) {
        let _ = self.dispatch(Command::LightsOn);
        self.ports.with_value(|ports| ports.screen.keep_lit());
        let minutes = self.run.with_untracked(|open| {
            let dark = open.as_ref()?.run.state.dark?;
            Some(dark.1.since_ms(dark.0) / 60_000)
        });
        let minutes = minutes.unwrap_or_default();
        let unit = if minutes == 1 { "minute" } else { "minutes" };
        self.say(
            &format!("{} {unit}. Measure developer first.", text::number_first(minutes)),
            true,
        );
        self.go(Route::LastCheck);
    }

    /// A developer in the open run as the readings tell it.
    pub fn developing(self, index: usize) -> Option<Developing> {
        let now = self.now.get_untracked();
        self.run.with(|open| self.developing_of(&open.as_ref()?.run, index, now))
    }

    /// A developer in any run, until it was out or `now`.
    pub fn developing_of(self, run: &Run, index: usize, now: Timestamp) -> Option<Developing> {
        let pairs = self.sheet(&run.plan.sheet).sheet.pairs;
        let pair = |(celsius, time): &(Celsius, Seconds)| Pair {
            celsius: celsius.get(),
            seconds: time.get(),
        };
        let pairs: Vec<Pair> = pairs.iter().map(pair).collect();
        developing(run, index, &self.vessels(), &pairs, now)
    }

    /// One line that invites to read in the tank, about a minute into a developer that nobody has
    /// read yet. Never required.
    pub fn invitation(self) -> Option<String> {
        let open = self.run.read();
        let run = &open.as_ref()?.run;
        let index = self.view.read().as_ref()?.step?;
        let is_developer = run.plan.steps.get(index).is_some_and(PlannedStep::is_developer);
        let poured = run.state.actual.get(index)?.poured_at?;
        let zero = run.step_clock(index)?.zero(poured);
        let passed_ms = self.now.get().since_ms(zero);
        let is_read = run
            .state
            .readings
            .iter()
            .any(|reading| reading.place == Place::InTheTank && reading.at >= zero);
        let invites = is_developer
            && !is_read
            && !run.plan.practice
            && (INVITED_MS..2 * INVITED_MS).contains(&passed_ms);
        invites.then(|| "TEMP: read in the tank?".to_owned())
    }

    /// After a reading in the tank: a developer may be offered another time; a bath with a least time
    /// that is too cool is told so, and never to be shorter.
    pub(super) fn answer_in_the_tank(self) {
        let is_cool = self.run.with_untracked(|open| {
            let run = &open.as_ref()?.run;
            let index = self.view.get_untracked()?.step?;
            let step = run.plan.steps.get(index)?;
            let celsius = run.last_reading(Place::InTheTank)?.celsius;
            Some(step.direction != Direction::Exact && celsius < step.band.0)
        });
        if is_cool == Some(true) {
            return self.say_if_room("Too cool: longer, never shorter.");
        }
        self.offer_time();
    }

    /// Offers another time for the developer, where its readings speak for one.
    fn offer_time(self) {
        let Some(offered) = untrack(|| self.offered()) else { return };
        let ms = milliseconds(offered.0);
        self.overlay.set(Overlay::Times(ms));
        let (keep, _) = untrack(|| self.times_in_words(ms));
        self.say_if_room(&format!("Keep {keep}, or use {}. Estimate.", text::nearest(ms)));
    }

    /// Another time in seconds, and whether it is as far as time can go.
    fn offered(self) -> Option<(f64, bool)> {
        match self.developing(self.view.get()?.step?)?.advice? {
            Advice::OnCourse => None,
            Advice::Choice { seconds } => Some((seconds, false)),
            Advice::Bound { seconds } => Some((seconds, true)),
        }
    }

    /// The time of the step as it is, and what the readings say about it.
    pub fn times_in_words(self, other_ms: i64) -> (String, String) {
        let index = self.view.get().and_then(|view| view.step).unwrap_or_default();
        let kept_ms = self.run.with(|open| open.as_ref().and_then(|open| open.run.time_ms(index)));
        let kept = text::nearest(kept_ms.unwrap_or_default());
        let is_bound = self.offered().is_some_and(|(_, is_bound)| is_bound);
        let half_ms =
            self.developing(index).map_or(0, |known| milliseconds(known.course.half_width_s));
        let words = if is_bound {
            format!("{}: as far as time can go. Estimate.", text::nearest(other_ms))
        } else {
            format!(
                "By the readings {} to {}, estimate. Both are right.",
                text::nearest(other_ms - half_ms),
                text::nearest(other_ms + half_ms)
            )
        };
        (kept, words)
    }

    /// The readings of a place, as they hold: their entries and instants, the newest last.
    pub fn readings_of(self, place: Place) -> Vec<session::run::Reading> {
        self.run.with(|open| {
            let readings = open.as_ref().map(|open| open.run.state.readings.as_slice());
            let of = readings.unwrap_or_default().iter().filter(|reading| reading.place == place);
            of.copied().collect()
        })
    }

    /// Whether the open run is being tempered or loaded: it has not begun.
    pub(super) fn is_before_start(self) -> bool {
        self.run.with_untracked(|open| {
            open.as_ref().is_some_and(|open| open.run.state.tank == Tank::Ready)
        })
    }
}

/// Whether an event belongs to tempering.
pub(super) fn is_tempering(event: &Event) -> bool {
    matches!(
        event,
        Event::Read { .. } | Event::WaterSwapped { .. } | Event::WentDark | Event::LightsOn
    )
}

fn halves(litres: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "held between nought and a tub"
    )]
    let halves = (litres * 2.0).round().clamp(0.0, 60.0) as u32;
    halves
}
