//! What the person did: one run as a log of entries, and what follows from it.
//!
//! Pure: no browser, no clock, no chance. Time is an argument.
//! A run is its log: `log.into_iter().fold(Run::new(plan), apply)` is the run again.
//! In reading order: time and habits, the plan that a run freezes, the run itself, what is true
//! at one instant, what is said and sounded when, and how a run is written down.

pub mod order;
pub mod timestamp;

pub mod habits;
pub mod plan;
pub mod sheets;
pub mod step_clock;

pub mod command;
pub mod entry;
pub mod reading;
pub mod run;
pub mod wash;

pub mod developing;
pub mod evening;
pub mod film;
pub mod photos;
pub mod practice;
pub mod rolls;
pub mod shelf;
pub mod tempering;
pub mod vessels;

pub mod cue;
pub mod spoken;
pub mod view;

pub mod clock;
pub mod notebook;
pub mod trial;

pub use command::{Command, Refusal, decide};
pub use cue::cues;
pub use entry::{Entry, Event};
pub use run::{Run, apply};
pub use view::view;
