//! C-41 in separate baths, small tank.

use std::borrow::Cow;

use super::{Band, Bath, Choice, Direction, Light, Sheet, Step, Time};
use crate::agitation::Agitation;
use crate::quantity::{Celsius, Seconds};
use crate::source::{Confidence, Source};

/// Thirty seconds, then five in every thirty. From memory.
const FIVE_EVERY_THIRTY: Agitation = Agitation::Repeated {
    first: Seconds::whole(30),
    repeat: Seconds::whole(5),
    interval: Seconds::whole(30),
};

/// The sheet. The values of each row are those of its sources, as printed.
pub(super) const C41: Sheet = Sheet {
    key: Cow::Borrowed("c41_multi_bath"),
    name: Cow::Borrowed("C-41, multi-bath, small tank"),
    steps: Cow::Borrowed(&[PRE_SOAK, DEVELOPER, BLEACH, FIRST_WASH, FIXER, LAST_WASH, STABILISER]),
    drying: Seconds::whole(1200),
    pairs: Cow::Borrowed(&[]),
    is_shipped_startable: true,
};

const PRE_SOAK: Step = Step {
    id: Cow::Borrowed("presoak"),
    bath: Bath::PreSoak,
    choice: Choice::OptionalOn,
    time: Time { nominal: Seconds::whole(60), least: Seconds::whole(0), most: Seconds::whole(300) },
    band: Band {
        aim: Some(Celsius::new(38.0)),
        least: Celsius::new(37.0),
        most: Celsius::new(39.5),
    },
    agitation: Agitation::Still,
    direction: Direction::MinimumSoft,
    light: Light::LidStaysOn,
    sources: &[Source::WikiOnProcessing, Source::FromMemory],
    confidence: Confidence::Medium,
};

const DEVELOPER: Step = Step {
    id: Cow::Borrowed("developer"),
    bath: Bath::Developer,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(195),
        least: Seconds::whole(195),
        most: Seconds::whole(195),
    },
    band: Band {
        aim: Some(Celsius::new(37.8)),
        least: Celsius::new(37.65),
        most: Celsius::new(37.95),
    },
    agitation: Agitation::Repeated {
        first: Seconds::whole(30),
        repeat: Seconds::whole(2),
        interval: Seconds::whole(15),
    },
    direction: Direction::Exact,
    light: Light::LidStaysOn,
    sources: &[Source::ManualZ131, Source::SubcourseSs0514, Source::FromMemory],
    confidence: Confidence::High,
};

const BLEACH: Step = Step {
    id: Cow::Borrowed("bleach"),
    bath: Bath::Bleach,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(390),
        least: Seconds::whole(260),
        most: Seconds::whole(480),
    },
    band: Band {
        aim: Some(Celsius::new(38.0)),
        least: Celsius::new(24.0),
        most: Celsius::new(40.6),
    },
    agitation: FIVE_EVERY_THIRTY,
    direction: Direction::Minimum,
    light: Light::LidStaysOn,
    sources: &[Source::FromMemory, Source::SubcourseSs0514, Source::ManualZ131],
    confidence: Confidence::Medium,
};

const FIRST_WASH: Step = Step {
    id: Cow::Borrowed("wash1"),
    bath: Bath::Wash,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(195),
        least: Seconds::whole(60),
        most: Seconds::whole(240),
    },
    band: Band {
        aim: Some(Celsius::new(38.0)),
        least: Celsius::new(24.0),
        most: Celsius::new(40.6),
    },
    agitation: Agitation::Still,
    direction: Direction::Minimum,
    light: Light::LidMayComeOff,
    sources: &[Source::FromMemory],
    confidence: Confidence::Medium,
};

const FIXER: Step = Step {
    id: Cow::Borrowed("fixer"),
    bath: Bath::Fixer,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(390),
        least: Seconds::whole(260),
        most: Seconds::whole(480),
    },
    band: Band {
        aim: Some(Celsius::new(38.0)),
        least: Celsius::new(24.0),
        most: Celsius::new(40.6),
    },
    agitation: FIVE_EVERY_THIRTY,
    direction: Direction::Minimum,
    light: Light::LidMayComeOff,
    sources: &[Source::FromMemory, Source::ManualZ131],
    confidence: Confidence::Medium,
};

const LAST_WASH: Step = Step {
    id: Cow::Borrowed("wash2"),
    bath: Bath::Wash,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(195),
        least: Seconds::whole(180),
        most: Seconds::whole(300),
    },
    band: Band {
        aim: Some(Celsius::new(38.0)),
        least: Celsius::new(24.0),
        most: Celsius::new(40.6),
    },
    agitation: Agitation::Still,
    direction: Direction::Minimum,
    light: Light::LidMayComeOff,
    sources: &[Source::FromMemory],
    confidence: Confidence::Medium,
};

const STABILISER: Step = Step {
    id: Cow::Borrowed("stabiliser"),
    bath: Bath::Stabiliser,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(90),
        least: Seconds::whole(60),
        most: Seconds::whole(120),
    },
    band: Band {
        aim: Some(Celsius::new(30.0)),
        least: Celsius::new(24.0),
        most: Celsius::new(40.6),
    },
    agitation: Agitation::Once { first: Seconds::whole(30) },
    direction: Direction::MinimumSoft,
    light: Light::LidMayComeOff,
    sources: &[Source::FromMemory, Source::ManualZ131],
    confidence: Confidence::Medium,
};
