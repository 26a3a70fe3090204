//! What the chemistry and the water do.
//!
//! Pure functions and plain data: no browser, no clock, no file, no serialisation.
//! Every number that came from print stands beside its [`source::Source`];
//! `tests/references` holds it against the printed one.
//! In reading order: the quantities, where numbers come from, how a tank is moved,
//! how much film a roll is, and the process sheets that we ship; then how a tub and its bottles warm
//! and what readings say about them.

pub mod quantity;
pub mod refused;
pub mod source;

pub mod agitation;
pub mod film;
pub mod sheet;

mod draws;
mod linear;

pub mod advice;
pub mod estimate;
pub mod tub;
pub mod vessel;
pub mod water;

pub mod development;
pub mod hands;
pub mod mixing;
pub mod printed;
pub mod push;
pub mod solution;
pub mod wash;
