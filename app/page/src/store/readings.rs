//! Readings and faults: what the overlays of a run do.

use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use process_model::film::Tank as Reels;
use process_model::quantity::Celsius;
use process_model::sheet::Bath;
use session::Command;
use session::Run;
use session::entry::{Event, Fault, Place};
use session::habits::Scale;
use session::plan::{Plan, PlannedStep};
use session::reading::{self, Judgement};
use session::run::Tank;
use session::sheets::Method;
use session::shelf;

use super::{Overlay, Store};
use crate::text;
use crate::typed::{Typed, Typing};

/// How long half a degree Fahrenheit more is offered.
const HALF_OFFERED_MS: u32 = 3_000;
/// How long is asked what was done about the tub.
const TUB_ASKED_MS: u32 = 5_000;

impl Store {
    /// Opens the keypad of a run: on the tub, the place that is read most.
    pub fn open_temp(self) {
        self.open_keypad(Place::Tub);
    }

    /// Opens the keypad for `place`.
    pub fn open_keypad(self, place: Place) {
        self.place.set(place);
        self.typed.set(Typed::default());
        self.typing_hint.set(String::new());
        self.asked_back.set(None);
        self.overlay.set(Overlay::Temp);
    }

    /// Closes whatever lies over the screen.
    pub fn close_overlay(self) {
        self.overlay.set(Overlay::None);
        self.asked_back.set(None);
    }

    /// Types a digit; the third takes the reading.
    pub fn type_digit(self, digit: u8) {
        self.typing_hint.set(String::new());
        let typed = self.typed.with_untracked(|typed| typed.add(digit, text::scale()));
        match typed {
            Typing::Going(typed) => self.typed.set(typed),
            Typing::Done(celsius) => self.take_reading(celsius),
        }
    }

    /// Takes the last digit back.
    pub fn type_back(self) {
        self.typed.update(|typed| *typed = typed.back());
    }

    /// Takes a reading that was pasted, or says why not.
    pub fn paste_reading(self, pasted: &str) {
        match crate::typed::pasted(pasted, text::scale()) {
            Ok(celsius) => self.take_reading(celsius),
            Err(hint) => self.typing_hint.set(hint.to_owned()),
        }
    }

    fn take_reading(self, celsius: Celsius) {
        let place = self.place.get_untracked();
        let (before, expected) = self.run.with_untracked(|open| {
            let run = open.as_ref().map(|open| &open.run);
            let before = run.and_then(|run| run.last_reading(place)).map(|last| last.celsius);
            (before, run.and_then(|run| reading::expected(run, place)))
        });
        self.typed.set(Typed::default());
        let Ok(entry) = self.dispatch(Command::Read { place, celsius }) else {
            self.close_overlay();
            return;
        };
        let doubted = matches!(entry.event, Event::Read { doubted: true, .. });
        if doubted {
            let fix = expected.and_then(|expected| reading::fix(celsius, expected));
            let question = text::doubt(place, celsius, expected);
            self.say_if_room(&question);
            let asked = AskedBack { of: entry.seq, celsius, expected, fix, is_half: false };
            self.asked_back.set(Some(asked));
        } else {
            self.say_if_room(&text::read_back(place, celsius, before));
            self.offer_half(entry.seq, celsius);
        }
        self.alarm_beyond_limits(place, celsius);
    }

    /// In Fahrenheit a half more is offered for three seconds; otherwise the keypad closes at once.
    fn offer_half(self, of: u32, celsius: Celsius) {
        if text::scale() != Scale::Fahrenheit {
            return self.after_reading();
        }
        let half = crate::typed::from_fahrenheit(celsius.fahrenheit() + 0.5);
        let asked = AskedBack { of, celsius, expected: None, fix: Some(half), is_half: true };
        self.asked_back.set(Some(asked));
        let withdraw = move || {
            if self.asked_back.get_untracked() == Some(asked) {
                self.after_reading();
            }
        };
        Timeout::new(HALF_OFFERED_MS, withdraw).forget();
    }

    /// Leaves the question about a reading as it is.
    pub fn keep_reading(self) {
        if self.asked_back.get_untracked().is_some_and(|asked| asked.is_half) {
            self.after_reading();
        } else {
            self.close_overlay();
        }
    }

    /// A reading in the tank may lead to another time; one of the tub asks what was done about it.
    fn after_reading(self) {
        self.close_overlay();
        if !self.is_live() {
            return;
        }
        match self.place.get_untracked() {
            Place::Bottle(_) => {}
            Place::InTheTank => self.answer_in_the_tank(),
            Place::Tub => {
                self.overlay.set(Overlay::TubDone);
                let withdraw = move || {
                    if self.overlay.get_untracked() == Overlay::TubDone {
                        self.close_overlay();
                    }
                };
                Timeout::new(TUB_ASKED_MS, withdraw).forget();
            }
        }
    }

    /// A developer whose reading in the tank means that it is outside its hard limits is one of three
    /// reasons for the alarm.
    fn alarm_beyond_limits(self, place: Place, read: Celsius) {
        let offset_k = untrack(|| self.vessels()).offset_k;
        let celsius = Celsius::new(read.get() - offset_k);
        let beyond = self.run.with_untracked(|open| {
            let step = open.as_ref().and_then(|open| step_in(&open.run));
            step.and_then(|step| step.developer)
                .is_some_and(|developer| celsius < developer.hard.0 || celsius > developer.hard.1)
        });
        if place == Place::InTheTank && beyond {
            self.say(&text::beyond_limits(read), true);
            self.alarm();
        }
    }

    /// Puts a doubtful reading right with one touch.
    pub fn correct_reading(self, of: u32, celsius: Celsius) {
        if self.dispatch(Command::Correct { of, celsius }).is_ok() {
            let place = self.place.get_untracked();
            self.say_if_room(&text::read_back(place, celsius, None));
        }
        self.after_reading();
    }

    /// Notes a fault and shows what to do.
    pub fn note_fault(self, fault: Fault) {
        if self.dispatch(Command::Note(fault)).is_err() {
            self.close_overlay();
            return;
        }
        if !untrack(|| self.is_practice()) {
            self.note_on_solution(fault, false);
        }
        let covers = untrack(|| self.covers(fault));
        let answer = self.run.with_untracked(|open| {
            text::answer(fault, open.as_ref().and_then(|open| step_in(&open.run)), covers)
        });
        self.say(&answer, true);
        self.overlay.set(Overlay::Answer(fault));
    }

    /// Whether what is left after a spill covers the reels. Nothing where nobody has said how much
    /// that takes, and it does not follow from the rolls.
    pub fn covers(self, fault: Fault) -> Option<bool> {
        let share = fault.share_left()?;
        let vessels = self.vessels();
        let least_l = vessels.covers_l.or_else(|| {
            let open = self.run.get()?;
            let tank = self.tank_of(&open.run.plan);
            let rolls = self.rolls_in(open.record.id());
            shelf::least_ml(rolls.iter(), tank).map(|least_ml| least_ml / 1000.0)
        });
        Some(share * vessels.tank_l >= least_l?)
    }

    /// What the reels of a plan turn in.
    pub fn tank_of(self, plan: &Plan) -> Reels {
        if plan.method == Method::Rotary {
            Reels::Rotary
        } else if self.vessels().is_steel {
            Reels::Steel
        } else {
            Reels::Plastic
        }
    }

    /// Whether any value of Last check is out of its band or was not read.
    pub fn is_anything_out(self) -> bool {
        self.run.read().is_some()
            && self.places_to_check().into_iter().any(|place| self.judge(place) != Judgement::Fine)
    }

    /// What the last reading of a place is worth, what the thermometer is off allowed for.
    pub fn judge(self, place: Place) -> Judgement {
        let open = self.run.read();
        let offset_k = self.vessels().offset_k;
        open.as_ref().map_or(Judgement::Unread, |open| reading::judge(&open.run, place, offset_k))
    }

    /// The bottles and waters that Last check asks about, in the order of the sheet.
    pub fn places_to_check(self) -> Vec<Place> {
        let has_tub = self.vessels().tub_l >= 0.5;
        self.run.with(|open| {
            let steps =
                open.as_ref().map(|open| open.run.plan.steps.as_slice()).unwrap_or_default();
            let bottles = steps.iter().map(|step| step.bath).filter(|bath| {
                bath.is_developer() || matches!(bath, Bath::Bleach | Bath::BleachFix | Bath::Fixer)
            });
            let soak = steps.iter().any(|step| step.bath == Bath::PreSoak);
            let mut places: Vec<_> = bottles.map(Place::Bottle).collect();
            places.extend(has_tub.then_some(Place::Tub));
            places.extend(soak.then_some(Place::Bottle(Bath::PreSoak)));
            places
        })
    }
}

/// A reading that was asked back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AskedBack {
    /// Its log entry.
    pub of: u32,
    /// What it says.
    pub celsius: Celsius,
    /// What was expected.
    pub expected: Option<(Celsius, Celsius)>,
    /// What may have been meant.
    pub fix: Option<Celsius>,
    /// Whether it is not in doubt, and only half a degree more is offered.
    pub is_half: bool,
}

/// The step in the tank or about to be.
fn step_in(run: &Run) -> Option<&PlannedStep> {
    match run.state.tank {
        Tank::Bath { step, .. } | Tank::Asking { step, .. } => run.plan.steps.get(step),
        Tank::Ready | Tank::Done { .. } | Tank::Left { .. } => None,
    }
}
