//! Notes put together to tones, and what each tone is. The one place that knows how they sound.

use serde::Deserialize;

use super::Timed;

/// One oscillator or sample that began.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Note {
    /// Its fundamental when it began. 0 where it is a recorded sample.
    pub hz: f64,
    /// How many harmonics it has; 99 for a square, a saw or a triangle.
    pub partials: u32,
    /// How long it could be heard, in seconds.
    pub lasts: f64,
    /// The loudest it gets, 1 being full scale for one source.
    pub level: f64,
}

impl Note {
    /// Whether it reaches the loudspeaker at all.
    pub fn can_be_heard(&self) -> bool {
        self.level > 0.001 && self.lasts > 0.0
    }

    /// Whether it is one of the short ticks of a spell.
    pub fn is_tick(&self) -> bool {
        self.lasts < 0.06
    }
}

/// The four tones, and the one that is given twice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToneKind {
    /// A rising pair.
    E1,
    /// One bright note.
    E2,
    /// E2, and again within about half a second.
    E2Twice,
    /// A falling pair.
    E3,
    /// A burst of several notes.
    E4,
    /// None of these.
    Unknown,
}

impl ToneKind {
    /// As the agreed timelines write it.
    pub fn name(self) -> &'static str {
        match self {
            Self::E1 => "E1",
            Self::E2 => "E2",
            Self::E2Twice => "E2 twice",
            Self::E3 => "E3",
            Self::E4 => "E4",
            Self::Unknown => "a tone that is none of the four",
        }
    }

    /// By contour alone: the fundamentals of the notes in order, lowest of each chord.
    fn of(contour: &[f64]) -> Self {
        match contour {
            [_] => Self::E2,
            [first, second] if (first - second).abs() < 1.0 => Self::E2Twice,
            [first, second] if first < second => Self::E1,
            [_, _] => Self::E3,
            [_, _, _, ..] => Self::E4,
            [] => Self::Unknown,
        }
    }
}

/// Notes that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Tone {
    /// When its first note began, in seconds since the test began.
    pub at: f64,
    /// What it is.
    pub kind: ToneKind,
    /// Its notes in order.
    pub notes: Vec<Timed<Note>>,
}

/// Notes that begin so close together are one chord.
const CHORD_S: f64 = 0.005;
/// A longer silence than this ends a tone.
const SILENCE_S: f64 = 0.35;

/// The tones that `notes`, in order of time, make up. Ticks are left out.
pub fn tones(notes: &[Timed<Note>]) -> Vec<Tone> {
    let mut groups: Vec<Vec<Timed<Note>>> = Vec::new();
    let mut ends = f64::NEG_INFINITY;
    for note in notes.iter().filter(|note| !note.what.is_tick()) {
        match groups.last_mut() {
            Some(group) if note.at - ends <= SILENCE_S => group.push(note.clone()),
            _ => groups.push(vec![note.clone()]),
        }
        ends = ends.max(note.at + note.what.lasts);
    }
    let tone = |notes: Vec<Timed<Note>>| {
        let at = notes.first().map_or(0.0, |note| note.at);
        Tone { at, kind: ToneKind::of(&contour(&notes)), notes }
    };
    groups.into_iter().map(tone).collect()
}

/// The lowest fundamental of each chord, in order.
fn contour(notes: &[Timed<Note>]) -> Vec<f64> {
    let mut chords: Vec<(f64, f64)> = Vec::new();
    for note in notes {
        match chords.last_mut() {
            Some((at, hz)) if note.at - *at <= CHORD_S => *hz = hz.min(note.what.hz),
            _ => chords.push((note.at, note.what.hz)),
        }
    }
    chords.into_iter().map(|(_, hz)| hz).collect()
}
