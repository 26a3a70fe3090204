//! What is typed and pasted that is no temperature, and what lies in storage that is no record.

mod records;
mod typing;
