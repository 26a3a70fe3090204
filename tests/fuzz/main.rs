//! Whatever it is given, nothing panics and nothing is lost: made-up input for so many seconds each.
//!
//! Ten seconds in a plain run, three minutes in a long one. What fails is made small and printed;
//! the number of tries is printed, too, because a second of a busy machine is no measure.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "tests that go on for so many seconds, and say how far they came"
)]

mod folding;
mod model;
mod reading;

use std::time::{Duration, Instant};

use proptest::strategy::Strategy;
use proptest::test_runner::{Config, TestCaseResult, TestRunner};

/// Tries `test` on what `strategy` makes until the time is up.
fn for_a_while<S: Strategy>(what: &str, strategy: &S, test: impl Fn(S::Value) -> TestCaseResult) {
    let seconds = if std::env::var_os("SINKSIDE_LONG").is_some() { 180 } else { 10 };
    let until = Instant::now() + Duration::from_secs(seconds);
    let mut tries = 0_u32;
    let config = Config { cases: 64, failure_persistence: None, ..Config::default() };
    while Instant::now() < until {
        // Each runner begins somewhere else.
        if let Err(failed) = TestRunner::new(config.clone()).run(strategy, &test) {
            panic!("{what}: {failed}");
        }
        tries += config.cases;
    }
    println!("{what}: {tries} tries in {seconds} s");
}

/// The notebook of the demonstration: every kind of record, and runs with their logs.
fn a_notebook() -> String {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../public/demo-notebook.json");
    std::fs::read_to_string(file).expect("the demonstration is there")
}
