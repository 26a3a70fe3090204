//! Black-and-white negative, small tank. Startable once a leaflet says the same.

use std::borrow::Cow;

use super::{Bath, Choice, Direction, Light, Sheet, Step, band, spells, time};
use crate::agitation::Agitation;
use crate::quantity::Seconds;
use crate::source::{Confidence, Source};

/// 20 °C; the developer time is that of the film and the developer.
pub(super) const NEGATIVE: Sheet = Sheet {
    key: Cow::Borrowed("black_and_white_negative"),
    name: Cow::Borrowed("Black-and-white negative, 20 °C"),
    steps: Cow::Borrowed(NEGATIVE_STEPS),
    drying: Seconds::whole(7200),
    pairs: Cow::Borrowed(&[]),
    is_shipped_startable: false,
};

const NEGATIVE_STEPS: &[Step] = &[
    Step {
        id: Cow::Borrowed("presoak"),
        bath: Bath::PreSoak,
        choice: Choice::OptionalOn,
        time: time(60, 0, 300),
        band: band(Some(20.0), 18.0, 24.0),
        agitation: Agitation::Still,
        direction: Direction::MinimumSoft,
        light: Light::LidStaysOn,
        sources: &[Source::FromMemory],
        confidence: Confidence::Medium,
    },
    Step {
        id: Cow::Borrowed("developer"),
        bath: Bath::Developer,
        choice: Choice::Always,
        time: time(480, 240, 1200),
        band: band(Some(20.0), 18.0, 24.0),
        agitation: spells(30, 5, 60),
        direction: Direction::Exact,
        light: Light::LidStaysOn,
        sources: &[Source::Navedtra14209, Source::FromMemory, Source::SubcourseSs0509],
        confidence: Confidence::High,
    },
    Step {
        id: Cow::Borrowed("stop"),
        bath: Bath::StopBath,
        choice: Choice::Always,
        time: time(30, 10, 60),
        band: band(Some(20.0), 15.0, 25.0),
        agitation: Agitation::Continuous,
        direction: Direction::MinimumSoft,
        light: Light::LidStaysOn,
        sources: &[Source::FromMemory, Source::SubcourseSs0509],
        confidence: Confidence::Medium,
    },
    Step {
        id: Cow::Borrowed("fixer_rapid"),
        bath: Bath::Fixer,
        choice: Choice::Always,
        time: time(240, 120, 600),
        band: band(Some(20.0), 18.0, 25.0),
        agitation: spells(10, 10, 60),
        direction: Direction::Minimum,
        light: Light::LidStaysOn,
        sources: &[Source::Navedtra14209, Source::WikiOnProcessing, Source::SubcourseSs0509],
        confidence: Confidence::High,
    },
    Step {
        id: Cow::Borrowed("washaid"),
        bath: Bath::WashAid,
        choice: Choice::OptionalOff,
        time: time(120, 60, 120),
        band: band(Some(20.0), 18.0, 25.0),
        agitation: Agitation::Continuous,
        direction: Direction::MinimumSoft,
        light: Light::LidMayComeOff,
        sources: &[Source::SubcourseSs0509],
        confidence: Confidence::High,
    },
    Step {
        id: Cow::Borrowed("wash"),
        bath: Bath::Wash,
        choice: Choice::Always,
        time: time(300, 180, 1800),
        band: band(Some(20.0), 15.0, 25.0),
        agitation: Agitation::Still,
        direction: Direction::Minimum,
        light: Light::LidMayComeOff,
        sources: &[Source::SubcourseSs0509, Source::Md0954, Source::WashCard],
        confidence: Confidence::High,
    },
    Step {
        id: Cow::Borrowed("wetting"),
        bath: Bath::WettingAgent,
        choice: Choice::Always,
        time: time(60, 30, 120),
        band: band(Some(20.0), 15.0, 25.0),
        agitation: Agitation::Still,
        direction: Direction::MinimumSoft,
        light: Light::LidMayComeOff,
        sources: &[Source::SubcourseSs0509, Source::Tm1500],
        confidence: Confidence::High,
    },
];
