//! A plan: the frozen sheet and habits of a run.

use process_model::agitation::Agitation;
use process_model::quantity::{Celsius, Seconds};
use process_model::sheet::DeveloperTemperatures;
use serde::{Deserialize, Serialize};

use super::{celsius, named};
use crate::notebook::ReadError;
use crate::notebook::names::Named;
use crate::plan::{Plan, PlannedStep};

/// A plan in a file.
#[derive(Debug, Serialize, Deserialize)]
pub(in crate::notebook) struct PlanShape {
    sheet: String,
    clock_starts: String,
    fill_ms: i64,
    drain_ms: i64,
    lead_in_ms: i64,
    wash_habit_ms: i64,
    words: String,
    utc_offset_min: i32,
    steps: Vec<StepShape>,
    drying_ms: i64,
}

#[derive(Debug, Serialize, Deserialize)]
struct StepShape {
    id: String,
    bath: String,
    time_ms: i64,
    least_ms: i64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    aim_celsius: Option<f64>,
    least_celsius: f64,
    most_celsius: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    developer: Option<DeveloperShape>,
    agitation: AgitationShape,
    direction: String,
    light: String,
    asked: bool,
}

#[expect(clippy::struct_field_names, reason = "keys of a file carry their unit")]
#[derive(Debug, Serialize, Deserialize)]
struct DeveloperShape {
    pour_celsius: f64,
    fine_least_celsius: f64,
    fine_most_celsius: f64,
    hard_least_celsius: f64,
    hard_most_celsius: f64,
}

/// The three numbers of a sheet; continuous is a repeat with no interval.
#[expect(clippy::struct_field_names, reason = "keys of a file carry their unit")]
#[derive(Debug, Serialize, Deserialize)]
struct AgitationShape {
    first_s: f64,
    repeat_s: f64,
    interval_s: f64,
}

impl PlanShape {
    pub(in crate::notebook) fn of(plan: &Plan) -> Self {
        Self {
            sheet: plan.sheet.clone(),
            clock_starts: plan.convention.file_name().to_owned(),
            fill_ms: plan.fill_ms,
            drain_ms: plan.drain_ms,
            lead_in_ms: plan.lead_in_ms,
            wash_habit_ms: plan.wash_habit_ms,
            words: plan.words.file_name().to_owned(),
            utc_offset_min: plan.utc_offset_min,
            steps: plan.steps.iter().map(StepShape::of).collect(),
            drying_ms: plan.drying_ms,
        }
    }

    pub(in crate::notebook) fn plan(self) -> Result<Plan, ReadError> {
        const DAY_MS: i64 = 86_400_000;
        let steps: Result<Vec<_>, _> = self.steps.into_iter().map(StepShape::step).collect();
        let steps = steps?;
        let lengths = [self.fill_ms, self.drain_ms, self.lead_in_ms, self.wash_habit_ms]
            .into_iter()
            .chain(steps.iter().flat_map(|step| [step.time_ms, step.least_ms]));
        if lengths.into_iter().any(|ms| !(0..=DAY_MS).contains(&ms)) {
            return Err(ReadError::Field { field: "ms" });
        }
        Ok(Plan {
            sheet: self.sheet,
            convention: named(&self.clock_starts)?,
            fill_ms: self.fill_ms,
            drain_ms: self.drain_ms,
            lead_in_ms: self.lead_in_ms,
            wash_habit_ms: self.wash_habit_ms,
            words: named(&self.words)?,
            utc_offset_min: self.utc_offset_min,
            steps,
            drying_ms: self.drying_ms,
        })
    }
}

impl StepShape {
    fn of(step: &PlannedStep) -> Self {
        Self {
            id: step.id.clone(),
            bath: step.bath.file_name().to_owned(),
            time_ms: step.time_ms,
            least_ms: step.least_ms,
            aim_celsius: step.aim.map(Celsius::get),
            least_celsius: step.band.0.get(),
            most_celsius: step.band.1.get(),
            developer: step.developer.map(|developer| DeveloperShape {
                pour_celsius: developer.pour.get(),
                fine_least_celsius: developer.fine.0.get(),
                fine_most_celsius: developer.fine.1.get(),
                hard_least_celsius: developer.hard.0.get(),
                hard_most_celsius: developer.hard.1.get(),
            }),
            agitation: AgitationShape::of(step.agitation),
            direction: step.direction.file_name().to_owned(),
            light: step.light.file_name().to_owned(),
            asked: step.asked,
        }
    }

    fn step(self) -> Result<PlannedStep, ReadError> {
        let aim = self.aim_celsius.map(celsius).transpose()?;
        let developer = match (aim, self.developer) {
            (Some(aim), Some(shape)) => Some(DeveloperTemperatures {
                aim,
                pour: celsius(shape.pour_celsius)?,
                fine: (celsius(shape.fine_least_celsius)?, celsius(shape.fine_most_celsius)?),
                hard: (celsius(shape.hard_least_celsius)?, celsius(shape.hard_most_celsius)?),
            }),
            _ => None,
        };
        Ok(PlannedStep {
            id: self.id,
            bath: named(&self.bath)?,
            time_ms: self.time_ms,
            least_ms: self.least_ms,
            aim,
            band: (celsius(self.least_celsius)?, celsius(self.most_celsius)?),
            developer,
            agitation: self.agitation.agitation()?,
            direction: named(&self.direction)?,
            light: named(&self.light)?,
            asked: self.asked,
        })
    }
}

impl AgitationShape {
    fn of(agitation: Agitation) -> Self {
        let (first_s, repeat_s, interval_s) = match agitation {
            Agitation::Still => (0.0, 0.0, 0.0),
            Agitation::Once { first } => (first.get(), 0.0, 0.0),
            Agitation::Repeated { first, repeat, interval } => {
                (first.get(), repeat.get(), interval.get())
            }
            Agitation::Continuous => (0.0, 1.0, 0.0),
        };
        Self { first_s, repeat_s, interval_s }
    }

    fn agitation(&self) -> Result<Agitation, ReadError> {
        let seconds =
            |value| Seconds::try_new(value).map_err(|_| ReadError::Field { field: "agitation" });
        // A shorter interval would make more spells than a step has seconds.
        if self.interval_s > 0.0 && self.interval_s < 1.0 {
            return Err(ReadError::Field { field: "agitation" });
        }
        let first = seconds(self.first_s)?;
        Ok(Agitation::from_numbers(first, seconds(self.repeat_s)?, seconds(self.interval_s)?))
    }
}
