//! The fields of one step.

use process_model::agitation::Agitation;
use process_model::quantity::{Celsius, Seconds};
use process_model::sheet::{Bath, Choice, Direction, Light, Step};
use session::sheets::{Known, step_id};

use super::Edit;
use crate::screens::desk::{Line, Press};
use crate::text;

/// A time of a step: its name, and how it is read and set.
type Time = (&'static str, fn(&Step) -> Seconds, fn(&mut Step, Option<Seconds>));
/// A temperature of a step.
type Warmth = (&'static str, fn(&Step) -> Option<Celsius>, fn(&mut Step, Option<Celsius>));

const TIMES: [Time; 3] = [
    ("time", |step| step.time.nominal, set_nominal),
    (
        "shortest",
        |step| step.time.least,
        |step, value| {
            step.time.least = value.unwrap_or(step.time.nominal);
        },
    ),
    (
        "longest",
        |step| step.time.most,
        |step, value| {
            step.time.most = value.unwrap_or(step.time.nominal);
        },
    ),
];

const WARMTHS: [Warmth; 3] = [
    ("aim", |step| step.band.aim, |step, value| step.band.aim = value),
    (
        "coolest",
        |step| Some(step.band.least),
        |step, value| {
            step.band.least = value.unwrap_or(step.band.least);
        },
    ),
    (
        "warmest",
        |step| Some(step.band.most),
        |step, value| {
            step.band.most = value.unwrap_or(step.band.most);
        },
    ),
];

const RHYTHM: [&str; 3] = ["first agitation", "each later", "every"];

/// The fields.
pub(super) fn lines(edit: &Edit, index: usize, step: &Step) -> Vec<Line> {
    let bath = text::bath(step.bath);
    let name = |what: &str| format!("{} {bath}, {what}", index + 1);
    let mut lines = vec![Line::Heading(format!("{} {bath}", index + 1))];
    for (what, get, set) in TIMES {
        let set = on(index, set);
        lines.push(edit.time(name(what), Some(get(step)), set));
    }
    for (what, get, set) in WARMTHS {
        lines.push(edit.celsius(name(what), get(step), on(index, set)));
    }
    let is_continuous = step.agitation == Agitation::Continuous;
    let (first, repeat, interval) = step.agitation.numbers();
    let moves = RHYTHM.into_iter().zip([first, repeat, interval]).enumerate();
    for (which, (what, value)) in moves.filter(|_| !is_continuous) {
        let set = move |known: &mut Known, value: Option<f64>| {
            if let Some(step) = known.sheet.steps.to_mut().get_mut(index) {
                set_rhythm(step, which, value);
            }
        };
        lines.push(edit.number(name(what), "s", Some(value.get()), set));
    }
    lines.extend(choices(edit, index, step));
    lines
}

/// Sets something of the step at `index`.
fn on<T: 'static>(
    index: usize,
    set: fn(&mut Step, Option<T>),
) -> impl Fn(&mut Known, Option<T>) + Send + Sync + 'static {
    move |known: &mut Known, value: Option<T>| {
        if let Some(step) = known.sheet.steps.to_mut().get_mut(index) {
            set(step, value);
        }
    }
}

fn choices(edit: &Edit, index: usize, step: &Step) -> [Line; 5] {
    let is_continuous = step.agitation == Agitation::Continuous;
    let direction = [
        (Direction::Exact, "exact"),
        (Direction::Minimum, "minimum"),
        (Direction::MinimumSoft, "about"),
    ];
    let choice = [
        (Choice::Always, "always"),
        (Choice::OptionalOn, "on"),
        (Choice::OptionalOff, "off"),
        (Choice::Asked, "asked"),
    ];
    [
        one_of(
            edit,
            index,
            step,
            "agitation",
            &[(false, "repeated"), (true, "without stopping")],
            is_continuous,
            |step, so| {
                if so != (step.agitation == Agitation::Continuous) {
                    step.agitation = if so { Agitation::Continuous } else { Agitation::Still };
                }
            },
        ),
        one_of(edit, index, step, "time is", &direction, step.direction, |step, value| {
            step.direction = value;
        }),
        one_of(edit, index, step, "done", &choice, step.choice, |step, value| {
            step.choice = value;
        }),
        one_of(
            edit,
            index,
            step,
            "lid",
            &[(Light::LidStaysOn, "stays on"), (Light::LidMayComeOff, "may come off")],
            step.light,
            |step, value| step.light = value,
        ),
        Line::Keys(vec![
            Press::new("MOVE UP", edit.act(move |known| move_up(known, index))),
            Press::new("REMOVE", edit.act(move |known| take_out(known, index))),
        ]),
    ]
}

fn one_of<T: Copy + PartialEq + Send + Sync + 'static>(
    edit: &Edit,
    index: usize,
    step: &Step,
    what: &str,
    of: &[(T, &str)],
    chosen: T,
    set: fn(&mut Step, T),
) -> Line {
    let half = |(value, word): &(T, &str)| {
        let value = *value;
        let set = edit.act(move |known| {
            if let Some(step) = known.sheet.steps.to_mut().get_mut(index) {
                set(step, value);
            }
        });
        Press::new(*word, set).so(value == chosen)
    };
    Line::Choice {
        name: format!("{} {}, {what}", index + 1, text::bath(step.bath)),
        about: String::new(),
        of: of.iter().map(half).collect(),
    }
}

fn set_nominal(step: &mut Step, value: Option<Seconds>) {
    if let Some(value) = value {
        step.time.nominal = value;
        // A new time moves its bounds along; they can be set afterwards.
        if step.time.least > value {
            step.time.least = value;
        }
        if step.time.most < value {
            step.time.most = value;
        }
    }
}

fn set_rhythm(step: &mut Step, which: usize, value: Option<f64>) {
    let (first, repeat, interval) = step.agitation.numbers();
    let mut numbers = [first, repeat, interval];
    let value = value.and_then(|value| Seconds::try_new(value).ok()).unwrap_or(Seconds::whole(0));
    if let Some(number) = numbers.get_mut(which) {
        *number = value;
    }
    let [first, repeat, interval] = numbers;
    // A rhythm is typed number by number: a repeat without an interval yet is not "until drain".
    step.agitation = match (repeat.get() > 0.0, interval.get() > 0.0) {
        (true, false) => Agitation::from_numbers(first, repeat, Seconds::whole(30)),
        _ => Agitation::from_numbers(first, repeat, interval),
    };
}

fn move_up(known: &mut Known, index: usize) {
    let steps = known.sheet.steps.to_mut();
    if index > 0 && index < steps.len() {
        steps.swap(index, index - 1);
    }
}

fn take_out(known: &mut Known, index: usize) {
    let steps = known.sheet.steps.to_mut();
    if index < steps.len() {
        steps.remove(index);
    }
}

/// What can be put in, at the end.
pub(super) fn put_in(edit: &Edit) -> Line {
    let baths = [
        Bath::PreSoak,
        Bath::Developer,
        Bath::StopBath,
        Bath::Bleach,
        Bath::Fixer,
        Bath::BleachFix,
        Bath::Wash,
        Bath::Rinse,
        Bath::Stabiliser,
    ];
    let half = |bath: Bath| Press::new(text::bath(bath), edit.act(move |known| add(known, bath)));
    Line::Choice {
        name: "Put in a step".to_owned(),
        about: "at the end; then move it up".to_owned(),
        of: baths.into_iter().map(half).collect(),
    }
}

/// A new step is like the one before it, a minute long, and the lid stays on until somebody says
/// otherwise.
fn add(known: &mut Known, bath: Bath) {
    let id = step_id(&known.sheet.steps, bath);
    let steps = known.sheet.steps.to_mut();
    if let Some(mut step) = steps.last().cloned() {
        let minute = Seconds::whole(60);
        step.id = id.into();
        step.bath = bath;
        step.choice = Choice::Always;
        step.time = process_model::sheet::Time { nominal: minute, least: minute, most: minute };
        step.agitation = Agitation::Still;
        step.light = Light::LidStaysOn;
        step.direction = if bath.is_developer() { Direction::Exact } else { Direction::Minimum };
        steps.push(step);
    }
}
