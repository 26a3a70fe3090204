//! Somebody who has never developed a film opens the page, with nobody beside them.

mod first_start;
mod installing;
mod reading;
