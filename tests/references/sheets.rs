//! The shipped sheets against the table of processes. Source: `data/processes.csv`, exactly.

use std::collections::HashMap;

use process_model::agitation::Agitation;
use process_model::quantity::{Celsius, Seconds};
use process_model::sheet::{Choice, Direction, Light, SheetId, Step};
use process_model::source::Confidence;

#[test]
fn the_two_bath_sheet_is_the_tables() {
    check(SheetId::TwoBath389, "cn2_389");
}

#[test]
fn the_multi_bath_sheet_is_the_tables() {
    check(SheetId::MultiBathC41, "c41_std");
}

#[test]
fn the_sheets_that_wait_for_a_leaflet_are_the_tables() {
    for (id, process) in [
        (SheetId::TwoBath378, "cn2_378"),
        (SheetId::TwoBath300, "cn2_300"),
        (SheetId::TwoBath239, "cn2_239"),
        (SheetId::TwoBathRotary, "cn2_rotary"),
        (SheetId::E6SixBath, "e6_6bath"),
        (SheetId::E6ThreeBath, "e6_3bath"),
        (SheetId::BlackAndWhite, "bw_neg"),
    ] {
        check(id, process);
        assert!(!id.sheet().is_shipped_startable, "{process}");
    }
}

type Row = HashMap<String, String>;

fn check(id: SheetId, process: &str) {
    let rows: Vec<Row> = super::table("processes.csv")
        .deserialize()
        .map(|row| row.expect("a row"))
        .filter(|row: &Row| row["process_id"] == process)
        .collect();
    let (drying, rows): (Vec<_>, Vec<_>) =
        rows.into_iter().partition(|row| row["step_id"] == "dry");
    let sheet = id.sheet();
    assert_eq!(sheet.steps.len(), rows.len());
    for (step, row) in sheet.steps.iter().zip(&rows) {
        check_step(step, row);
    }
    // A table without a row for drying: two hours, as its neighbours have.
    let dry = drying.first().map_or(Seconds::whole(7_200), |row| seconds(row, "time_nominal_s"));
    assert_eq!(sheet.drying, dry);
}

fn check_step(step: &Step, row: &Row) {
    let id = row["step_id"].as_str();
    assert_eq!(step.id, id);
    // Printed 4:00; preset to 8:00 on this one sheet.
    let is_preset = row["process_id"] == "cn2_378" && id == "bleachfix";
    let nominal = if is_preset { Seconds::whole(480) } else { seconds(row, "time_nominal_s") };
    assert_eq!(step.time.nominal, nominal, "{id}");
    assert_eq!(step.time.least, seconds(row, "time_min_s"), "{id}");
    assert_eq!(step.time.most, seconds(row, "time_max_s"), "{id}");
    assert_eq!(step.band.aim, celsius(row, "temp_nominal_c"), "{id}");
    assert_eq!(Some(step.band.least), celsius(row, "temp_min_c"), "{id}");
    assert_eq!(Some(step.band.most), celsius(row, "temp_max_c"), "{id}");
    assert_eq!(step.agitation, agitation(row), "{id}");
    assert_eq!(step.direction, direction(row), "{id}");
    let closed = row["light"] == "tank closed";
    assert_eq!(step.light == Light::LidStaysOn, closed, "{id}");
    let optional = row["optional"] == "yes";
    let may_be_left_out = matches!(step.choice, Choice::OptionalOn | Choice::OptionalOff);
    assert_eq!(may_be_left_out, optional, "{id}");
    assert_eq!(step.confidence, confidence(row), "{id}");
    assert!(!step.sources.is_empty(), "{id}");
}

fn agitation(row: &Row) -> Agitation {
    if row["agit_mode"] == "continuous" {
        return Agitation::Continuous;
    }
    let of = |column| seconds(row, column);
    let numbers = (of("agit_initial_s"), of("agit_repeat_s"), of("agit_interval_s"));
    Agitation::from_numbers(numbers.0, numbers.1, numbers.2)
}

fn direction(row: &Row) -> Direction {
    match row["time_direction"].as_str() {
        "exact" => Direction::Exact,
        "minimum" => Direction::Minimum,
        _ => Direction::MinimumSoft,
    }
}

/// A row's confidence is its first word.
fn confidence(row: &Row) -> Confidence {
    match row["confidence"].split([' ', ';']).next() {
        Some("high") => Confidence::High,
        Some("medium") => Confidence::Medium,
        _ => Confidence::Low,
    }
}

fn seconds(row: &Row, column: &str) -> Seconds {
    Seconds::new(row[column].parse().expect("a number of seconds"))
}

fn celsius(row: &Row, column: &str) -> Option<Celsius> {
    row[column].parse().ok().map(Celsius::new)
}
