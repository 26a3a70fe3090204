//! A recorded run against an agreed timeline.

use std::fmt::{Display, Formatter};

use crate::harness::heard::Heard;

/// One line of a timeline.
#[derive(Clone, Debug, PartialEq)]
pub struct Cue {
    /// Seconds on the step's clock.
    pub at: f64,
    /// State, tone or words.
    pub channel: Channel,
    /// What is shown, sounded or said.
    pub value: String,
}

/// Where a cue reaches the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Channel {
    /// The state word on the screen.
    State,
    /// A tone.
    Tone,
    /// A sentence, spoken and on the screen.
    Words,
}

impl Channel {
    /// How far off a cue may be, in seconds, where time is the test's own.
    fn tolerance(self) -> f64 {
        match self {
            // The screen changes with the second.
            Self::State | Self::Words => 0.3,
            Self::Tone => 0.05,
        }
    }

    fn named(name: &str) -> Self {
        match name {
            "state" => Self::State,
            "tone" => Self::Tone,
            "words" => Self::Words,
            _ => panic!("no such channel: {name}"),
        }
    }
}

impl Display for Cue {
    fn fmt(&self, to: &mut Formatter<'_>) -> std::fmt::Result {
        let channel = format!("{:?}", self.channel).to_lowercase();
        write!(to, "{:.2} {channel} \"{}\"", self.at, self.value)
    }
}

/// The agreed timeline of a case, such as `developer_210_f10_d10_begin`.
pub fn agreed(case: &str) -> Vec<Cue> {
    let path = format!("{}/references/data/cues/{case}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut table = csv::Reader::from_path(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    let rows = table.records().map(|row| row.expect("a row"));
    let cue = |row: csv::StringRecord| Cue {
        at: row[0].parse().expect("seconds"),
        channel: Channel::named(&row[1]),
        value: row[2].to_owned(),
    };
    rows.map(cue).collect()
}

/// What was recorded from `from` until `until` (seconds since the test began, the first included),
/// on the clock of the step that began at `zero`.
///
/// Sentences that tell the time of day are left out, as the agreed timelines do.
pub fn given(heard: &Heard, zero: f64, from: f64, until: f64) -> Vec<Cue> {
    let mut cues = Vec::new();
    let mut put = |at: f64, channel, value: &str| {
        if (from..until).contains(&at) {
            cues.push(Cue { at: at - zero, channel, value: value.to_owned() });
        }
    };
    let mut shown = None;
    for screen in heard.screens() {
        if screen.what.state != shown {
            shown.clone_from(&screen.what.state);
            put(screen.at, Channel::State, shown.as_deref().unwrap_or(""));
        }
    }
    for tone in heard.tones() {
        put(tone.at, Channel::Tone, tone.kind.name());
    }
    for said in heard.said() {
        if !tells_the_time(&said.what.text) {
            put(said.at, Channel::Words, &said.what.text);
        }
    }
    cues.sort_by(|one, other| one.at.total_cmp(&other.at));
    cues
}

/// "Developer until two thirty-seven and twenty."
fn tells_the_time(sentence: &str) -> bool {
    sentence.split_whitespace().nth(1) == Some("until")
}

/// Each difference as a line: what is missing, what is too much, what comes at the wrong time.
/// Empty means equal.
///
/// States before the first agreed one are left out: the agreed timelines say them from the pour on.
pub fn compare(agreed: &[Cue], given: &[Cue]) -> Vec<String> {
    let mut differences = Vec::new();
    let state = |cue: &&Cue| cue.channel == Channel::State;
    let pour = agreed.iter().find(state).map_or(f64::NEG_INFINITY, |cue| cue.at - 0.3);
    let mut left = given.to_vec();
    left.retain(|cue| !state(&cue) || cue.at >= pour);
    for cue in agreed {
        let same = |other: &Cue| other.channel == cue.channel && other.value == cue.value;
        let off = |other: &Cue| (other.at - cue.at).abs();
        let nearest = (0..left.len()).filter(|&index| same(&left[index]));
        let nearest = nearest.min_by(|&one, &other| off(&left[one]).total_cmp(&off(&left[other])));
        // Further off than this it is another cue with the same words.
        match nearest.filter(|&index| off(&left[index]) < 3.0) {
            None => differences.push(format!("missing: {cue}")),
            Some(index) => {
                let found = left.remove(index);
                if off(&found) > cue.channel.tolerance() {
                    differences.push(format!("at {:.2} instead: {cue}", found.at));
                }
            }
        }
    }
    differences.extend(left.iter().map(|cue| format!("too much: {cue}")));
    differences
}
