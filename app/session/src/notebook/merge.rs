//! Two notebooks become one, the same one whichever comes first.
//!
//! A record is a set of versions and a set of marks of versions that were edited further. Both
//! sets only grow, and what is shown follows from them: the greatest version wins, one whose mark
//! is known is merely older, the others are conflicts. So a merge is commutative, associative and
//! idempotent, and a file carried from phone to phone and back loses nothing.

use serde_json::Value;

use super::canonical;
use super::kinds::Kind;
use super::record::{Record, list, mark_of, put, sorted};
use crate::order;

/// What two records of one id are together.
///
/// Records of different kinds or ids are never merged; `one` is given back then.
pub fn merge(one: &Record, other: &Record) -> Record {
    if one.kind() != other.kind() || one.id() != other.id() {
        return one.clone();
    }
    let mut versions = Vec::new();
    let mut marks = Vec::new();
    for record in [one, other] {
        marks.extend(record.parents());
        gather(record.kind(), record.version(), &mut versions);
        for conflict in record.conflicts() {
            gather(record.kind(), conflict.clone(), &mut versions);
        }
    }
    let mut versions = order::unique(versions);
    // There are at least the two versions that were put in.
    let Some(Value::Object(mut fields)) = versions.pop() else { return one.clone() };
    versions.retain(|version| !marks.contains(&mark_of(version)));
    let conflicts = order::by(versions, canonical::text);
    put(&mut fields, "parents", list(sorted(marks)));
    let none = conflicts.is_empty();
    put(&mut fields, "conflicts", if none { Value::Null } else { Value::Array(conflicts) });
    if one.value("log").is_some() || other.value("log").is_some() {
        let log = union_of_logs(one.list("log"), other.list("log"));
        put(&mut fields, "log", Value::Array(log));
    }
    Record::of_version(one.kind(), Value::Object(fields))
}

/// Puts a version, and versions that somebody nested in it, with its rank: higher revision, then
/// later edit, then device, then bytes wins.
fn gather(kind: Kind, version: Value, into: &mut Vec<(String, Value)>) {
    let record = Record::of_version(kind, version);
    for nested in record.conflicts() {
        gather(kind, nested.clone(), into);
    }
    let version = record.version();
    // The sign is moved, so that texts are in the order of the instants.
    let edited = record.edited_at().milliseconds().cast_unsigned() ^ (1 << 63);
    let rank = [order::number(record.rev()), order::number(edited), record.device().to_owned()];
    into.push((rank.join("\0") + "\0" + &canonical::text(&version), version));
}

/// Every entry of either log once, in the order of their places.
pub(super) fn union_of_logs(one: &[Value], other: &[Value]) -> Vec<Value> {
    let place = |entry: &Value| entry.get("seq").and_then(Value::as_u64).unwrap_or(u64::MAX);
    let entries = one
        .iter()
        .chain(other)
        .map(|entry| (order::number(place(entry)) + &canonical::text(entry), entry.clone()));
    order::unique(entries.collect())
}

#[cfg(test)]
mod tests;
