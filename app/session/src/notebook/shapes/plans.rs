//! A plan: the frozen sheet and habits of a run.

use process_model::agitation::Agitation;
use process_model::quantity::Celsius;
use process_model::sheet::DeveloperTemperatures;
use serde_json::Value;

use super::{celsius, flag, length_ms, named, seconds, text, whole};
use crate::notebook::ReadError;
use crate::notebook::names::Named;
use crate::notebook::record::object;
use crate::plan::{Plan, PlannedStep};

/// A plan as JSON.
pub(in crate::notebook) fn value_of_plan(plan: &Plan) -> Value {
    object(vec![
        ("sheet", plan.sheet.as_str().into()),
        ("sheet_name", plan.sheet_name.as_str().into()),
        ("sheet_rev", plan.sheet_rev.into()),
        ("method", plan.method.file_name().into()),
        ("practice", plan.practice.into()),
        ("scale", plan.scale.file_name().into()),
        ("clock_starts", plan.convention.file_name().into()),
        ("fill_ms", plan.fill_ms.into()),
        ("drain_ms", plan.drain_ms.into()),
        ("lead_in_ms", plan.lead_in_ms.into()),
        ("wash_habit_ms", plan.wash_habit_ms.into()),
        ("words", plan.words.file_name().into()),
        ("utc_offset_min", plan.utc_offset_min.into()),
        ("steps", plan.steps.iter().map(value_of_step).collect()),
        ("drying_ms", plan.drying_ms.into()),
    ])
}

fn value_of_step(step: &PlannedStep) -> Value {
    let (first, repeat, interval) = step.agitation.numbers();
    let mut fields = vec![
        ("id", step.id.as_str().into()),
        ("bath", step.bath.file_name().into()),
        ("time_ms", step.time_ms.into()),
        ("least_ms", step.least_ms.into()),
        ("least_celsius", step.band.0.get().into()),
        ("most_celsius", step.band.1.get().into()),
        (
            "agitation",
            object(vec![
                ("first_s", first.get().into()),
                ("repeat_s", repeat.get().into()),
                ("interval_s", interval.get().into()),
            ]),
        ),
        ("direction", step.direction.file_name().into()),
        ("light", step.light.file_name().into()),
        ("asked", step.asked.into()),
    ];
    if let Some(aim) = step.aim {
        fields.push(("aim_celsius", aim.get().into()));
    }
    if let Some(developer) = step.developer {
        let limits = vec![
            ("pour_celsius", developer.pour.get().into()),
            ("fine_least_celsius", developer.fine.0.get().into()),
            ("fine_most_celsius", developer.fine.1.get().into()),
            ("hard_least_celsius", developer.hard.0.get().into()),
            ("hard_most_celsius", developer.hard.1.get().into()),
        ];
        fields.push(("developer", object(limits)));
    }
    object(fields)
}

/// The plan that a file holds.
pub(in crate::notebook) fn plan_of(value: &Value) -> Result<Plan, ReadError> {
    let offset = whole(value, "utc_offset_min")?;
    let steps = value.get("steps").and_then(Value::as_array).ok_or(ReadError::field("steps"))?;
    let steps = steps.iter().enumerate().map(|(index, step)| {
        step_of(step).map_err(|error| error.inside(&format!("steps[{index}]")))
    });
    Ok(Plan {
        sheet: text(value, "sheet")?,
        sheet_name: text(value, "sheet_name").unwrap_or_default(),
        sheet_rev: value.get("sheet_rev").and_then(Value::as_u64).unwrap_or_default(),
        method: named(value, "method").unwrap_or_default(),
        practice: flag(value, "practice").unwrap_or_default(),
        scale: named(value, "scale").unwrap_or_default(),
        convention: named(value, "clock_starts")?,
        fill_ms: length_ms(value, "fill_ms")?,
        drain_ms: length_ms(value, "drain_ms")?,
        lead_in_ms: length_ms(value, "lead_in_ms")?,
        wash_habit_ms: length_ms(value, "wash_habit_ms")?,
        words: named(value, "words")?,
        utc_offset_min: i32::try_from(offset).map_err(|_| ReadError::field("utc_offset_min"))?,
        steps: steps.collect::<Result<_, _>>()?,
        drying_ms: length_ms(value, "drying_ms")?,
    })
}

fn step_of(value: &Value) -> Result<PlannedStep, ReadError> {
    let aim = value.get("aim_celsius").map(|_| celsius(value, "aim_celsius")).transpose()?;
    let developer = value.get("developer").map(|shape| developer_of(shape, aim)).transpose()?;
    Ok(PlannedStep {
        id: text(value, "id")?,
        bath: named(value, "bath")?,
        time_ms: length_ms(value, "time_ms")?,
        least_ms: length_ms(value, "least_ms")?,
        aim,
        band: (celsius(value, "least_celsius")?, celsius(value, "most_celsius")?),
        developer,
        agitation: agitation_of(value.get("agitation").unwrap_or(&Value::Null))?,
        direction: named(value, "direction")?,
        light: named(value, "light")?,
        asked: flag(value, "asked")?,
    })
}

fn developer_of(value: &Value, aim: Option<Celsius>) -> Result<DeveloperTemperatures, ReadError> {
    let celsius = |key| celsius(value, key).map_err(|error| error.inside("developer"));
    Ok(DeveloperTemperatures {
        aim: aim.ok_or(ReadError::field("aim_celsius"))?,
        pour: celsius("pour_celsius")?,
        fine: (celsius("fine_least_celsius")?, celsius("fine_most_celsius")?),
        hard: (celsius("hard_least_celsius")?, celsius("hard_most_celsius")?),
    })
}

fn agitation_of(value: &Value) -> Result<Agitation, ReadError> {
    let seconds = |key| seconds(value, key).map_err(|error| error.inside("agitation"));
    let interval = seconds("interval_s")?;
    // A shorter interval would make more spells than a step has seconds.
    if interval.get() > 0.0 && interval.get() < 1.0 {
        return Err(ReadError::field("agitation.interval_s"));
    }
    Ok(Agitation::from_numbers(seconds("first_s")?, seconds("repeat_s")?, interval))
}
