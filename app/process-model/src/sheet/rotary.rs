//! Two-bath colour negative in a rotary tank. Startable once a leaflet says the same.

use std::borrow::Cow;

use super::{Bath, Choice, Direction, Light, Sheet, Step, band, time};
use crate::agitation::Agitation;
use crate::quantity::Seconds;
use crate::source::{Confidence, Source};

/// 37.8 °C, turned without a rest.
pub(super) const TWO_BATH: Sheet = Sheet {
    key: Cow::Borrowed("two_bath_colour_negative_rotary"),
    name: Cow::Borrowed("Two-bath colour negative, rotary, 37.8 °C"),
    steps: Cow::Borrowed(TWO_BATH_STEPS),
    drying: Seconds::whole(7200),
    pairs: Cow::Borrowed(&[]),
    is_shipped_startable: false,
};

const TWO_BATH_STEPS: &[Step] = &[
    Step {
        id: Cow::Borrowed("prewarm"),
        bath: Bath::PreSoak,
        choice: Choice::Always,
        time: time(300, 180, 300),
        band: band(Some(38.0), 37.0, 39.0),
        agitation: Agitation::Continuous,
        direction: Direction::MinimumSoft,
        light: Light::LidStaysOn,
        sources: &[Source::FromMemory],
        confidence: Confidence::Medium,
    },
    Step {
        id: Cow::Borrowed("developer"),
        bath: Bath::Developer,
        choice: Choice::Always,
        time: time(195, 195, 270),
        band: band(Some(37.8), 37.5, 38.1),
        agitation: Agitation::Continuous,
        direction: Direction::Exact,
        light: Light::LidStaysOn,
        sources: &[Source::FromMemory],
        confidence: Confidence::Medium,
    },
    Step {
        id: Cow::Borrowed("rinse"),
        bath: Bath::StopBath,
        choice: Choice::OptionalOff,
        time: time(30, 15, 60),
        band: band(Some(38.0), 35.0, 40.0),
        agitation: Agitation::Continuous,
        direction: Direction::MinimumSoft,
        light: Light::LidStaysOn,
        sources: &[Source::FromMemory],
        confidence: Confidence::Medium,
    },
    Step {
        id: Cow::Borrowed("bleachfix"),
        bath: Bath::BleachFix,
        choice: Choice::Always,
        time: time(360, 240, 480),
        band: band(Some(38.0), 35.0, 40.0),
        agitation: Agitation::Continuous,
        direction: Direction::Minimum,
        light: Light::LidStaysOn,
        sources: &[Source::FromMemory],
        confidence: Confidence::Medium,
    },
    Step {
        id: Cow::Borrowed("wash"),
        bath: Bath::Wash,
        choice: Choice::Always,
        time: time(180, 180, 300),
        band: band(Some(38.0), 33.0, 40.0),
        agitation: Agitation::Continuous,
        direction: Direction::Minimum,
        light: Light::LidMayComeOff,
        sources: &[Source::FromMemory],
        confidence: Confidence::Medium,
    },
    Step {
        id: Cow::Borrowed("stabiliser"),
        bath: Bath::Stabiliser,
        choice: Choice::Always,
        time: time(60, 30, 90),
        band: band(Some(25.0), 20.0, 35.0),
        agitation: Agitation::Still,
        direction: Direction::MinimumSoft,
        light: Light::LidMayComeOff,
        sources: &[Source::FromMemory],
        confidence: Confidence::Medium,
    },
];
