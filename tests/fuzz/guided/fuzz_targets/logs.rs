//! No log makes a run, its view or its cues panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use session::habits::Habits;
use session::notebook::entry_from_json;
use session::plan::Plan;
use session::{Run, cues, view};

fuzz_target!(|text: &str| {
    let log: Vec<_> = text.lines().filter_map(|line| entry_from_json(line).ok()).collect();
    let Some(now) = log.iter().map(|entry| entry.at).max() else { return };
    let run = Run::replay(Plan::shipped(&Habits::default(), 0), log);
    let seen = view(&run, now);
    assert!(seen.step.is_none_or(|step| step < run.plan.steps.len()));
    assert!(cues(&run, now, now.plus_ms(600_000)).len() < 10_000);
    assert_eq!(Run::replay(run.plan.clone(), run.log.clone()), run);
});
