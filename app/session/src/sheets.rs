//! The sheets a person can start: those that are shipped, what they said about them, and their own.

use crate::habits::Convention;
use crate::notebook::{Kind, Named, Record, sheets as shapes};
use crate::order;
use crate::timestamp::Timestamp;
use process_model::sheet::{Bath, Sheet, SheetId, Step};
use process_model::source::{Confidence, Source};

/// What a confirmation of a whole sheet is called in files.
const WHOLE: &str = "sheet";

/// How the tank is moved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Method {
    /// Turned upside down and back.
    #[default]
    Inversion,
    /// The reel is turned by its spindle.
    Spindle,
    /// The tank is rolled or turned by a machine.
    Rotary,
}

/// Whether the times of a sheet include pouring out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Drain {
    /// They do.
    #[default]
    Inside,
    /// They do not: pouring out comes on top.
    Outside,
}

/// "Add so many seconds for each roll that has been through so much developer."
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Addition {
    /// How much longer for each roll before, in seconds.
    pub seconds: f64,
    /// In what volume of developer, in millilitres.
    pub per_ml: f64,
}

/// A sheet that can be chosen, and what its person said about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// The sheet.
    pub sheet: Sheet,
    /// Its revision; 0 for one that is shipped.
    pub rev: u64,
    /// When it was last changed, if it is the person's own.
    pub edited_at: Option<Timestamp>,
    /// Where the values are from, in the person's words.
    pub source_note: String,
    /// When the clock starts, if the sheet says.
    pub convention: Option<Convention>,
    /// Whether times include pouring out.
    pub drain: Drain,
    /// How the tank is moved, if the sheet says.
    pub method: Method,
    /// How times grow with use.
    pub addition: Option<Addition>,
    /// What a leaflet says the same: `sheet`, or ids of steps.
    pub confirmed: Vec<String>,
    /// Earlier versions: revision, until when, steps.
    pub versions: Vec<(u64, Timestamp, Vec<Step>)>,
}

impl Known {
    /// A shipped sheet of which nothing has been said.
    pub fn shipped(id: SheetId) -> Self {
        let method = if id == SheetId::TwoBathRotary { Method::Rotary } else { Method::default() };
        Self {
            sheet: id.sheet(),
            rev: 0,
            edited_at: None,
            source_note: String::new(),
            convention: None,
            drain: Drain::default(),
            method,
            addition: None,
            confirmed: Vec::new(),
            versions: Vec::new(),
        }
    }

    /// Whether it is the person's own.
    pub fn is_own(&self) -> bool {
        SheetId::from_key(&self.sheet.key).is_none()
    }

    /// What must be compared with the leaflet before the sheet may drive a prompt: `sheet`, and
    /// the ids of steps whose values are from memory and of low confidence.
    pub fn unconfirmed(&self) -> Vec<String> {
        if self.is_own() || self.sheet.is_shipped_startable {
            return Vec::new();
        }
        let low = self.sheet.steps.iter().filter(|step| step.confidence == Confidence::Low);
        let asked = std::iter::once(WHOLE.to_owned()).chain(low.map(|step| step.id.to_string()));
        asked.filter(|what| !self.confirmed.contains(what)).collect()
    }

    /// Whether a roll may be started with it.
    pub fn can_start(&self) -> bool {
        self.unconfirmed().is_empty()
    }

    /// What is wrong with the values, each as a step's place and a sentence.
    pub fn faults(&self) -> Vec<(Option<usize>, &'static str)> {
        let mut faults = Vec::new();
        if self.sheet.steps.is_empty() {
            faults.push((None, "A sheet needs at least one step."));
        }
        for (index, step) in self.sheet.steps.iter().enumerate() {
            faults.extend(step.faults().into_iter().map(|fault| (Some(index), fault)));
        }
        let pairs = &self.sheet.pairs;
        if pairs.iter().any(|(_, time)| time.get() <= 0.0) {
            faults.push((None, "A time of the developer must be more than zero."));
        }
        let wrong = |addition: Addition| addition.seconds < 0.0 || addition.per_ml <= 0.0;
        if self.addition.is_some_and(wrong) {
            faults.push((None, "Seconds added per roll need a volume of more than zero."));
        }
        faults
    }
}

/// Every sheet: the shipped ones in their order, then the person's own by name.
pub fn all(records: &[Record]) -> Vec<Known> {
    let mut sheets: Vec<Known> = SheetId::ALL.into_iter().map(Known::shipped).collect();
    let mut own = Vec::new();
    for record in records.iter().filter(|record| record.kind() == Kind::Sheet) {
        if record.is_deleted() {
            continue;
        }
        let shipped = sheets.iter_mut().find(|known| known.sheet.key == record.text("of"));
        match (record.list("steps").is_empty(), shipped) {
            (true, Some(known)) => known.confirmed = shapes::texts(record.list("confirmed")),
            (true, None) => {}
            (false, _) => own.extend(shapes::own(record)),
        }
    }
    sheets.extend(order::by(own, |known: &Known| known.sheet.name.to_string()));
    sheets
}

/// The sheet of that key or id, even one that was put aside: what was run with it stays what it was.
/// The usual one if there never was any.
pub fn find(records: &[Record], key: &str) -> Known {
    let found = all(records).into_iter().find(|known| known.sheet.key == key);
    let aside = || shapes::own(records.iter().find(|record| record.id() == key)?);
    found.or_else(aside).unwrap_or_else(|| Known::shipped(SheetId::ALL[0]))
}

/// Whether a sheet of that key or id can be chosen: there is one, and it was not put aside.
pub fn is_there(records: &[Record], key: &str) -> bool {
    all(records).iter().any(|known| known.sheet.key == key)
}

/// The person's own copy of a sheet, not kept yet.
pub fn copy_of(known: &Known, id: &str) -> Known {
    let mut copy = known.clone();
    copy.sheet.key = id.to_owned().into();
    copy.sheet.name = format!("{}, my copy", known.sheet.name).into();
    copy.rev = 0;
    copy.versions.clear();
    copy.confirmed.clear();
    for step in copy.sheet.steps.to_mut() {
        step.sources = &[Source::OwnSheet];
        step.confidence = Confidence::High;
    }
    copy
}

/// An id for a step that is put into `steps`.
pub fn step_id(steps: &[Step], bath: Bath) -> String {
    let name = bath.file_name();
    let is_free = |id: &String| steps.iter().all(|step| step.id != *id);
    let numbered = (2..).map(|number| format!("{name}_{number}"));
    std::iter::once(name.to_owned()).chain(numbered).find(is_free).unwrap_or_default()
}

#[cfg(test)]
mod tests;
