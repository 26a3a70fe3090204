//! `cargo run -q -p tests --bin references -- FILE…` runs files of cases against the model.
//!
//! Prints each failing case with what was expected and found, ends with a count, and fails if any
//! case did.

use std::io::{self, Write as _};
use std::process::ExitCode;

use tests::references::cases;

fn main() -> ExitCode {
    let mut out = io::stdout().lock();
    let (mut passed, mut failed) = (0, 0);
    for path in std::env::args().skip(1) {
        match std::fs::read_to_string(&path) {
            Ok(text) => {
                let outcome = cases::run(&text);
                passed += outcome.passed;
                failed += outcome.failed.len();
                for fault in outcome.failed {
                    let _ = writeln!(out, "{path}: {fault}");
                }
            }
            Err(error) => {
                failed += 1;
                let _ = writeln!(out, "{path}: {error}");
            }
        }
    }
    let _ = writeln!(out, "{passed} passed, {failed} failed");
    if failed == 0 && passed > 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
