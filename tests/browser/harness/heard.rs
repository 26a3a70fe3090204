//! What was recorded: words, tones, screens, vibration, faults. Times in seconds since the test
//! began, on a clock that nobody can set and that runs on while the phone sleeps.

mod tone;

use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

pub use tone::{Note, Tone, ToneKind};

use crate::harness::page::Look;

/// All entries of a window, in the order in which they were recorded.
#[derive(Clone, Debug)]
pub struct Heard {
    entries: Vec<Value>,
}

/// Something with its instant.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Timed<T> {
    /// Seconds since the test began; with the real clock, since the document began.
    #[serde(rename = "since", deserialize_with = "seconds")]
    pub at: f64,
    /// The wall clock, in milliseconds since 1970.
    #[serde(rename = "wall")]
    pub wall_ms: f64,
    /// Which load of the page it was, from 1.
    pub load: u32,
    /// What it was.
    #[serde(flatten)]
    pub what: T,
}

/// A sentence given to the voice.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Said {
    /// The words.
    pub text: String,
    /// The language it was marked with.
    pub lang: String,
    /// `spoken`, `begun`, `waiting`, `cut off`, or the error.
    pub outcome: String,
}

/// A press that the page was given.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Press {
    /// `pointerdown`, `pointerup`, `click` or `keydown`.
    pub what: String,
    /// The key, or `touch` or `mouse`.
    pub by: String,
    /// The event's own time, in milliseconds of the page's monotonic clock.
    pub stamp: f64,
}

/// An onset found in the samples that were rendered, with the real clock.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Onset {
    /// By the sample's place and the context's output timestamp, in ms of `performance.now()`.
    pub output_ms: Option<f64>,
    /// By the wall clock of the rendering thread when the sample was made, in the same unit.
    pub rendered_ms: f64,
}

impl Heard {
    /// From what the page recorded.
    pub fn new(entries: Value) -> Self {
        Self { entries: serde_json::from_value(entries).expect("a list") }
    }

    /// What was given to the voice, whatever became of it. Empty sentences that only wake the
    /// voice are left out.
    pub fn said(&self) -> Vec<Timed<Said>> {
        let mut said = self.all::<Said>("speech");
        said.retain(|one| !one.what.text.trim().is_empty());
        said
    }

    /// The sentences alone.
    pub fn sentences(&self) -> Vec<String> {
        self.said().into_iter().map(|said| said.what.text).collect()
    }

    /// Every note that could be heard, ticks included.
    pub fn notes(&self) -> Vec<Timed<Note>> {
        let mut notes = self.all::<Note>("note");
        notes.retain(|note| note.what.can_be_heard());
        notes.sort_by(|one, other| one.at.total_cmp(&other.at));
        notes
    }

    /// The tones that could be heard, without ticks.
    pub fn tones(&self) -> Vec<Tone> {
        tone::tones(&self.notes())
    }

    /// When a tick could be heard.
    pub fn ticks(&self) -> Vec<f64> {
        let notes = self.notes();
        notes.iter().filter(|note| note.what.is_tick()).map(|note| note.at).collect()
    }

    /// The screen whenever it had changed.
    pub fn screens(&self) -> Vec<Timed<Look>> {
        self.all("screen")
    }

    /// What was pressed.
    pub fn presses(&self) -> Vec<Timed<Press>> {
        self.all("press")
    }

    /// Onsets in the rendered samples, with the real clock.
    pub fn onsets(&self) -> Vec<Timed<Onset>> {
        self.all("onset")
    }

    /// When the phone vibrated.
    pub fn vibrations(&self) -> Vec<f64> {
        self.entries("vibration").filter_map(|entry| entry["since"].as_f64()).map(by_1000).collect()
    }

    /// What became of the wake lock: `granted`, `refused`, `released`, in order.
    pub fn wake_locks(&self) -> Vec<String> {
        self.words("wake-lock", "what")
    }

    /// The states every audio context went through.
    pub fn sound_states(&self) -> Vec<String> {
        self.words("context", "state")
    }

    /// The durability of every write to the database.
    pub fn write_durabilities(&self) -> Vec<String> {
        self.words("write", "durability")
    }

    /// How often durable storage was asked for.
    pub fn persist_asked(&self) -> usize {
        self.entries("persist").count()
    }

    /// What went wrong on the page.
    pub fn faults(&self) -> Vec<String> {
        self.words("fault", "what")
    }

    fn entries(&self, kind: &str) -> impl Iterator<Item = &Value> {
        self.entries.iter().filter(move |entry| entry["kind"] == kind)
    }

    fn words(&self, kind: &str, field: &str) -> Vec<String> {
        self.entries(kind).filter_map(|entry| entry[field].as_str()).map(str::to_owned).collect()
    }

    fn all<T: DeserializeOwned>(&self, kind: &str) -> Vec<Timed<T>> {
        let parsed = self.entries(kind).cloned().map(serde_json::from_value);
        parsed.map(|entry| entry.expect("an entry of its kind")).collect()
    }
}

fn seconds<'de, D: serde::Deserializer<'de>>(from: D) -> Result<f64, D::Error> {
    f64::deserialize(from).map(by_1000)
}

fn by_1000(ms: f64) -> f64 {
    ms / 1_000.0
}
