//! Small pieces: props in, callbacks out. No part knows the store, a port or a clock.

pub mod el;
pub mod key;
pub mod pic;
pub mod scale;
pub mod shown;

pub use el::{
    Typed, alert, all, button, changing, el, el_as, el_at, el_with, fixed, input, live, made, mark,
    plain, press, timer, toggle, words,
};
pub use key::{key, key_more, key_resting};
pub use shown::{anew, either, said, shown, whether};
