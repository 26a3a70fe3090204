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
    /// How much was mixed or added, in millilitres.
    pub ml: Option<f64>,
    /// How long a clip of film took to clear in it, in seconds.
    pub clears_s: Option<f64>,
    /// In words.
    pub note: String,
}

impl Deed {
    /// Something done, with nothing more to say.
    pub const fn new(at: Timestamp, done: Done) -> Self {
        Self { at, done, ml: None, clears_s: None, note: String::new() }
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
        clears_s: value["clears_s"].as_f64(),
        note: value["note"].as_str().unwrap_or_default().to_owned(),
    })
}

/// The events of a solution with one more; of one that has no record yet, that one alone.
pub fn events_with(known: Option<&Record>, deed: &Deed) -> Value {
    let mut events: Vec<Value> =
        known.map(|known| known.list("events").to_vec()).unwrap_or_default();
    let note = Some(deed.note.as_str()).filter(|note| !note.is_empty());
    let mut event = Map::new();
    for (key, value) in [
        ("at", deed.at.to_iso().into()),
        ("event", deed.done.name().into()),
        ("ml", deed.ml.into()),
        ("clears_s", deed.clears_s.into()),
        ("note", note.into()),
    ] {
        put(&mut event, key, value);
    }
    events.push(Value::Object(event));
    Value::Array(events)
}

/// The events of a solution without the last one, which was a slip.
pub fn events_without_last(solution: &Record) -> Value {
    let events = solution.list("events");
    Value::Array(events[..events.len().saturating_sub(1)].to_vec())
}

/// Why a solution may not be used, if it may not: nothing was mixed since something ruined it.
pub fn blocked(solution: &Record) -> Option<String> {
    let decides = |deed: &Deed| matches!(deed.done, Done::Mixed | Done::Blocked);
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
