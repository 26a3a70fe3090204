//! What is written down: rolls, sheets, settings, practice, and the file of it all.

mod demo;
mod files;
mod practice;
mod rolls;
mod settings;
mod sheets;
mod shelf;
mod taps;
mod trials;
