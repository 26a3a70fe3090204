//! What the person sees, hears and touches: the shipped bundle in a real browser.
//!
//! How such a test is written stands at the head of [`harness`].

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a failed expectation is a failed test, in the helpers too"
)]

mod harness;
mod taps;
mod whole_run;
