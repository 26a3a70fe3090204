//! What the chemistry and the water do.
//!
//! Pure functions and plain data: no browser, no clock, no file, no serialisation.
//! Every number that came from print stands beside its [`source::Source`];
//! `tests/references` holds it against the printed one.
//! In reading order: the quantities, where numbers come from, how a tank is moved,
//! how much film a roll is, and the process sheets that we ship.

pub mod quantity;
pub mod source;

pub mod agitation;
pub mod film;
pub mod sheet;
