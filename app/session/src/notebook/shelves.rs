//! How a device keeps the notebook: each record a text, and each entry of a log a text of its own,
//! so that a tap is safe once one small text is written.
//!
//! The log of a run that came in a file is one text: a notebook of years is read in, opened and written
//! out several times faster so. What comes to it later stands beside it, entry by entry.

use serde_json::Value;

use super::canonical;
use super::kinds::Kind;
use super::merge::union_of_logs;
use super::record::Record;
use crate::order;

/// A text and its key.
pub type Text = (String, String);

/// The texts of a notebook.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Texts {
    /// Runs without their logs, by id.
    pub runs: Vec<Text>,
    /// Whole logs, by run.
    pub logs: Vec<Text>,
    /// Single entries of logs, by run and place.
    pub entries: Vec<Text>,
    /// Every other record, by id.
    pub records: Vec<Text>,
}

/// The key of an entry.
pub fn entry_key(run: &str, seq: u32) -> String {
    format!("{run}/{seq:08}")
}

/// The logs of many runs, found without looking at all of them.
#[derive(Debug, Default)]
pub struct Logs {
    whole: Vec<(String, Value)>,
    single: Vec<(String, Value)>,
}

impl Logs {
    /// The logs in these texts, and the texts that cannot be read.
    pub fn read(whole: &[Text], single: &[Text]) -> (Self, Vec<Text>) {
        let mut unreadable = Vec::new();
        let mut values = |texts: &[Text], is_one: fn(&Value) -> bool| {
            let mut all = Vec::with_capacity(texts.len());
            for (key, text) in texts {
                let value = read(text);
                if is_one(&value) {
                    all.push((key.clone(), value));
                } else {
                    unreadable.push((key.clone(), text.clone()));
                }
            }
            // Mostly they are in that order already.
            if all.is_sorted_by(|(one, _), (next, _)| one <= next) {
                all
            } else {
                order::by(all, |(key, _)| key.clone())
            }
        };
        let whole = values(whole, Value::is_array);
        let single = values(single, |value| !value.is_null());
        (Self { whole, single }, unreadable)
    }

    /// The entries of a run, each once, in the order of their places. What was taken is gone.
    pub fn take(&mut self, run: &str) -> Vec<Value> {
        let first = format!("{run}/");
        let begin = self.single.partition_point(|(key, _)| *key < first);
        let single = self.single.iter_mut().skip(begin);
        let single = single.take_while(|(key, _)| key.starts_with(&first));
        let single: Vec<Value> = single.map(|(_, entry)| entry.take()).collect();
        let place = self.whole.binary_search_by(|(of, _)| of.as_str().cmp(run)).ok();
        let whole = place.and_then(|place| self.whole.get_mut(place));
        let Some(Value::Array(whole)) = whole.map(|(_, log)| log.take()) else { return single };
        if single.is_empty() { whole } else { union_of_logs(&whole, &single) }
    }
}

/// The value in `text`; null if there is none.
fn read(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_default()
}

/// The records that `texts` hold, runs with their logs, and how many texts cannot be read.
pub fn gather(texts: &Texts) -> (Vec<Record>, usize) {
    let (mut logs, unreadable) = Logs::read(&texts.logs, &texts.entries);
    let mut unreadable = unreadable.len();
    let mut records = Vec::new();
    for (key, text) in &texts.runs {
        let log = logs.take(key);
        // A run that was laid out and never begun is not worth a line.
        if log.is_empty() {
            continue;
        }
        let mut run = read(text);
        if let Some(fields) = run.as_object_mut() {
            fields.insert("log".to_owned(), Value::Array(log));
        }
        match Record::from_value(run) {
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
        if let Some(log) = record.value("log") {
            texts.logs.push((id.clone(), canonical::text(log)));
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
        let mut texts = scatter(&records);
        let count = |texts: &Texts| [&texts.runs, &texts.logs, &texts.records].map(Vec::len);
        assert_eq!((count(&texts), texts.entries.len()), ([1, 1, 1], 0));
        assert_eq!(gather(&texts), (records.clone(), 0));
        // The same, kept entry by entry; and with entries that are in the whole log, too.
        texts.entries = singles("c3", records[0].list("log"));
        assert_eq!(gather(&texts), (records.clone(), 0));
        texts.logs.clear();
        assert_eq!(gather(&texts), (records, 0));
    }

    /// A log as it is kept while a run goes on.
    fn singles(run: &str, log: &[Value]) -> Vec<Text> {
        let mut texts: Vec<Text> = Vec::new();
        for entry in log {
            let seq = entry["seq"].as_u64().and_then(|seq| u32::try_from(seq).ok());
            let key = entry_key(run, seq.unwrap());
            let twice = texts.iter().any(|(of, _)| *of == key);
            texts.push((if twice { format!("{key}-1") } else { key }, canonical::text(entry)));
        }
        texts
    }

    #[test]
    fn the_log_of_a_run_is_found_among_others_whose_ids_begin_alike() {
        let runs = ["a", "a-1", "a1", "b", "\u{e9}"];
        let text = |seq: u32| json!({ "seq": seq }).to_string();
        let entries = (0..3).rev().flat_map(|seq| runs.map(|run| (entry_key(run, seq), text(seq))));
        let whole = runs.map(|run| (run.to_owned(), format!("[{},{}]", text(0), text(7))));
        let entries: Vec<Text> = entries.collect();
        let none: &[Text] = &[];
        for (whole, log) in [(none, vec![0, 1, 2]), (&whole, vec![0, 1, 2, 7])] {
            let (mut logs, unreadable) = Logs::read(whole, &entries);
            assert!(unreadable.is_empty());
            let log: Vec<_> = log.into_iter().map(|seq| json!({ "seq": seq })).collect();
            for run in runs {
                assert_eq!(logs.take(run), log, "{run}");
            }
            assert!(logs.take("c").is_empty() && logs.take("").is_empty());
        }
    }

    #[test]
    fn what_cannot_be_read_is_counted_and_leaves_the_rest() {
        let text = |text: &str| ("a1".to_owned(), text.to_owned());
        let texts = Texts {
            runs: vec![text("{")],
            logs: vec![text("[{}")],
            entries: vec![("a1/00000000".to_owned(), "{\"seq\":0}".to_owned()), text("no")],
            records: vec![text("[]")],
        };
        assert_eq!(gather(&texts), (Vec::new(), 4));
    }
}
