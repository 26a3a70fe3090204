//! The shapes of schema 1, and the way between them and what they mean.

mod entries;
mod plans;

pub(super) use entries::EntryShape;
use plans::PlanShape;

use std::collections::{BTreeMap, BTreeSet};

use process_model::quantity::Celsius;
use process_model::sheet::SheetId;
use serde::{Deserialize, Serialize};

use super::names::Named;
use super::{ReadError, Record, RunRecord, SCHEMA};
use crate::habits::Habits;
use crate::timestamp::Timestamp;

/// The value that a file names, or the field that makes no sense.
fn named<T: Named>(name: &str) -> Result<T, ReadError> {
    T::from_file_name(name).ok_or(ReadError::Field { field: T::FIELD })
}

/// A temperature that a file holds.
fn celsius(value: f64) -> Result<Celsius, ReadError> {
    Celsius::try_new(value).map_err(|_| ReadError::Field { field: "celsius" })
}

/// A run's record, without its log.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct RunShape {
    schema: u32,
    id: String,
    rev: u64,
    edited_at_ms: i64,
    device: String,
    deleted: bool,
    plan: PlanShape,
}

impl RunShape {
    /// Every field of the shape.
    pub(super) const FIELDS: [&str; 7] =
        ["schema", "id", "rev", "edited_at_ms", "device", "deleted", "plan"];

    pub(super) fn of(run: &RunRecord) -> Self {
        let record = &run.record;
        Self {
            schema: SCHEMA,
            id: record.id.clone(),
            rev: record.rev,
            edited_at_ms: record.edited_at.milliseconds(),
            device: record.device.clone(),
            deleted: record.deleted,
            plan: PlanShape::of(&run.plan),
        }
    }

    pub(super) fn record(self, unknown: BTreeMap<String, String>) -> Result<RunRecord, ReadError> {
        let record = Record {
            id: self.id,
            rev: self.rev,
            edited_at: Timestamp::from_milliseconds(self.edited_at_ms),
            device: self.device,
            deleted: self.deleted,
            unknown,
        };
        Ok(RunRecord { record, plan: self.plan.plan()? })
    }
}

/// What a person always does, as kept on the device.
#[derive(Debug, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct HabitsShape {
    sheet: String,
    clock_starts: String,
    fill_s: u32,
    drain_s: u32,
    lead_in_s: u32,
    wash_min: u32,
    words: String,
    keys: String,
    ground: String,
    switched: BTreeSet<(String, String)>,
}

impl Default for HabitsShape {
    fn default() -> Self {
        Self::of(&Habits::default())
    }
}

impl HabitsShape {
    pub(super) fn of(habits: &Habits) -> Self {
        Self {
            sheet: habits.sheet.key().to_owned(),
            clock_starts: habits.convention.file_name().to_owned(),
            fill_s: habits.fill_s,
            drain_s: habits.drain_s,
            lead_in_s: habits.lead_in_s,
            wash_min: habits.wash_min,
            words: habits.words.file_name().to_owned(),
            keys: habits.keys.file_name().to_owned(),
            ground: habits.ground.file_name().to_owned(),
            switched: habits.switched.clone(),
        }
    }

    /// Habits are only wishes: what is not known falls back to what is usual.
    pub(super) fn habits(self) -> Habits {
        Habits {
            sheet: SheetId::from_key(&self.sheet).unwrap_or(SheetId::ALL[0]),
            convention: Named::from_file_name(&self.clock_starts).unwrap_or_default(),
            fill_s: Habits::FILL.nearest(self.fill_s),
            drain_s: Habits::DRAIN.nearest(self.drain_s),
            lead_in_s: Habits::LEAD_IN.nearest(self.lead_in_s),
            wash_min: Habits::WASH.nearest(self.wash_min),
            words: Named::from_file_name(&self.words).unwrap_or_default(),
            keys: Named::from_file_name(&self.keys).unwrap_or_default(),
            ground: Named::from_file_name(&self.ground).unwrap_or_default(),
            switched: self.switched,
        }
    }
}
