//! Small pieces: props in, callbacks out. No part knows the store, a port or a clock.

pub mod key;
pub mod pic;
pub mod scale;
pub mod shown;

pub use key::Key;
pub use shown::{anew, either, said, shown};
