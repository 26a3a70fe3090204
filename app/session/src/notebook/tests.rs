use process_model::quantity::Celsius;
use process_model::sheet::{Bath, SheetId};
use proptest::prelude::*;

use super::*;
use crate::entry::{Absence, Event, Fault, Look, Place, With};
use crate::habits::{Convention, Habits, Words};

fn record(sheet: SheetId) -> RunRecord {
    let habits =
        Habits { sheet: sheet.key(), convention: Convention::WhenComplete, ..Habits::default() };
    let now = Timestamp::from_milliseconds(1_795_000_000_000);
    RunRecord::new(&"0f".repeat(16), "phone", Plan::shipped(&habits, 60), now)
}

#[test]
fn a_run_record_reads_back_what_it_wrote() {
    for sheet in SheetId::ALL {
        let written = record(sheet);
        assert_eq!(RunRecord::from_json(&written.to_json()).unwrap(), written);
    }
}

#[test]
fn what_is_not_known_survives_a_round_trip() {
    let text = record(SheetId::TwoBath389).to_json().replacen('{', "{\"later\":[1,2],", 1);
    let read = RunRecord::from_json(&text).unwrap();
    assert_eq!(read.record.list("later"), [1, 2]);
    let again = RunRecord::from_json(&read.to_json()).unwrap();
    assert_eq!(again, read);
}

#[test]
fn a_later_schema_is_refused_by_name() {
    let text = record(SheetId::TwoBath389).to_json().replace("\"schema\":1", "\"schema\":2");
    let error = RunRecord::from_json(&text).unwrap_err();
    assert_eq!(error.to_string(), "schema 2 is later than 1");
}

#[test]
fn broken_json_says_where() {
    let error = entry_from_json("{\"seq\": 1,").unwrap_err();
    assert!(error.to_string().contains("line 1, column 10"), "{error}");
    let error =
        entry_from_json("{\"seq\":1,\"at\":\"2026-03-14T14:30:00.000Z\",\"event\":\"exploded\"}")
            .unwrap_err();
    assert_eq!(error.to_string(), "event makes no sense");
}

#[test]
fn a_run_with_its_log_is_one_object_and_reads_back() {
    let record = record(SheetId::TwoBath389);
    let entry = Entry {
        seq: 0,
        at: Timestamp::from_milliseconds(1_795_000_000_000),
        event: Event::Started { anyway: true },
    };
    let whole = record.with_log(std::slice::from_ref(&entry));
    let text = whole.to_text();
    let value: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["log"][0]["event"], "started");
    let read = Record::from_text(&text).unwrap();
    assert_eq!(log_of(&read), [Ok(entry)]);
    assert_eq!(RunRecord::of(read).unwrap(), record);
}

fn celsius() -> impl Strategy<Value = Celsius> {
    (-1000_i32..2000).prop_map(|tenths| Celsius::new(f64::from(tenths) / 10.0))
}

fn place() -> impl Strategy<Value = Place> {
    prop_oneof![
        Just(Place::Tub),
        Just(Place::InTheTank),
        Just(Place::Bottle(Bath::Developer)),
        Just(Place::Bottle(Bath::PreSoak)),
    ]
}

/// Any event at all.
pub(crate) fn event() -> impl Strategy<Value = Event> {
    let simple = prop_oneof![
        any::<bool>().prop_map(|anyway| Event::Started { anyway }),
        (0_i64..30_000).prop_map(|ago_ms| Event::TankEmptied { ago_ms }),
        Just(Event::Filled),
        Just(Event::LeadInRestarted),
        any::<i64>().prop_map(|by_ms| Event::BackDated { by_ms }),
        prop_oneof![Just(With::With), Just(With::Without)].prop_map(|with| Event::Chosen { with }),
        (prop_oneof![Just(Look::Clear), Just(Look::Tinted)], any::<bool>())
            .prop_map(|(look, ends)| Event::Judged { look, ends }),
        Just(Event::Left),
    ];
    let told = prop_oneof![
        (place(), celsius(), any::<bool>()).prop_map(|(place, celsius, doubted)| Event::Read {
            place,
            celsius,
            doubted
        }),
        (0_u32..40, celsius()).prop_map(|(of, celsius)| Event::ReadingCorrected { of, celsius }),
        (0..Fault::NAMES.len()).prop_map(|at| Event::FaultNoted(Fault::NAMES[at].0)),
        prop_oneof![Just(Words::All), Just(Words::Few), Just(Words::Tones)]
            .prop_map(Event::WordsChanged),
        (0_u32..40).prop_map(|of| Event::Undone { of }),
        (0_u32..40).prop_map(|of| Event::Redone { of }),
        (any::<i64>(), prop_oneof![Just(Absence::Hidden), Just(Absence::Reloaded)])
            .prop_map(|(ms, why)| Event::Away { ms, why }),
        any::<i64>().prop_map(|by_ms| Event::ClockSet { by_ms }),
    ];
    let water = prop_oneof![
        (0_u32..20_000, 0_u32..20_000, celsius()).prop_map(|(drain_ml, add_ml, celsius)| {
            Event::WaterSwapped { drain_ml, add_ml, celsius }
        }),
        any::<bool>().prop_map(|back| Event::BottleMoved { bath: Bath::Developer, back }),
        (0_u32..40).prop_map(|of| Event::ReadingDropped { of }),
        Just(Event::WentDark),
        Just(Event::LightsOn),
        any::<i64>().prop_map(|time_ms| Event::TimeChosen { time_ms }),
        (0_u32..9, any::<i64>()).prop_map(|(step, ago_ms)| Event::FoundInTank { step, ago_ms }),
    ];
    prop_oneof![3 => simple, 2 => told, 1 => water]
}

proptest! {
    #[test]
    fn any_entry_reads_back_what_it_wrote(
            seq: u32,
            at in 0_i64..253_402_300_799_999,
            event in event(),
        ) {
        let entry = Entry { seq, at: Timestamp::from_milliseconds(at), event };
        prop_assert_eq!(entry_from_json(&entry_to_json(&entry)).unwrap(), entry);
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,200}") {
        let _ = entry_from_json(&text).is_ok();
        let _ = RunRecord::from_json(&text).is_ok();
    }
}
