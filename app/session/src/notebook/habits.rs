//! Habits as a record: one for each device, so that two phones keep their own.

use serde_json::Value;

use super::{Named, Record, pairs};
use crate::habits::Habits;

/// The fields of a habits record.
pub fn fields(habits: &Habits) -> Vec<(&'static str, Value)> {
    let switched: Value = habits
        .switched
        .iter()
        .map(|(sheet, step)| pairs(&[("sheet", sheet), ("step", step)]))
        .collect();
    vec![
        ("sheet", habits.sheet.clone().into()),
        ("clock_starts", habits.convention.file_name().into()),
        ("fill_s", habits.fill_s.into()),
        ("drain_s", habits.drain_s.into()),
        ("lead_in_s", habits.lead_in_s.into()),
        ("wash_min", habits.wash_min.into()),
        ("dark_min", habits.dark_min.into()),
        ("words", habits.words.file_name().into()),
        ("pace", habits.pace.file_name().into()),
        ("voice", habits.voice.clone().into()),
        ("any_key", habits.any_key.into()),
        ("scale", habits.scale.file_name().into()),
        ("volumes", habits.volumes.file_name().into()),
        ("keys", habits.keys.file_name().into()),
        ("ground", habits.ground.file_name().into()),
        ("switched", switched),
    ]
}

/// The habits in a record. They are only wishes: what is missing or not known falls back to what
/// is usual, and values out of range are brought into it.
pub fn of(record: &Record) -> Habits {
    let usual = Habits::default();
    let whole = |field: &str, usual: u32| {
        let value = record.value(field).and_then(Value::as_u64);
        value.map_or(usual, |value| u32::try_from(value).unwrap_or(u32::MAX))
    };
    let sheet = record.text("sheet");
    Habits {
        sheet: if sheet.is_empty() { usual.sheet } else { sheet.to_owned() },
        convention: named(record, "clock_starts"),
        fill_s: Habits::FILL.nearest(whole("fill_s", usual.fill_s)),
        drain_s: Habits::DRAIN.nearest(whole("drain_s", usual.drain_s)),
        lead_in_s: Habits::LEAD_IN.nearest(whole("lead_in_s", usual.lead_in_s)),
        wash_min: Habits::WASH.nearest(whole("wash_min", usual.wash_min)),
        dark_min: Habits::DARK.nearest(whole("dark_min", usual.dark_min)),
        words: named(record, "words"),
        pace: named(record, "pace"),
        voice: record.text("voice").to_owned(),
        any_key: record.value("any_key").and_then(Value::as_bool).unwrap_or(usual.any_key),
        scale: named(record, "scale"),
        volumes: named(record, "volumes"),
        keys: named(record, "keys"),
        ground: named(record, "ground"),
        switched: record.list("switched").iter().filter_map(switch).collect(),
    }
}

fn named<T: Named + Default>(record: &Record, field: &str) -> T {
    T::from_file_name(record.text(field)).unwrap_or_default()
}

fn switch(value: &Value) -> Option<(String, String)> {
    let text = |key: &str| value.get(key)?.as_str().map(str::to_owned);
    Some((text("sheet")?, text("step")?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::habits::{Scale, Words};
    use crate::notebook::Kind;
    use crate::timestamp::Timestamp;

    fn record(fields: Vec<(&'static str, Value)>) -> Record {
        let record = Record::new(Kind::Habits, "a1", "a1", Timestamp::default());
        let record =
            fields.into_iter().fold(record, |record, (key, value)| record.with(key, value));
        Record::from_text(&record.to_text()).unwrap()
    }

    #[test]
    fn habits_read_back_what_was_written() {
        let mut habits = Habits { fill_s: 14, words: Words::Few, ..Habits::default() };
        habits.scale = Scale::Fahrenheit;
        habits.switched.push(("a".into(), "b".into()));
        assert_eq!(of(&record(fields(&habits))), habits);
    }

    #[test]
    fn habits_fall_back_to_what_is_usual_and_into_their_range() {
        assert_eq!(of(&record(Vec::new())), Habits::default());
        assert_eq!(of(&record(vec![("fill_s", 900.into())])).fill_s, 40);
    }
}
