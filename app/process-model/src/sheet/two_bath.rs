//! Two-bath colour negative at 38.9 °C (102 °F): developer, then bleach and fixer in one.

use std::borrow::Cow;

use super::{Band, Bath, Choice, Direction, Light, Sheet, Step, Time};
use crate::agitation::Agitation;
use crate::quantity::{Celsius, Seconds};
use crate::source::{Confidence, Source};

/// Ten seconds, then five in every thirty. Common practice, no source.
const FIVE_EVERY_THIRTY: Agitation = Agitation::Repeated {
    first: Seconds::whole(10),
    repeat: Seconds::whole(5),
    interval: Seconds::whole(30),
};

/// The sheet. The values of each row are those of its sources, as printed.
pub(super) const AT_38_9: Sheet = Sheet {
    key: Cow::Borrowed("two_bath_colour_negative_38_9"),
    name: Cow::Borrowed("Two-bath colour negative, 38.9 °C"),
    steps: Cow::Borrowed(&[PRE_SOAK, DEVELOPER, STOP_RINSE, BLEACH_FIX, WASH, RINSE, STABILISER]),
    drying: Seconds::whole(7200),
    pairs: Cow::Borrowed(&[]),
    is_shipped_startable: true,
};

const PRE_SOAK: Step = Step {
    id: Cow::Borrowed("presoak"),
    bath: Bath::PreSoak,
    choice: Choice::OptionalOn,
    time: Time { nominal: Seconds::whole(60), least: Seconds::whole(0), most: Seconds::whole(300) },
    band: Band {
        aim: Some(Celsius::new(38.9)),
        least: Celsius::new(37.8),
        most: Celsius::new(40.6),
    },
    agitation: Agitation::Still,
    direction: Direction::MinimumSoft,
    light: Light::LidStaysOn,
    sources: &[Source::CommonPractice, Source::TwoKitReports, Source::WikiOnProcessing],
    confidence: Confidence::High,
};

const DEVELOPER: Step = Step {
    id: Cow::Borrowed("developer"),
    bath: Bath::Developer,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(210),
        least: Seconds::whole(195),
        most: Seconds::whole(300),
    },
    band: Band {
        aim: Some(Celsius::new(38.9)),
        least: Celsius::new(38.6),
        most: Celsius::new(39.2),
    },
    agitation: FIVE_EVERY_THIRTY,
    direction: Direction::Exact,
    light: Light::LidStaysOn,
    sources: &[Source::CommonPractice, Source::TwoKitReports, Source::FromMemory],
    confidence: Confidence::High,
};

const STOP_RINSE: Step = Step {
    id: Cow::Borrowed("stop_rinse"),
    bath: Bath::StopBath,
    choice: Choice::OptionalOff,
    time: Time { nominal: Seconds::whole(30), least: Seconds::whole(15), most: Seconds::whole(60) },
    band: Band {
        aim: Some(Celsius::new(38.0)),
        least: Celsius::new(30.0),
        most: Celsius::new(41.0),
    },
    agitation: Agitation::Continuous,
    direction: Direction::MinimumSoft,
    light: Light::LidStaysOn,
    sources: &[Source::FromMemory, Source::CineClubNewsletter, Source::SubcourseSs0520],
    confidence: Confidence::Medium,
};

const BLEACH_FIX: Step = Step {
    id: Cow::Borrowed("bleachfix"),
    bath: Bath::BleachFix,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(480),
        least: Seconds::whole(390),
        most: Seconds::whole(600),
    },
    band: Band {
        aim: Some(Celsius::new(38.9)),
        least: Celsius::new(24.0),
        most: Celsius::new(40.6),
    },
    agitation: FIVE_EVERY_THIRTY,
    direction: Direction::Minimum,
    light: Light::LidStaysOn,
    sources: &[Source::CommonPractice, Source::TwoKitReports],
    confidence: Confidence::High,
};

const WASH: Step = Step {
    id: Cow::Borrowed("wash"),
    bath: Bath::Wash,
    choice: Choice::Always,
    time: Time {
        nominal: Seconds::whole(300),
        least: Seconds::whole(180),
        most: Seconds::whole(600),
    },
    band: Band {
        aim: Some(Celsius::new(38.0)),
        least: Celsius::new(24.0),
        most: Celsius::new(40.6),
    },
    agitation: Agitation::Still,
    direction: Direction::Minimum,
    light: Light::LidMayComeOff,
    sources: &[Source::CommonPractice, Source::TwoKitReports],
    confidence: Confidence::High,
};

const RINSE: Step = Step {
    id: Cow::Borrowed("distilled_rinse"),
    bath: Bath::Rinse,
    choice: Choice::OptionalOn,
    time: Time {
        nominal: Seconds::whole(60),
        least: Seconds::whole(30),
        most: Seconds::whole(120),
    },
    band: Band { aim: None, least: Celsius::new(18.0), most: Celsius::new(40.0) },
    agitation: Agitation::Still,
    direction: Direction::MinimumSoft,
    light: Light::LidMayComeOff,
    sources: &[Source::CommonPractice],
    confidence: Confidence::Medium,
};

const STABILISER: Step = Step {
    id: Cow::Borrowed("stabiliser"),
    bath: Bath::Stabiliser,
    choice: Choice::Asked,
    time: Time { nominal: Seconds::whole(60), least: Seconds::whole(30), most: Seconds::whole(90) },
    band: Band {
        aim: Some(Celsius::new(25.0)),
        least: Celsius::new(15.0),
        most: Celsius::new(40.0),
    },
    agitation: Agitation::Once { first: Seconds::whole(15) },
    direction: Direction::MinimumSoft,
    light: Light::LidMayComeOff,
    sources: &[Source::TwoKitReports, Source::CommonPractice],
    confidence: Confidence::Medium,
};
