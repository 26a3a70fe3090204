//! Rolls as a list: where each is on its way, which are found by words, and how two differ.

use process_model::printed;
use process_model::sheet::Bath;

use crate::notebook::solutions::{Done, deeds};
use crate::notebook::{Kind, Named, Record, Value};
use crate::order;
use crate::run::Run;
use crate::spoken;
use crate::timestamp::Timestamp;

/// For so many days what was put aside can be brought back; our choice.
pub const KEPT_DAYS: i64 = 30;
pub(crate) const DAY_MS: i64 = 86_400_000;

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Where a roll is on its way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// It was not developed yet.
    Waiting,
    /// It was developed, and is neither filed nor scanned.
    InHand,
    /// It is filed or scanned.
    Done,
}

/// Where a roll is on its way.
pub fn stage(roll: &Record) -> Stage {
    match (roll.text("run"), roll.instant("scanned_at"), roll.instant("filed_at")) {
        ("", None, None) => Stage::Waiting,
        (_, None, None) => Stage::InHand,
        (_, Some(_), _) | (_, _, Some(_)) => Stage::Done,
    }
}

/// Which rolls are looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Only {
    /// All of them.
    All,
    /// Those at one place on their way.
    At(Stage),
    /// Those with a fault, seen on the film or noted in the run.
    Faulty,
    /// Those of a trial.
    Tried,
}

impl Only {
    /// Every choice, in the order in which they are offered.
    pub const ALL: [Self; 6] = [
        Self::All,
        Self::At(Stage::Waiting),
        Self::At(Stage::InHand),
        Self::At(Stage::Done),
        Self::Faulty,
        Self::Tried,
    ];
}

/// What a run says of the rolls that were in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OfRun {
    /// The run's id.
    pub id: String,
    /// What it is found by.
    words: String,
    is_faulty: bool,
}

/// A roll as the list knows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Its place among the records that the list was made from.
    pub place: usize,
    /// Where it is on its way.
    pub stage: Stage,
    is_faulty: bool,
    is_tried: bool,
    /// Everything it is found by, in small letters.
    words: String,
}

impl Listed {
    /// Whether it is one of those that are looked for.
    pub fn has(&self, only: Only) -> bool {
        match only {
            Only::All => true,
            Only::At(stage) => self.stage == stage,
            Only::Faulty => self.is_faulty,
            Only::Tried => self.is_tried,
        }
    }
}

/// What the run `id` says of its rolls: its sheet, faults and month, and the solutions that it
/// `poured`; where none is named, those that stood on the Shelf for its baths.
pub fn of_run(id: &str, run: &Run, poured: &[Value], records: &[Record]) -> OfRun {
    let mut words = run.plan.sheet_name.clone();
    for (_, fault) in &run.state.faults {
        add(&mut words, &fault.file_name().replace('_', " "));
    }
    if let Some(at) = run.started_at() {
        add_month(&mut words, &at.to_iso());
    }
    for solution in records.iter().filter(|record| record.kind() == Kind::Solution) {
        let bath = Bath::from_file_name(solution.text("bath"));
        let is_in = bath.filter(|bath| run.plan.steps.iter().any(|step| step.bath == *bath));
        let is_in =
            is_in.filter(|_| poured.is_empty() || poured.iter().any(|id| id == solution.id()));
        let Some(bath) = is_in else { continue };
        add(&mut words, &found_by(solution));
        // One that is called as its bath is would be found with every run.
        if !solution.text("name").eq_ignore_ascii_case(spoken::name(bath)) {
            add(&mut words, solution.text("name"));
        }
    }
    OfRun { id: id.to_owned(), words, is_faulty: !run.state.faults.is_empty() }
}

/// By what the rolls of a solution are found, whatever it is called: the day on which it was mixed
/// first. Empty for one that was not mixed.
pub fn found_by(solution: &Record) -> String {
    let mixed = deeds(solution).into_iter().find(|deed| deed.done == Done::Mixed);
    mixed.map_or_else(String::new, |mixed| {
        let day: String = mixed.at.to_iso().chars().take(10).collect();
        "mixed-".to_owned() + &day
    })
}

/// The rolls among `records` that were not put aside: those that wait first, the oldest of them
/// first; then the others, the latest number first.
pub fn listed(records: &[Record], runs: &[OfRun]) -> Vec<Listed> {
    let trials: Vec<&Record> = records.iter().filter(|record| is(record, Kind::Trial)).collect();
    let rolls: Vec<(usize, &Record)> =
        records.iter().enumerate().filter(|(_, record)| is(record, Kind::Roll)).collect();
    let ranks: Vec<String> = rolls.iter().map(|(_, roll)| rank(roll)).collect();
    let places = order::places(ranks.iter().map(String::as_str));
    let rolls = places.into_iter().filter_map(|at| rolls.get(at));
    rolls.map(|(place, roll)| list(*place, roll, runs, &trials)).collect()
}

fn is(record: &Record, kind: Kind) -> bool {
    record.kind() == kind && !record.is_deleted()
}

fn rank(roll: &Record) -> String {
    let stage = stage(roll);
    if stage == Stage::Waiting {
        return "0".to_owned() + waits_since(roll);
    }
    let number = roll.value("number").and_then(Value::as_u64).unwrap_or_default();
    (if stage == Stage::InHand { "1" } else { "2" }).to_owned() + &order::number(u64::MAX - number)
}

/// The day from which a roll waits; one of which nobody knows it comes last.
pub fn waits_since(roll: &Record) -> &str {
    match roll.text("exposed_on") {
        "" => "9999",
        day => day,
    }
}

fn list(place: usize, roll: &Record, runs: &[OfRun], trials: &[&Record]) -> Listed {
    let mut words = "roll".to_owned();
    for field in ["number", "frames"] {
        if let Some(number) = roll.value(field).and_then(Value::as_u64) {
            add(&mut words, &number.to_string());
        }
    }
    for (before, field) in [("iso ", "box_iso"), ("rated ", "rated_iso")] {
        if let Some(number) = roll.value(field).and_then(Value::as_u64) {
            add(&mut words, before);
            words.push_str(&number.to_string());
        }
    }
    add(&mut words, pushed(roll));
    for field in FOUND_BY {
        add(&mut words, roll.text(field));
    }
    add_month(&mut words, roll.text("exposed_on"));
    let seen = roll.list("faults");
    for fault in printed::faults().filter(|_| !seen.is_empty()) {
        if seen.iter().any(|id| id == fault.id) {
            add(&mut words, fault.seen);
        }
    }
    let run = roll.text("run");
    let run = runs.iter().find(|known| known.id == run);
    add(&mut words, run.map_or("", |run| &run.words));
    let id = roll.id();
    let mut is_tried = false;
    for trial in trials {
        if trial.list("rolls").iter().any(|roll| roll == id) {
            is_tried = true;
            add(&mut words, trial.text("question"));
            add(&mut words, trial.text("differs"));
        }
    }
    let words = small(words);
    let is_faulty = !seen.is_empty() || run.is_some_and(|run| run.is_faulty);
    Listed { place, stage: stage(roll), is_faulty, is_tried, words }
}

/// The texts of a roll that it is found by.
const FOUND_BY: [&str; 10] = [
    "density",
    "stock",
    "format",
    "camera",
    "lens",
    "note",
    "judgement",
    "next_time",
    "filed_as",
    "exposed_on",
];

/// Push or pull of a roll in words; nothing where there was none.
pub fn pushed(roll: &Record) -> &'static str {
    let stops = roll.number("push_stops").unwrap_or_default();
    let known = PUSHES.iter().find(|(known, _)| (known - stops).abs() < 0.25);
    known.filter(|(stops, _)| *stops != 0.0).map_or("", |(_, words)| words)
}

/// Stops of push that are offered, and what they are called.
pub const PUSHES: [(f64, &str); 6] = [
    (-2.0, "pull 2"),
    (-1.0, "pull 1"),
    (0.0, "normal"),
    (1.0, "push 1"),
    (2.0, "push 2"),
    (3.0, "push 3"),
];

fn add(words: &mut String, more: &str) {
    if !more.is_empty() {
        words.push(' ');
        words.push_str(more);
    }
}

/// The name of the month of a day such as `2026-03-14`.
fn add_month(words: &mut String, day: &str) {
    let month = day.get(5..7).and_then(|month| month.parse::<usize>().ok());
    if let Some(name) = month.and_then(|month| MONTHS.get(month.wrapping_sub(1))) {
        add(words, name);
        add(words, day.get(..4).unwrap_or_default());
    }
}

/// The same in small letters, those of western Europe among them. The whole of Unicode's letters would
/// weigh more than all of this.
fn small(mut words: String) -> String {
    if words.is_ascii() {
        words.make_ascii_lowercase();
        return words;
    }
    let small = |letter: char| match letter {
        'À'..='Ö' | 'Ø'..='Þ' => char::from_u32(u32::from(letter) + 32).unwrap_or(letter),
        _ => letter.to_ascii_lowercase(),
    };
    words.chars().map(small).collect()
}

/// The places in `rolls` of those that have every word that was typed, in their order. Capitals do
/// not count; no words are every roll.
pub fn find(rolls: &[Listed], typed: &str, only: Only) -> Vec<usize> {
    let typed = small(typed.to_owned());
    let typed: Vec<&str> = typed.split_whitespace().collect();
    let is_found =
        |roll: &Listed| roll.has(only) && typed.iter().all(|word| roll.words.contains(word));
    let all = rolls.iter().enumerate();
    all.filter(|(_, roll)| is_found(roll)).map(|(at, _)| at).collect()
}

/// For how many days a record that was put aside can still be brought back; nothing once it is
/// gone, and for one that was not put aside.
pub fn days_left(record: &Record, now: Timestamp) -> Option<i64> {
    let passed_ms = now.since_ms(record.edited_at()).max(0);
    let left = KEPT_DAYS - passed_ms / DAY_MS;
    (record.is_deleted() && left > 0).then_some(left)
}

/// Something that is written down: what it is, and what it says.
pub type Fact = (String, String);

/// What differs between two lists of facts, as name and both values, and how many are the same.
/// A name that stands there twice means the first and the second; what is not said is a dash.
pub fn differences(one: Vec<Fact>, mut other: Vec<Fact>) -> (Vec<Vec<String>>, usize) {
    let mut rows = Vec::new();
    let mut same = 0;
    let mut row = |name: String, values: [String; 2]| {
        let [one, other] = values.map(|said| if said.is_empty() { "–".to_owned() } else { said });
        rows.push(vec![name, one, other]);
    };
    for (name, value) in one {
        let there = other.iter().position(|(known, _)| *known == name);
        let value_there = there.map(|at| other.remove(at).1).unwrap_or_default();
        if value != value_there {
            row(name, [value, value_there]);
        } else if !value.is_empty() {
            same += 1;
        }
    }
    for (name, value) in other.into_iter().filter(|(_, value)| !value.is_empty()) {
        row(name, [String::new(), value]);
    }
    (rows, same)
}

#[cfg(test)]
mod tests;
