//! What is written down: rolls, sheets, settings, practice, and the file of it all.

mod after;
mod beside;
mod between;
mod bottles;
mod demo;
mod files;
mod formats;
pub mod many_rolls;
mod paper;
pub mod photos;
mod practice;
mod roll_page;
mod rolls;
mod settings;
mod sheets;
mod shelf;
mod taps;
mod trials;
