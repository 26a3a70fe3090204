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
    /// Water was taken out of the tub and other water put in.
    WaterSwapped {
        /// How much was taken out, in millilitres.
        drain_ml: u32,
        /// How much was put in, in millilitres.
        add_ml: u32,
        /// How warm that was.
        celsius: Celsius,
    },
    /// A bottle was lifted out of the tub, or put back.
    BottleMoved {
        /// Which.
        bath: Bath,
        /// Put back, not lifted.
        back: bool,
    },
    /// A reading was taken away.
    ReadingDropped {
        /// The log entry of the reading.
        of: u32,
    },
    /// The light went out, for the film to be loaded.
    WentDark,
    /// The light is on again and the lid is locked.
    LightsOn,
    /// Another time was chosen for the step in the tank, or its own was kept.
    TimeChosen {
        /// The time, drain included.
        time_ms: i64,
    },
    /// The page was away while a bath was changed: that bath has been in the tank for so long.
    FoundInTank {
        /// Which step of the plan.
        step: u32,
        /// Since when.
        ago_ms: i64,
    },
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
    /// Of what was spilled, a quarter of the tank is left.
    QuarterLeft,
    /// Half of it is left.
    HalfLeft,
    /// Three quarters of it are left.
    MostLeft,
    /// Bleach-fix was in the tank before the developer.
    BleachFixFirst,
    /// Bleach-fix went into the developer's bottle.
    BleachFixInDeveloper,
    /// Developer went into the bottle of the bleach-fix.
    DeveloperInBleachFix,
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

    /// What is asked about a fault, where its answer depends on that.
    pub const fn which(self) -> &'static [Self] {
        match self {
            Self::Spilled => &[Self::QuarterLeft, Self::HalfLeft, Self::MostLeft],
            Self::WrongBath => {
                &[Self::BleachFixFirst, Self::BleachFixInDeveloper, Self::DeveloperInBleachFix]
            }
            Self::Light
            | Self::MissedAgitation
            | Self::LeaveNow
            | Self::SomethingElse
            | Self::QuarterLeft
            | Self::HalfLeft
            | Self::MostLeft
            | Self::BleachFixFirst
            | Self::BleachFixInDeveloper
            | Self::DeveloperInBleachFix => &[],
        }
    }

    /// How much of a tank is left after a spill.
    pub const fn share_left(self) -> Option<f64> {
        match self {
            Self::QuarterLeft => Some(0.25),
            Self::HalfLeft => Some(0.5),
            Self::MostLeft => Some(0.75),
            Self::Light
            | Self::MissedAgitation
            | Self::Spilled
            | Self::WrongBath
            | Self::LeaveNow
            | Self::SomethingElse
            | Self::BleachFixFirst
            | Self::BleachFixInDeveloper
            | Self::DeveloperInBleachFix => None,
        }
    }
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
            | Self::WaterSwapped { .. }
            | Self::BottleMoved { .. }
            | Self::ReadingDropped { .. }
            | Self::WentDark
            | Self::LightsOn
            | Self::TimeChosen { .. }
            | Self::FoundInTank { .. }
            | Self::Left => true,
            Self::WordsChanged(_)
            | Self::Undone { .. }
            | Self::Redone { .. }
            | Self::Away { .. }
            | Self::ClockSet { .. } => false,
        }
    }
}
