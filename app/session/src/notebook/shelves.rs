//! How a device keeps the notebook: each record a text, and each entry of a log a text of its own,
//! so that a tap is safe once one small text is written.

use serde_json::Value;

use super::canonical;
use super::kinds::Kind;
use super::record::Record;
use crate::order;

/// A text and its key.
pub type Text = (String, String);

/// The texts of a notebook.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Texts {
    /// Runs without their logs, by id.
    pub runs: Vec<Text>,
    /// Entries of logs, by run and place.
    pub entries: Vec<Text>,
    /// Every other record, by id.
    pub records: Vec<Text>,
}

/// The key of an entry.
pub fn entry_key(run: &str, seq: u32) -> String {
    format!("{run}/{seq:08}")
}

/// Entries of many runs, found without looking at all of them.
#[derive(Debug)]
pub struct Logs<T>(Vec<(String, T)>);

impl<T> Logs<T> {
    /// From entries with their keys, in any order.
    pub fn new(entries: Vec<(String, T)>) -> Self {
        Self(if entries.is_sorted_by(|(one, _), (next, _)| one <= next) {
            entries
        } else {
            order::by(entries, |(key, _)| key.clone())
        })
    }

    /// The entries of a run in the order of their keys.
    pub fn of(&self, run: &str) -> &[(String, T)] {
        let first = format!("{run}/");
        let begin = self.0.partition_point(|(key, _)| *key < first);
        let own = self.0.get(begin..).unwrap_or_default();
        own.get(..own.partition_point(|(key, _)| key.starts_with(&first))).unwrap_or_default()
    }
}

/// The records that `texts` hold, runs with their logs, and how many texts cannot be read.
pub fn gather(texts: &Texts) -> (Vec<Record>, usize) {
    let mut unreadable = 0;
    let mut entries: Vec<(String, Value)> = Vec::new();
    for (key, text) in &texts.entries {
        match serde_json::from_str(text) {
            Ok(entry) => entries.push((key.clone(), entry)),
            Err(_) => unreadable += 1,
        }
    }
    let entries = Logs::new(entries);
    let mut records = Vec::new();
    for (key, text) in &texts.runs {
        let log: Vec<Value> = entries.of(key).iter().map(|(_, entry)| entry.clone()).collect();
        // A run that was laid out and never begun is not worth a line.
        if log.is_empty() {
            continue;
        }
        let run =
            Record::from_text(text).map(|run| run.with("log", Value::Array(log)).into_value());
        match run.and_then(Record::from_value) {
            Ok(run) => records.push(run),
            Err(_) => unreadable += 1,
        }
    }
    for (_, text) in &texts.records {
        match Record::from_text(text) {
            Ok(record) => records.push(record),
            Err(_) => unreadable += 1,
        }
    }
    (records, unreadable)
}

/// The texts that keep `records`.
pub fn scatter(records: &[Record]) -> Texts {
    let mut texts = Texts::default();
    for record in records {
        let id = record.id().to_owned();
        if record.kind() != Kind::Run {
            texts.records.push((id, record.to_text()));
            continue;
        }
        let mut last = (None, 0);
        for entry in record.list("log") {
            let seq = entry.get("seq").and_then(Value::as_u64).unwrap_or_default();
            // Two windows may each have written an entry for one place: both are kept. Logs are in
            // the order of places.
            last = if last.0 == Some(seq) { (last.0, last.1 + 1) } else { (Some(seq), 0) };
            let key = entry_key(&id, u32::try_from(seq).unwrap_or(u32::MAX));
            let key = if last.1 == 0 { key } else { format!("{key}-{}", last.1) };
            texts.entries.push((key, canonical::text(entry)));
        }
        texts.runs.push((id, record.clone().with("log", Value::Null).to_text()));
    }
    texts
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::habits::Habits;
    use crate::notebook::RunRecord;
    use crate::plan::Plan;
    use crate::timestamp::Timestamp;

    #[test]
    fn a_notebook_is_the_same_after_it_was_taken_apart_and_put_together() {
        let now = Timestamp::from_milliseconds(1_795_000_000_000);
        let run = RunRecord::new("c3", "phone", Plan::shipped(&Habits::default(), 0), now);
        let at = now.to_iso();
        let log = json!([
            { "seq": 0, "at": at, "event": "started", "so": true, "later": [1] },
            { "seq": 1, "at": at, "event": "left" },
            { "seq": 1, "at": at, "event": "tank_emptied", "ms": 0 },
        ]);
        let roll = Record::new(Kind::Roll, "a1", "phone", now);
        let records = vec![run.record.with("log", log), roll];
        let texts = scatter(&records);
        assert_eq!((texts.runs.len(), texts.entries.len(), texts.records.len()), (1, 3, 1));
        assert_eq!(gather(&texts), (records, 0));
    }

    #[test]
    fn the_log_of_a_run_is_found_among_others_whose_ids_begin_alike() {
        let runs = ["a", "a-1", "a1", "b", "\u{e9}"];
        let entries = (0..3).rev().flat_map(|seq| runs.map(|run| (entry_key(run, seq), seq)));
        let logs = Logs::new(entries.collect());
        for run in runs {
            let own = logs.of(run).iter().map(|(_, seq)| *seq);
            assert_eq!(own.collect::<Vec<_>>(), [0, 1, 2], "{run}");
        }
        assert!(logs.of("c").is_empty() && logs.of("").is_empty());
    }

    #[test]
    fn what_cannot_be_read_is_counted_and_leaves_the_rest() {
        let text = |text: &str| ("a1".to_owned(), text.to_owned());
        let texts = Texts {
            runs: vec![text("{")],
            entries: vec![("a1/00000000".to_owned(), "{\"seq\":0}".to_owned()), text("no")],
            records: vec![text("[]")],
        };
        assert_eq!(gather(&texts), (Vec::new(), 3));
    }
}
