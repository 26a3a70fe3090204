//! The harness itself, tried on a small page of its own.

mod doors;
mod measuring;
mod network;
mod real;
mod sounding;
mod time;
mod whole;

use std::path::PathBuf;

use crate::harness::scene::Scene;
use crate::harness::{Stage, run_on};

/// Runs a test of the small page that lies beside these tests.
fn run_fixture(scene: Scene, test: impl AsyncFnOnce(&mut Stage)) {
    run_on(fixture(), scene, test);
}

fn fixture() -> PathBuf {
    ::tests::repository().join("tests/browser/harness/tests/fixture")
}
