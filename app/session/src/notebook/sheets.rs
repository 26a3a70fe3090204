//! The person's own sheets as they stand in records.

use std::borrow::Cow;

use process_model::agitation::Agitation;
use process_model::quantity::{Celsius, Seconds};
use process_model::sheet::{Band, Bath, Choice, Direction, Light, Sheet, Step, Time};
use process_model::source::{Confidence, Source};
use serde_json::Value;

use super::record::object;
use super::{Named, Record};
use crate::sheets::{Addition, Known};
use crate::timestamp::Timestamp;

/// The fields of the sheet's record. A change of steps keeps the steps of before as a version.
pub fn fields(known: &Known, before: Option<&Known>, now: Timestamp) -> Vec<(&'static str, Value)> {
    let mut versions = known.versions.clone();
    if let Some(before) = before.filter(|before| before.sheet.steps != known.sheet.steps) {
        versions.push((before.rev, now, before.sheet.steps.to_vec()));
    }
    let versions: Value = versions
        .iter()
        .map(|(rev, until, steps)| {
            object(vec![
                ("rev", (*rev).into()),
                ("edited_at", until.to_iso().into()),
                ("steps", to_values(steps)),
            ])
        })
        .collect();
    let pairs: Value = known
        .sheet
        .pairs
        .iter()
        .map(|(celsius, time)| {
            object(vec![("celsius", celsius.get().into()), ("time_s", time.get().into())])
        })
        .collect();
    vec![
        ("name", known.sheet.name.as_ref().into()),
        ("source_note", known.source_note.clone().into()),
        ("steps", to_values(&known.sheet.steps)),
        ("drying_s", known.sheet.drying.get().into()),
        ("pairs", pairs),
        ("add_s", known.addition.map(|addition| addition.seconds).into()),
        ("per_ml", known.addition.map(|addition| addition.per_ml).into()),
        ("clock_starts", known.convention.map(Named::file_name).into()),
        ("drain", known.drain.file_name().into()),
        ("method", known.method.file_name().into()),
        ("confirmed", known.confirmed.iter().cloned().collect()),
        ("versions", versions),
    ]
}

/// Steps as JSON.
fn to_values(steps: &[Step]) -> Value {
    steps.iter().map(to_value).collect()
}

fn to_value(step: &Step) -> Value {
    let (first, repeat, interval) = step.agitation.numbers();
    let mut fields = vec![
        ("id", (*step.id).into()),
        ("bath", step.bath.file_name().into()),
        ("choice", step.choice.file_name().into()),
        ("time_s", step.time.nominal.get().into()),
        ("least_s", step.time.least.get().into()),
        ("most_s", step.time.most.get().into()),
        ("least_celsius", step.band.least.get().into()),
        ("most_celsius", step.band.most.get().into()),
        ("first_s", first.get().into()),
        ("repeat_s", repeat.get().into()),
        ("interval_s", interval.get().into()),
        ("direction", step.direction.file_name().into()),
        ("light", step.light.file_name().into()),
    ];
    if let Some(aim) = step.band.aim {
        fields.push(("aim_celsius", aim.get().into()));
    }
    object(fields)
}

/// The steps of a list. A step that makes no sense is left out.
fn steps(values: &[Value]) -> Vec<Step> {
    values.iter().filter_map(step).collect()
}

fn step(value: &Value) -> Option<Step> {
    let number = |key: &str| value.get(key).and_then(Value::as_f64);
    let seconds = |key: &str| Seconds::try_new(number(key)?).ok();
    let celsius = |key: &str| Celsius::try_new(number(key)?).ok();
    let interval = seconds("interval_s").filter(|interval| interval.get() >= 0.0)?;
    Some(Step {
        id: Cow::Owned(value.get("id")?.as_str()?.to_owned()),
        bath: named::<Bath>(value, "bath")?,
        choice: named::<Choice>(value, "choice")?,
        time: Time {
            nominal: seconds("time_s")?,
            least: seconds("least_s")?,
            most: seconds("most_s")?,
        },
        band: Band {
            aim: celsius("aim_celsius"),
            least: celsius("least_celsius")?,
            most: celsius("most_celsius")?,
        },
        agitation: Agitation::from_numbers(seconds("first_s")?, seconds("repeat_s")?, interval),
        direction: named::<Direction>(value, "direction")?,
        light: named::<Light>(value, "light")?,
        sources: &[Source::OwnSheet],
        confidence: Confidence::High,
    })
}

fn named<T: Named>(value: &Value, key: &str) -> Option<T> {
    T::from_file_name(value.get(key)?.as_str()?)
}

/// The person's own sheet in `record`; nothing if no step of it makes sense.
pub fn own(record: &Record) -> Option<Known> {
    let steps = steps(record.list("steps"));
    if steps.is_empty() {
        return None;
    }
    let pair = |value: &Value| {
        let celsius = Celsius::try_new(value.get("celsius")?.as_f64()?).ok()?;
        Some((celsius, Seconds::try_new(value.get("time_s")?.as_f64()?).ok()?))
    };
    let drying = record.number("drying_s").and_then(|drying| Seconds::try_new(drying).ok());
    let name = Some(record.text("name")).filter(|name| !name.trim().is_empty());
    let addition = record.number("add_s").zip(record.number("per_ml"));
    Some(Known {
        sheet: Sheet {
            key: Cow::Owned(record.id().to_owned()),
            name: Cow::Owned(name.unwrap_or("A sheet without a name").to_owned()),
            steps: Cow::Owned(steps),
            drying: drying.unwrap_or(Seconds::whole(7200)),
            pairs: Cow::Owned(record.list("pairs").iter().filter_map(pair).collect()),
            is_shipped_startable: false,
        },
        rev: record.rev(),
        edited_at: Some(record.edited_at()),
        source_note: record.text("source_note").to_owned(),
        convention: Named::from_file_name(record.text("clock_starts")),
        drain: Named::from_file_name(record.text("drain")).unwrap_or_default(),
        method: Named::from_file_name(record.text("method")).unwrap_or_default(),
        addition: addition.map(|(seconds, per_ml)| Addition { seconds, per_ml }),
        confirmed: texts(record.list("confirmed")),
        versions: record.list("versions").iter().filter_map(version).collect(),
    })
}

fn version(value: &Value) -> Option<(u64, Timestamp, Vec<Step>)> {
    let until = Timestamp::from_iso(value.get("edited_at")?.as_str()?)?;
    Some((value.get("rev")?.as_u64()?, until, steps(value.get("steps")?.as_array()?)))
}

/// The texts of a list.
pub fn texts(values: &[Value]) -> Vec<String> {
    values.iter().filter_map(Value::as_str).map(str::to_owned).collect()
}
