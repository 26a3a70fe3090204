//! What happened, as it is kept: facts in the past tense, never removed or changed.

use process_model::quantity::Celsius;
use process_model::sheet::Bath;

use crate::habits::Words;
use crate::timestamp::Timestamp;

/// One line of a run's log.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its place in the log, from zero.
    pub seq: u32,
    /// When it happened.
    pub at: Timestamp,
    /// What happened.
    pub event: Event,
}

/// What happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Event {
    /// The run began; the first lead-in runs.
    Started {
        /// Something was out of its band, or not measured, and the person started all the same.
        anyway: bool,
    },
    /// The tank is empty, or was so `ago_ms` earlier.
    TankEmptied {
        /// How long before the tap the tank was empty.
        ago_ms: i64,
    },
    /// The tank is full. Only practice with water asks for it, to learn how long pouring in takes.
    Filled,
    /// The lead-in to the next pour began anew.
    LeadInRestarted,
    /// The last bath was out earlier than the tap that said so.
    BackDated {
        /// How much earlier than the tap.
        by_ms: i64,
    },
    /// The person chose whether to do the step that asks.
    Chosen {
        /// With it, or without.
        with: With,
    },
    /// The wash water was looked at.
    Judged {
        /// How it looked.
        look: Look,
        /// Whether this ended the wash; then it also means that the tank is empty.
        ends: bool,
    },
    /// A temperature was read.
    Read {
        /// Where.
        place: Place,
        /// What the thermometer said.
        celsius: Celsius,
        /// Whether it was so far from what was expected that the person was asked.
        doubted: bool,
    },
    /// A reading was put right.
    ReadingCorrected {
        /// The log entry of the reading.
        of: u32,
        /// What it should have been.
        celsius: Celsius,
    },
    /// Something went wrong.
    FaultNoted(Fault),
    /// More or fewer words from here on.
    WordsChanged(Words),
    /// An entry was taken back.
    Undone {
        /// The entry.
        of: u32,
    },
    /// An entry that had been taken back holds again.
    Redone {
        /// The entry.
        of: u32,
    },
    /// The page was away: hidden, reloaded or killed.
    Away {
        /// For how long.
        ms: i64,
        /// Why.
        why: Absence,
    },
    /// Somebody set the phone's clock; the run's clock did not follow.
    ClockSet {
        /// How far the phone's clock moved.
        by_ms: i64,
    },
    /// The run was stopped before its end.
    Left,
}

/// With the step that asks, or without it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum With {
    /// It is done.
    With,
    /// It is left out.
    Without,
}

/// How wash water looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Clear.
    Clear,
    /// Still tinted.
    Tinted,
}

/// Where a temperature was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// The water that the bottles stand in.
    Tub,
    /// In the tank, through the pouring opening with the lid on.
    InTheTank,
    /// In the bottle or jug of a bath.
    Bottle(Bath),
}

/// Why the page was away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Absence {
    /// Another app, a call or the lock button.
    Hidden,
    /// Reloaded, closed or killed.
    Reloaded,
}

/// What went wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fault {
    /// Light got in.
    Light,
    /// An agitation was missed.
    MissedAgitation,
    /// Some of the bath was spilled.
    Spilled,
    /// A bath went where it should not.
    WrongBath,
    /// The person has to go away now.
    LeaveNow,
    /// Something else, to be written down later.
    SomethingElse,
}

impl Fault {
    /// Every fault, in the order of the keys.
    pub const ALL: [Self; 6] = [
        Self::Light,
        Self::MissedAgitation,
        Self::Spilled,
        Self::WrongBath,
        Self::LeaveNow,
        Self::SomethingElse,
    ];
}

impl Event {
    /// Whether it came from a tap that UNDO can take back.
    pub fn is_tap(&self) -> bool {
        match self {
            Self::Started { .. }
            | Self::TankEmptied { .. }
            | Self::Filled
            | Self::LeadInRestarted
            | Self::BackDated { .. }
            | Self::Chosen { .. }
            | Self::Judged { .. }
            | Self::Read { .. }
            | Self::ReadingCorrected { .. }
            | Self::FaultNoted(_)
            | Self::Left => true,
            Self::WordsChanged(_)
            | Self::Undone { .. }
            | Self::Redone { .. }
            | Self::Away { .. }
            | Self::ClockSet { .. } => false,
        }
    }
}
