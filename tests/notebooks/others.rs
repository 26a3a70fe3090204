//! Files for other programs, read back by other people's parsers.

use icalendar::Component as _;
use icalendar::parser::{read_calendar, unfold};
use serde_json::{Value, json};
use session::entry::{Entry, Event};
use session::habits::Habits;
use session::notebook::{Kind, Record, RunRecord};
use session::plan::Plan;
use session::trial;

use crate::now;

fn roll(id: &str) -> Record {
    Record::new(Kind::Roll, id, "phone", now())
}

/// A table as another program reads it: its head and its lines.
fn read(text: &str) -> (Vec<String>, Vec<Vec<String>>) {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let texts = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect();
    let head = texts(reader.headers().expect("there is a head"));
    let lines = reader.records().map(|line| texts(&line.expect("as long as the head")));
    (head, lines.collect())
}

#[test]
fn a_table_of_rolls_is_read_by_another_program() {
    let note = "two lines\nand a \"quotation\", with a comma";
    let rolls = [
        roll("a1").with("number", 7).with("note", note).with("push_stops", -1.5).with("run", "r1"),
        roll("a2").with("stock", "=HYPERLINK(1)"),
    ];
    let developed = |run: &str| if run == "r1" { "2026-11-25" } else { "" }.to_owned();
    let (head, lines) = read(&session::notebook::csv::rolls(&rolls, developed));
    let column = |name: &str| head.iter().position(|head| head == name).expect(name);
    assert_eq!(lines.len(), 2);
    assert_eq!(lines[0][column("note")], note);
    assert_eq!(lines[0][column("number")], "7");
    assert_eq!(lines[0][column("push_stops")], "-1.5");
    assert_eq!(lines[0][column("developed_on")], "2026-11-25");
    assert_eq!(lines[1][column("stock")], "'=HYPERLINK(1)", "no spreadsheet reckons with it");
    assert_eq!(lines[1][column("developed_on")], "");
}

#[test]
fn the_log_of_a_run_is_read_by_another_program() {
    let log = [
        Entry { seq: 0, at: now(), event: Event::Started { anyway: true } },
        Entry { seq: 1, at: now().plus_ms(61_500), event: Event::TankEmptied { ago_ms: 0 } },
    ];
    let run = RunRecord::new("r1", "phone", Plan::shipped(&Habits::default(), 0), now());
    let (head, lines) = read(&session::notebook::csv::log(&run.with_log(&log)));
    assert_eq!(&head[..3], ["seq", "at", "event"]);
    assert_eq!(lines.len(), 2);
    assert_eq!(lines[1][1], now().plus_ms(61_500).to_iso());
}

#[test]
fn the_days_of_a_trial_are_read_by_another_calendar() {
    let question =
        "With or without; which keeps, in years, when it hangs in a bright window all \\ day?";
    let days: Vec<Value> = vec![json!("2027-11-25"), json!("2031-11-25")];
    let trial = Record::new(Kind::Trial, "t1", "phone", now())
        .with("question", question)
        .with("differs", "stabiliser\nonly on the first")
        .with("look_again_on", days);
    let text = trial::calendar(&trial, "Roll 12, A 3; Roll 13", now());
    assert!(text.split("\r\n").all(|line| line.len() <= 75), "{text}");
    let unfolded = unfold(&text);
    let calendar = read_calendar(&unfolded).expect("it is a calendar");
    let of = |event: &icalendar::parser::Component<'_>, name: &str| {
        event.find_prop(name).map(|property| property.val.to_string()).unwrap_or_default()
    };
    assert_eq!(calendar.components.len(), 2);
    let first = &calendar.components[0];
    assert_eq!(of(first, "DTSTART"), "20271125");
    assert_ne!(of(first, "UID"), of(&calendar.components[1], "UID"));
    let parsed: icalendar::Calendar = calendar.clone().into();
    let event = parsed.events().next().expect("an event");
    assert_eq!(event.get_summary(), Some(format!("Look again: {question}").as_str()));
    let about = "stabiliser\nonly on the first\nRoll 12, A 3; Roll 13";
    assert_eq!(event.get_description(), Some(about));
    // Nine in the morning of the day, whatever else the calendar would do.
    let alarm = &first.components[0];
    assert_eq!(alarm.name, "VALARM");
    assert_eq!((of(alarm, "ACTION"), of(alarm, "TRIGGER")), ("DISPLAY".into(), "PT9H".into()));
}
