//! Small pieces: props in, callbacks out. No part knows the store, a port or a clock.

pub mod key;
pub mod pic;
pub mod scale;

pub use key::Key;
