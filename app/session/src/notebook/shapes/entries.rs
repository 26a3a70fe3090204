//! One log entry: a flat object whose fields depend on its event.

use serde::{Deserialize, Serialize};

use super::{celsius, named};
use crate::entry::{Entry, Event, Place};
use crate::notebook::ReadError;
use crate::notebook::names::Named;
use crate::timestamp::Timestamp;

/// One log entry. A field is there only where its event has it.
#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(in crate::notebook) struct EntryShape {
    seq: u32,
    at_ms: i64,
    event: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    ms: Option<i64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    of: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bottle: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    celsius: Option<f64>,
    /// A choice of the event, by name.
    #[serde(skip_serializing_if = "Option::is_none")]
    choice: Option<String>,
    /// Whether the event's second meaning holds: started anyway, doubted, ends the wash.
    #[serde(skip_serializing_if = "Option::is_none")]
    so: Option<bool>,
}

impl EntryShape {
    pub(in crate::notebook) fn of(entry: &Entry) -> Self {
        let mut shape = Self { seq: entry.seq, at_ms: entry.at.milliseconds(), ..Self::default() };
        shape.event = shape.fill(&entry.event).to_owned();
        shape
    }

    /// Fills in the event's own fields; gives the event's name.
    fn fill(&mut self, event: &Event) -> &'static str {
        match *event {
            Event::Started { anyway } => self.fill_so("started", anyway),
            Event::TankEmptied { ago_ms } => self.fill_ms("tank_emptied", ago_ms),
            Event::LeadInRestarted => "lead_in_restarted",
            Event::BackDated { by_ms } => self.fill_ms("back_dated", by_ms),
            Event::Chosen { with } => self.fill_choice("chosen", with),
            Event::Judged { look, ends } => {
                self.fill_choice("judged", look);
                self.fill_so("judged", ends)
            }
            Event::Read { place, celsius, doubted } => {
                self.fill_place(place);
                self.celsius = Some(celsius.get());
                self.fill_so("read", doubted)
            }
            Event::ReadingCorrected { of, celsius } => {
                self.celsius = Some(celsius.get());
                self.fill_of("reading_corrected", of)
            }
            Event::FaultNoted(fault) => self.fill_choice("fault_noted", fault),
            Event::WordsChanged(words) => self.fill_choice("words_changed", words),
            Event::Undone { of } => self.fill_of("undone", of),
            Event::Redone { of } => self.fill_of("redone", of),
            Event::Away { ms, why } => {
                self.fill_choice("away", why);
                self.fill_ms("away", ms)
            }
            Event::ClockSet { by_ms } => self.fill_ms("clock_set", by_ms),
            Event::Left => "left",
        }
    }

    fn fill_ms(&mut self, name: &'static str, ms: i64) -> &'static str {
        self.ms = Some(ms);
        name
    }

    fn fill_so(&mut self, name: &'static str, so: bool) -> &'static str {
        self.so = Some(so);
        name
    }

    fn fill_of(&mut self, name: &'static str, of: u32) -> &'static str {
        self.of = Some(of);
        name
    }

    fn fill_choice(&mut self, name: &'static str, choice: impl Named) -> &'static str {
        self.choice = Some(choice.file_name().to_owned());
        name
    }

    fn fill_place(&mut self, place: Place) {
        let (place, bottle) = match place {
            Place::Tub => ("tub", None),
            Place::InTheTank => ("in_the_tank", None),
            Place::Bottle(bath) => ("bottle", Some(bath.file_name().to_owned())),
        };
        self.place = Some(place.to_owned());
        self.bottle = bottle;
    }

    pub(in crate::notebook) fn entry(&self) -> Result<Entry, ReadError> {
        let event = match self.event.as_str() {
            "started" => Event::Started { anyway: self.so()? },
            "tank_emptied" => Event::TankEmptied { ago_ms: self.ms()? },
            "lead_in_restarted" => Event::LeadInRestarted,
            "back_dated" => Event::BackDated { by_ms: self.ms()? },
            "chosen" => Event::Chosen { with: self.choice()? },
            "judged" => Event::Judged { look: self.choice()?, ends: self.so()? },
            "read" => {
                Event::Read { place: self.place()?, celsius: self.celsius()?, doubted: self.so()? }
            }
            "reading_corrected" => {
                Event::ReadingCorrected { of: self.other()?, celsius: self.celsius()? }
            }
            "fault_noted" => Event::FaultNoted(self.choice()?),
            "words_changed" => Event::WordsChanged(self.choice()?),
            "undone" => Event::Undone { of: self.other()? },
            "redone" => Event::Redone { of: self.other()? },
            "away" => Event::Away { ms: self.ms()?, why: self.choice()? },
            "clock_set" => Event::ClockSet { by_ms: self.ms()? },
            "left" => Event::Left,
            _ => return Err(ReadError::Field { field: "event" }),
        };
        Ok(Entry { seq: self.seq, at: Timestamp::from_milliseconds(self.at_ms), event })
    }

    fn ms(&self) -> Result<i64, ReadError> {
        self.ms.ok_or(ReadError::Field { field: "ms" })
    }

    fn so(&self) -> Result<bool, ReadError> {
        self.so.ok_or(ReadError::Field { field: "so" })
    }

    fn other(&self) -> Result<u32, ReadError> {
        self.of.ok_or(ReadError::Field { field: "of" })
    }

    fn celsius(&self) -> Result<process_model::quantity::Celsius, ReadError> {
        celsius(self.celsius.ok_or(ReadError::Field { field: "celsius" })?)
    }

    fn choice<T: Named>(&self) -> Result<T, ReadError> {
        named(self.choice.as_deref().unwrap_or_default())
    }

    fn place(&self) -> Result<Place, ReadError> {
        match self.place.as_deref() {
            Some("tub") => Ok(Place::Tub),
            Some("in_the_tank") => Ok(Place::InTheTank),
            Some("bottle") => named(self.bottle.as_deref().unwrap_or_default()).map(Place::Bottle),
            _ => Err(ReadError::Field { field: "place" }),
        }
    }
}
