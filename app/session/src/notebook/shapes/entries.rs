//! One log entry: a flat object whose fields depend on its event.

use process_model::quantity::Celsius;
use serde_json::{Map, Value};

use super::{celsius, flag, named, text, whole};
use crate::entry::{Entry, Event, Place};
use crate::notebook::ReadError;
use crate::notebook::names::Named;
use crate::timestamp::Timestamp;

/// The entry as JSON. A field is there only where its event has it.
pub(in crate::notebook) fn value_of_entry(entry: &Entry) -> Value {
    let mut shape = Shape::default();
    let event = shape.fill(&entry.event);
    shape.put("seq", entry.seq);
    shape.put("at", entry.at.to_iso());
    shape.put("event", event);
    Value::Object(shape.fields)
}

#[derive(Default)]
struct Shape {
    fields: Map<String, Value>,
}

impl Shape {
    fn put(&mut self, key: &str, value: impl Into<Value>) {
        self.fields.insert(key.to_owned(), value.into());
    }

    /// Fills in the event's own fields; gives the event's name.
    fn fill(&mut self, event: &Event) -> &'static str {
        match *event {
            Event::Started { anyway } => self.so("started", anyway),
            Event::TankEmptied { ago_ms } => self.ms("tank_emptied", ago_ms),
            Event::Filled => "filled",
            Event::LeadInRestarted => "lead_in_restarted",
            Event::BackDated { by_ms } => self.ms("back_dated", by_ms),
            Event::Chosen { with } => self.choice("chosen", with),
            Event::Judged { look, ends } => {
                self.choice("judged", look);
                self.so("judged", ends)
            }
            Event::Read { place, celsius, doubted } => {
                self.place(place);
                self.put("celsius", celsius.get());
                self.so("read", doubted)
            }
            Event::ReadingCorrected { of, celsius } => {
                self.put("celsius", celsius.get());
                self.of("reading_corrected", of)
            }
            Event::FaultNoted(fault) => self.choice("fault_noted", fault),
            Event::WordsChanged(words) => self.choice("words_changed", words),
            Event::Undone { of } => self.of("undone", of),
            Event::Redone { of } => self.of("redone", of),
            Event::Away { ms, why } => {
                self.choice("away", why);
                self.ms("away", ms)
            }
            Event::ClockSet { by_ms } => self.ms("clock_set", by_ms),
            Event::Left => "left",
            Event::WaterSwapped { drain_ml, add_ml, celsius } => {
                self.put("drain_ml", drain_ml);
                self.put("add_ml", add_ml);
                self.put("celsius", celsius.get());
                "water_swapped"
            }
            Event::BottleMoved { bath, back } => {
                self.put("bottle", bath.file_name());
                self.so("bottle_moved", back)
            }
            Event::ReadingDropped { of } => self.of("reading_dropped", of),
            Event::WentDark => "went_dark",
            Event::LightsOn => "lights_on",
            Event::TimeChosen { time_ms } => self.ms("time_chosen", time_ms),
            Event::FoundInTank { step, ago_ms } => {
                self.put("step", step);
                self.ms("found_in_tank", ago_ms)
            }
        }
    }

    fn ms(&mut self, name: &'static str, ms: i64) -> &'static str {
        self.put("ms", ms);
        name
    }

    /// The event's second meaning: started anyway, doubted, ends the wash.
    fn so(&mut self, name: &'static str, so: bool) -> &'static str {
        self.put("so", so);
        name
    }

    fn of(&mut self, name: &'static str, of: u32) -> &'static str {
        self.put("of", of);
        name
    }

    fn choice(&mut self, name: &'static str, choice: impl Named) -> &'static str {
        self.put("choice", choice.file_name());
        name
    }

    fn place(&mut self, place: Place) {
        let place = match place {
            Place::Tub => "tub",
            Place::InTheTank => "in_the_tank",
            Place::Bottle(bath) => {
                self.put("bottle", bath.file_name());
                "bottle"
            }
        };
        self.put("place", place);
    }
}

/// The entry that a file holds.
pub(in crate::notebook) fn entry_of(value: &Value) -> Result<Entry, ReadError> {
    let event = event_of(value)?;
    let at = Timestamp::from_iso(&text(value, "at")?).ok_or(ReadError::field("at"))?;
    Ok(Entry { seq: place_in_log(value, "seq")?, at, event })
}

fn event_of(value: &Value) -> Result<Event, ReadError> {
    let event = text(value, "event")?;
    Ok(match event.as_str() {
        "started" => Event::Started { anyway: flag(value, "so")? },
        "tank_emptied" => Event::TankEmptied { ago_ms: whole(value, "ms")? },
        "filled" => Event::Filled,
        "lead_in_restarted" => Event::LeadInRestarted,
        "back_dated" => Event::BackDated { by_ms: whole(value, "ms")? },
        "chosen" => Event::Chosen { with: named(value, "choice")? },
        "judged" => Event::Judged { look: named(value, "choice")?, ends: flag(value, "so")? },
        "read" => {
            let (place, doubted) = (place_of(value)?, flag(value, "so")?);
            Event::Read { place, celsius: read(value)?, doubted }
        }
        "reading_corrected" => {
            Event::ReadingCorrected { of: place_in_log(value, "of")?, celsius: read(value)? }
        }
        "fault_noted" => Event::FaultNoted(named(value, "choice")?),
        "words_changed" => Event::WordsChanged(named(value, "choice")?),
        "undone" => Event::Undone { of: place_in_log(value, "of")? },
        "redone" => Event::Redone { of: place_in_log(value, "of")? },
        "away" => Event::Away { ms: whole(value, "ms")?, why: named(value, "choice")? },
        "clock_set" => Event::ClockSet { by_ms: whole(value, "ms")? },
        "left" => Event::Left,
        "water_swapped" => Event::WaterSwapped {
            drain_ml: place_in_log(value, "drain_ml")?,
            add_ml: place_in_log(value, "add_ml")?,
            celsius: read(value)?,
        },
        "bottle_moved" => {
            Event::BottleMoved { bath: named(value, "bottle")?, back: flag(value, "so")? }
        }
        "reading_dropped" => Event::ReadingDropped { of: place_in_log(value, "of")? },
        "went_dark" => Event::WentDark,
        "lights_on" => Event::LightsOn,
        "time_chosen" => Event::TimeChosen { time_ms: whole(value, "ms")? },
        "found_in_tank" => {
            Event::FoundInTank { step: place_in_log(value, "step")?, ago_ms: whole(value, "ms")? }
        }
        _ => return Err(ReadError::field("event")),
    })
}

fn read(value: &Value) -> Result<Celsius, ReadError> {
    celsius(value, "celsius")
}

fn place_in_log(value: &Value, key: &'static str) -> Result<u32, ReadError> {
    u32::try_from(whole(value, key)?).map_err(|_| ReadError::field(key))
}

fn place_of(value: &Value) -> Result<Place, ReadError> {
    match text(value, "place")?.as_str() {
        "tub" => Ok(Place::Tub),
        "in_the_tank" => Ok(Place::InTheTank),
        "bottle" => named(value, "bottle").map(Place::Bottle),
        _ => Err(ReadError::field("place")),
    }
}
