//! What goes wrong with a phone in the middle of a run, and what the person sees and hears of it.

mod breaking;
mod clocks;
mod coming_back;
mod connection;
mod damaged;
mod discarded;
mod keeping;
mod killed;
mod reading_in;
mod screen;
mod sound;
mod storage;
mod updates;
mod voice;
