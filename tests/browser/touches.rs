//! Water on the screen, wet fingers, slips, and keys.

mod keys;
mod second_thoughts;
mod slips;
mod water;
