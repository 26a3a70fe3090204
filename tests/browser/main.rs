//! What the person sees, hears and touches: the shipped bundle in a real browser.
//!
//! How such a test is written stands at the head of [`harness`].

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a failed expectation is a failed test, in the helpers too"
)]

mod access;
mod bad_input;
mod drift;
mod faults;
mod harness;
#[path = "../bench/measured.rs"]
mod measured;
mod newcomer;
mod notebook;
mod numbers;
mod offline;
mod own;
mod security;
mod sizes;
mod sound;
mod steps;
mod tempering;
mod touches;
mod tour;
mod whole_run;
mod windows;
