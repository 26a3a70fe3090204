//! What was done with a solution and how it is mixed, as its record has it.

use process_model::mixing::{Kit, Part};
use serde_json::{Map, Value};

use super::record::{Record, put};
use crate::timestamp::Timestamp;

/// What may be done with a solution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Done {
    /// It was mixed, or mixed anew.
    Mixed,
    /// Fresh solution was added.
    ToppedUp,
    /// Somebody looked at it and found nothing.
    LookedAt,
    /// Something got in that may matter.
    Suspect,
    /// Something got in that ruins it.
    Blocked,
    /// It is not on the Shelf any more.
    Discarded,
}

impl Done {
    /// Everything that may be done.
    pub const ALL: [Self; 6] = [
        Self::Mixed,
        Self::ToppedUp,
        Self::LookedAt,
        Self::Suspect,
        Self::Blocked,
        Self::Discarded,
    ];

    const fn name(self) -> &'static str {
        match self {
            Self::Mixed => "mixed",
            Self::ToppedUp => "topped_up",
            Self::LookedAt => "looked_at",
            Self::Suspect => "suspect",
            Self::Blocked => "blocked",
            Self::Discarded => "discarded",
        }
    }
}

/// One thing that was done with a solution.
#[derive(Clone, Debug, PartialEq)]
pub struct Deed {
    /// When.
    pub at: Timestamp,
    /// What.
    pub done: Done,
    /// How much was mixed or added, or was found to be left, in millilitres.
    pub ml: Option<f64>,
    /// How many rolls had gone through what was mixed, as a leaflet counts, before runs were written
    /// down here.
    pub rolls: Option<f64>,
    /// Whether whatever stood against it is settled: nothing got in, or it does not matter.
    pub fine: bool,
    /// How long a clip of film took to clear in it, in seconds.
    pub clears_s: Option<f64>,
    /// In words.
    pub note: String,
}

impl Deed {
    /// Something done, with nothing more to say.
    pub const fn new(at: Timestamp, done: Done) -> Self {
        Self { at, done, ml: None, rolls: None, fine: false, clears_s: None, note: String::new() }
    }
}

/// What was done with a solution, in order. What cannot be read is left out.
pub fn deeds(solution: &Record) -> Vec<Deed> {
    solution.list("events").iter().filter_map(deed).collect()
}

fn deed(value: &Value) -> Option<Deed> {
    let name = value["event"].as_str()?;
    Some(Deed {
        at: Timestamp::from_iso(value["at"].as_str()?)?,
        done: Done::ALL.into_iter().find(|done| done.name() == name)?,
        ml: value["ml"].as_f64(),
        rolls: value["rolls"].as_f64(),
        fine: value["fine"].as_bool().unwrap_or_default(),
        clears_s: value["clears_s"].as_f64(),
        note: value["note"].as_str().unwrap_or_default().to_owned(),
    })
}

/// The events of a solution with one more; of one that has no record yet, that one alone.
pub fn events_with(known: Option<&Record>, deed: &Deed) -> Value {
    let mut events: Vec<Value> =
        known.map(|known| known.list("events").to_vec()).unwrap_or_default();
    events.push(written(Map::new(), deed));
    Value::Array(events)
}

/// A deed in these fields; what a later version has put there stays.
fn written(mut event: Map<String, Value>, deed: &Deed) -> Value {
    let note = Some(deed.note.as_str()).filter(|note| !note.is_empty());
    for (key, value) in [
        ("at", deed.at.to_iso().into()),
        ("event", deed.done.name().into()),
        ("ml", deed.ml.into()),
        ("rolls", deed.rolls.into()),
        ("fine", deed.fine.then_some(true).into()),
        ("clears_s", deed.clears_s.into()),
        ("note", note.into()),
    ] {
        put(&mut event, key, value);
    }
    Value::Object(event)
}

/// The last time that a solution was mixed.
pub fn last_mixed(solution: &Record) -> Option<Deed> {
    deeds(solution).into_iter().rev().find(|deed| deed.done == Done::Mixed)
}

/// The events of a solution in which the last mixing is as `change` makes it, in their order in
/// time.
pub fn events_with_mixing(solution: &Record, change: &dyn Fn(&mut Deed)) -> Value {
    let mut events = solution.list("events").to_vec();
    let mixing = |event: &Value| deed(event).filter(|deed| deed.done == Done::Mixed);
    if let Some(place) = events.iter().rposition(|event| mixing(event).is_some())
        && let Some(mut mixed) = mixing(&events[place])
    {
        change(&mut mixed);
        let fields = events[place].as_object().cloned().unwrap_or_default();
        events[place] = written(fields, &mixed);
    }
    // A day that was put right may come before others; those of one instant stay as they are.
    let at = |event: &Value| event["at"].as_str().unwrap_or_default().to_owned();
    Value::Array(crate::order::by(events, at))
}

/// The events of a solution without the last one, which was a slip.
pub fn events_without_last(solution: &Record) -> Value {
    let events = solution.list("events");
    Value::Array(events[..events.len().saturating_sub(1)].to_vec())
}

/// Why a solution may not be used, if it may not: since something ruined it nothing was mixed, and
/// nobody said that it was not so.
pub fn blocked(solution: &Record) -> Option<String> {
    let decides = |deed: &Deed| deed.fine || matches!(deed.done, Done::Mixed | Done::Blocked);
    let last = deeds(solution).into_iter().rev().find(decides)?;
    (last.done == Done::Blocked).then_some(last.note)
}

/// The parts of a kit as a record keeps them.
pub fn value_of_parts(parts: &[Part]) -> Value {
    let part = |part: &Part| {
        let mut fields = Map::new();
        put(&mut fields, "name", part.name.as_str().into());
        put(&mut fields, if part.is_powder { "grams" } else { "ml" }, part.amount.into());
        Value::Object(fields)
    };
    parts.iter().map(part).collect()
}

/// How a solution is mixed, as far as that was written down.
pub fn kit(solution: &Record) -> Option<Kit> {
    let part = |value: &Value| {
        let grams = value["grams"].as_f64();
        Some(Part {
            name: value["name"].as_str()?.to_owned(),
            amount: grams.or(value["ml"].as_f64())?,
            is_powder: grams.is_some(),
        })
    };
    if let Some(parts) = solution.number("water_parts") {
        let concentrate = Part { name: "concentrate".to_owned(), amount: 1.0, is_powder: false };
        // Most of the water first, the rest to the mark; common practice, no source.
        let water_first = 0.8 * parts / (1.0 + parts);
        return Some(Kit { makes_ml: 1.0 + parts, water_first, parts: vec![concentrate] });
    }
    let parts: Vec<Part> = solution.list("parts").iter().filter_map(part).collect();
    let makes_ml = solution.number("kit_ml")?;
    // 70 to 80 % of the volume where the leaflet does not say; from memory.
    let first_ml = solution.number("first_ml").unwrap_or(0.7 * makes_ml);
    (!parts.is_empty()).then(|| Kit { makes_ml, water_first: first_ml / makes_ml, parts })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notebook::Kind;

    fn solution() -> Record {
        let solution = Record::new(Kind::Solution, "s", "d", Timestamp::default());
        solution.with("name", "Developer").with("bath", "developer")
    }

    fn after(done: &[Done]) -> Record {
        done.iter().fold(solution(), |solution, done| {
            let deed = Deed { note: "bleach-fix".into(), ..Deed::new(Timestamp::default(), *done) };
            let events = events_with(Some(&solution), &deed);
            solution.with("events", events)
        })
    }

    #[test]
    fn a_solution_is_blocked_until_it_is_mixed_anew() {
        assert_eq!(blocked(&after(&[])), None);
        assert_eq!(blocked(&after(&[Done::Mixed, Done::Blocked])).as_deref(), Some("bleach-fix"));
        assert_eq!(blocked(&after(&[Done::Blocked, Done::Mixed])), None);
        // A doubt about it changes nothing.
        let doubted = after(&[Done::Blocked, Done::Suspect]);
        assert_eq!(blocked(&doubted).as_deref(), Some("bleach-fix"));
        assert_eq!(blocked(&after(&[Done::Suspect])), None);
    }

    #[test]
    fn what_was_blocked_by_mistake_is_not_blocked_and_no_fresher_for_it() {
        let fine = Deed { fine: true, ..Deed::new(Timestamp::default(), Done::LookedAt) };
        let settled = |solution: Record| {
            let events = events_with(Some(&solution), &fine);
            solution.with("events", events)
        };
        let solution = settled(after(&[Done::Mixed, Done::Blocked]));
        assert_eq!(blocked(&solution), None);
        let again = Deed::new(Timestamp::default(), Done::Blocked);
        let events = events_with(Some(&solution), &again);
        assert!(blocked(&solution.with("events", events)).is_some());
    }

    #[test]
    fn the_day_of_mixing_is_put_right_and_stands_before_what_came_after_it() {
        let at = |day: i64| Timestamp::from_milliseconds(day * 86_400_000);
        let mixed = Deed { ml: Some(600.0), ..Deed::new(at(20), Done::Mixed) };
        let solution = after(&[]);
        let events = events_with(Some(&solution), &Deed::new(at(10), Done::LookedAt));
        let solution = solution.with("events", events);
        let events = events_with(Some(&solution), &mixed);
        let solution = solution.with("events", events);
        let events = events_with_mixing(&solution, &|deed| {
            deed.at = at(5);
            deed.rolls = Some(3.0);
        });
        let solution = solution.with("events", events);
        let right = Deed { at: at(5), rolls: Some(3.0), ..mixed };
        assert_eq!(deeds(&solution), [right, Deed::new(at(10), Done::LookedAt)]);
        assert_eq!(events_with_mixing(&after(&[]), &|_| {}), Value::Array(Vec::new()));
    }

    #[test]
    fn what_was_done_before_is_kept_and_a_slip_is_taken_away() {
        let solution = after(&[Done::Mixed, Done::Blocked, Done::Mixed]);
        assert_eq!(solution.list("events").len(), 3);
        let before = solution.clone().with("events", events_without_last(&solution));
        assert_eq!(blocked(&before).as_deref(), Some("bleach-fix"));
        assert_eq!(events_without_last(&after(&[])), Value::Array(Vec::new()));
    }

    #[test]
    fn everything_that_may_be_done_reads_back_from_a_record() {
        for done in Done::ALL {
            let deed = Deed {
                ml: Some(600.0),
                rolls: Some(2.5),
                fine: true,
                clears_s: Some(41.0),
                ..Deed::new(Timestamp::default(), done)
            };
            let solution = solution().with("events", events_with(None, &deed));
            let read = Record::from_text(&solution.to_text()).unwrap();
            assert_eq!(deeds(&read), [deed]);
        }
    }

    #[test]
    fn a_kit_reads_back_and_a_concentrate_is_one_part() {
        let part = |name: &str, amount, is_powder| Part { name: name.into(), amount, is_powder };
        let parts = vec![part("A", 142.5, false), part("B", 20.0, true)];
        let solution = solution().with("parts", value_of_parts(&parts)).with("kit_ml", 1000.0);
        let read = Record::from_text(&solution.to_text()).unwrap();
        assert_eq!(kit(&read).map(|kit| kit.parts), Some(parts));
        let fixer = solution.with("water_parts", 4.0);
        let recipe = kit(&fixer).unwrap().recipe(1000.0).unwrap();
        let amounts: Vec<f64> = recipe.pours.iter().map(|pour| pour.amount.round()).collect();
        assert_eq!(amounts, [640.0, 200.0, 160.0]);
        assert_eq!(kit(&after(&[])), None);
    }
}
