//! Logs nobody made: every entry that can be read, in any order, at any time.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use serde_json::{Value, json};
use session::habits::Habits;
use session::notebook::{RunRecord, entry_from_json, entry_to_json, log_of};
use session::plan::Plan;
use session::timestamp::Timestamp;
use session::{Entry, Run, cues, decide, view};

use crate::for_a_while;

const EVENTS: [&str; 23] = [
    "started",
    "tank_emptied",
    "filled",
    "lead_in_restarted",
    "back_dated",
    "chosen",
    "judged",
    "read",
    "reading_corrected",
    "fault_noted",
    "words_changed",
    "undone",
    "redone",
    "away",
    "clock_set",
    "left",
    "water_swapped",
    "bottle_moved",
    "reading_dropped",
    "went_dark",
    "lights_on",
    "time_chosen",
    "found_in_tank",
];
const CHOICES: [&str; 14] = [
    "with",
    "without",
    "still_tinted",
    "clear",
    "light",
    "spilled",
    "poured_late",
    "forgot_agitation",
    "all",
    "few",
    "tones",
    "asleep",
    "closed",
    "away",
];
const FIRST_MS: i64 = 1_773_480_000_000;

fn number() -> impl Strategy<Value = i64> {
    prop_oneof![
        4 => -5_000..600_000_i64,
        1 => select(vec![0, 1, -1, i64::MAX, i64::MIN, i64::from(u32::MAX), 2_147_483_648, 8_640_000_000_000_000]),
    ]
}

/// An entry as a file would have it, if a file would have it.
fn entry() -> impl Strategy<Value = (i64, Value)> {
    let of = prop_oneof![4 => 0..30_i64, 1 => number()];
    let time = prop_oneof![8 => 0..120_000_i64, 1 => -10_000..0_i64, 1 => 0..40_000_000_i64];
    let warm = prop_oneof![4 => 15.0..45.0_f64, 1 => any::<f64>()];
    let bottle = select(vec!["developer", "bleach_fix", "stabiliser", "wash"]);
    let place = select(vec!["tub", "in_the_tank", "bottle"]);
    let what = (select(EVENTS.to_vec()), select(CHOICES.to_vec()), place, bottle, any::<bool>());
    (time, what, number(), of, warm).prop_map(|(later, what, ms, of, celsius)| {
        let (event, choice, place, bottle, so) = what;
        let value = json!({
            "event": event, "choice": choice, "place": place, "bottle": bottle, "so": so, "ms": ms,
            "of": of, "celsius": celsius, "drain_ml": of, "add_ml": of, "step": of,
        });
        (later, value)
    })
}

fn log_from(all: Vec<(i64, Value)>) -> Vec<Entry> {
    let mut at = FIRST_MS;
    let mut log = Vec::new();
    for (later, mut value) in all {
        at += later;
        value["at"] = Timestamp::from_milliseconds(at).to_iso().into();
        value["seq"] = log.len().into();
        if let Ok(entry) = entry_from_json(&value.to_string()) {
            log.push(entry);
        }
    }
    log
}

#[test]
fn no_log_makes_the_run_panic_and_the_same_log_is_the_same_run() {
    let plan = Plan::shipped(&Habits::default(), 0);
    let started = json!({ "event": "started", "so": false });
    let any_log =
        (vec(entry(), 0..60), any::<bool>(), vec((any::<Index>(), -20_000..700_000_i64), 1..6));
    for_a_while("logs", &any_log, |(mut all, begins, looks)| {
        if begins {
            all.insert(0, (0, started.clone()));
        }
        let log = log_from(all);
        let run = Run::replay(plan.clone(), log.iter().cloned());
        prop_assert_eq!(run.log.len(), log.len(), "no entry is lost");
        for (which, later) in looks {
            let near = log
                .get(which.index(log.len().max(1)))
                .map_or(FIRST_MS, |entry| entry.at.milliseconds());
            let now = Timestamp::from_milliseconds(near + later);
            let seen = view(&run, now);
            let _ = (seen.scene.left(), seen.scene.state_word(), run.is_filling(now));
            let heard = cues(&run, now, now.plus_ms(900_000));
            prop_assert!(heard.windows(2).all(|two| two[0].at <= two[1].at), "in order");
            prop_assert!(heard.iter().all(|cue| (now..now.plus_ms(900_000)).contains(&cue.at)));
            let _ = decide(&run, session::Command::Undo, now);
        }
        // It goes out and comes back.
        let record =
            RunRecord::new("run", "phone", plan.clone(), Timestamp::from_milliseconds(FIRST_MS));
        let back: Vec<Entry> = log_of(&record.with_log(&run.log)).into_iter().flatten().collect();
        let texts = |log: &[Entry]| -> Vec<String> { log.iter().map(entry_to_json).collect() };
        prop_assert_eq!(texts(&back), texts(&run.log));
        prop_assert_eq!(
            Run::replay(plan.clone(), back).state,
            Run::replay(plan.clone(), run.log.clone()).state
        );
        Ok(())
    });
}
