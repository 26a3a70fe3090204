//! What is written down: rolls, sheets, settings, practice, and the file of it all.

mod beside;
mod between;
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
