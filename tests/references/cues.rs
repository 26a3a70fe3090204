//! What a run says, sounds and shows, against the agreed timelines in `data/cues`.
//!
//! A file's name is its case: bath, time in s, fill, drain, clock convention, and the word level
//! or `continuous`. The words that tell the time of day are not in the files.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use process_model::agitation::Agitation;
use process_model::sheet::SheetId;
use session::cue::{Signal, Tone, cues};
use session::habits::{Convention, Habits, Words};
use session::plan::Plan;
use session::run::Tank;
use session::spoken::Say;
use session::timestamp::Timestamp;
use session::view::StateWord;
use session::{Command, Run, apply, decide, view};

#[test]
fn every_agreed_timeline_is_given_to_the_second() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("references/data/cues");
    let files = std::fs::read_dir(folder).expect("the folder is there");
    let files: Vec<_> = files.map(|file| file.expect("a file").path()).collect();
    assert_eq!(files.len(), 12);
    for file in files {
        assert_eq!(given(&Case::of(&file)), agreed(&file), "{}", file.display());
    }
}

/// Seconds on the step's clock, channel, value.
type Line = (String, String, String);

fn agreed(file: &PathBuf) -> BTreeSet<Line> {
    let mut table = csv::Reader::from_path(file).expect("the file is there");
    let rows = table.records().map(|row| row.expect("a row"));
    rows.map(|row| (row[0].to_owned(), row[1].to_owned(), row[2].to_owned())).collect()
}

struct Case {
    bath: String,
    time_ms: i64,
    habits: Habits,
    continuous: bool,
}

impl Case {
    fn of(file: &Path) -> Self {
        let stem = file.file_stem().and_then(|stem| stem.to_str()).expect("a name");
        let parts: Vec<_> = stem.split('_').collect();
        let number =
            |text: &str| text.trim_start_matches(['f', 'd']).parse::<u32>().expect("a number");
        let level = parts.get(5).copied();
        let habits = Habits {
            fill_s: number(parts[2]),
            drain_s: number(parts[3]),
            convention: match parts[4] {
                "begin" => Convention::AsYouBegin,
                _ => Convention::WhenComplete,
            },
            words: match level {
                Some("few") => Words::Few,
                Some("tones") => Words::Tones,
                _ => Words::All,
            },
            sheet: SheetId::TwoBath389.key(),
            ..Habits::default()
        };
        Self {
            bath: parts[0].replace('-', ""),
            time_ms: i64::from(number(parts[1])) * 1_000,
            habits,
            continuous: level == Some("continuous"),
        }
    }

    /// A run whose case's step is about to be poured, and the instant of the tap.
    fn run(&self) -> (Run, Timestamp) {
        let mut plan = Plan::shipped(&self.habits, 0);
        let index = plan.steps.iter().position(|step| step.id == self.bath).expect("the step");
        plan.steps[index].time_ms = self.time_ms;
        if self.continuous {
            plan.steps[index].agitation = Agitation::Continuous;
        }
        let mut run = Run::new(plan);
        let mut now = Timestamp::from_milliseconds(1_000_000);
        let tap = |run: Run, command, now| {
            let entry = decide(&run, command, now).expect("the tap is allowed");
            apply(run, entry)
        };
        run = tap(run, Command::Start { anyway: false }, now);
        while !matches!(run.state.tank, Tank::Bath { step, .. } if step == index) {
            now = now.plus_ms(600_000);
            run = tap(run, Command::TankIsEmpty { ago_ms: 0 }, now);
        }
        // A fresh reading of the tub, so that no reminder is due.
        let tub = session::entry::Place::Tub;
        let celsius = process_model::quantity::Celsius::new(41.0);
        for minute in 0..10 {
            run = tap(run, Command::Read { place: tub, celsius }, now.plus_ms(minute * 60_000));
        }
        (run, now)
    }
}

fn given(case: &Case) -> BTreeSet<Line> {
    let (run, tap) = case.run();
    let Tank::Bath { step, tone_at, .. } = run.state.tank else { unreachable!("a bath is next") };
    let zero = run.step_clock(step).expect("the step").zero(tone_at);
    let until = zero.plus_ms(case.time_ms + 27_000);
    let mut lines = states(&run, tone_at, until, zero);
    for cue in cues(&run, tap, until) {
        let line = match cue.signal {
            Signal::Tone(Tone::Tick) | Signal::Say(Say::Until(..)) => continue,
            Signal::Tone(tone) => ("tone", tone_name(tone).to_owned()),
            Signal::Say(say) => ("words", say.text()),
        };
        lines.insert((seconds(cue.at.since_ms(zero)), line.0.to_owned(), line.1));
    }
    lines
}

/// The states as the screen shows them, looked at ten times a second from the pour tone on.
fn states(run: &Run, from: Timestamp, until: Timestamp, zero: Timestamp) -> BTreeSet<Line> {
    let mut lines = BTreeSet::new();
    let mut shown = None;
    let mut now = from;
    while now < until {
        let state = view(run, now).scene.state_word();
        if state != shown {
            shown = state;
            let word = shown.map_or("", state_name).to_owned();
            lines.insert((seconds(now.since_ms(zero)), "state".to_owned(), word));
        }
        now = now.plus_ms(100);
    }
    lines
}

fn seconds(ms: i64) -> String {
    assert_eq!(ms % 1_000, 0, "on the second");
    (ms / 1_000).to_string()
}

fn tone_name(tone: Tone) -> &'static str {
    match tone {
        Tone::GetReady => "E1",
        Tone::Go => "E2",
        Tone::GoTwice => "E2 twice",
        Tone::Rest => "E3",
        Tone::Alarm => "E4",
        Tone::Tick => "tick",
    }
}

fn state_name(word: StateWord) -> &'static str {
    match word {
        StateWord::Rest => "REST",
        StateWord::Agitate => "AGITATE",
        StateWord::Pour => "POUR",
        StateWord::Over => "OVER",
        StateWord::Wait => "WAIT",
    }
}
