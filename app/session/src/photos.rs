//! Photos of negatives: what a roll says of them. The pictures themselves are kept apart from the
//! records, so that lists of rolls stay quick.

use crate::notebook::{Kind, Record, Value, pairs};
use crate::rolls::{DAY_MS, Fact, KEPT_DAYS, days_left};
use crate::timestamp::Timestamp;

/// Under what a photo of a roll is kept. What a roll keeps begins with its id and a stroke.
pub fn key(roll: &str, photo: &str) -> String {
    [roll, "/", photo].concat()
}

/// The photos of a roll, id and name of each, in the order in which they were added; those that
/// were removed left out.
pub fn shown(roll: &Record) -> Vec<Fact> {
    let there = roll.list("photos").iter().filter(|photo| removed_at(photo).is_none());
    there.map(|photo| (text(photo, "id").to_owned(), text(photo, "name").to_owned())).collect()
}

/// Whether a roll lists a photo, removed or not.
pub fn has(roll: &Record, id: &str) -> bool {
    roll.list("photos").iter().any(|photo| text(photo, "id") == id)
}

/// The list of a roll with one photo more. One that was removed comes back.
pub fn with(roll: &Record, id: &str, name: &str) -> Value {
    if has(roll, id) {
        return marked(roll, id, None);
    }
    let mut list = roll.list("photos").to_vec();
    list.push(pairs(&[("id", id), ("name", name)]));
    Value::Array(list)
}

/// The list of a roll with one photo removed at an instant, or brought back.
pub fn marked(roll: &Record, id: &str, removed_at: Option<Timestamp>) -> Value {
    let mut list = roll.list("photos").to_vec();
    for photo in list.iter_mut().filter(|photo| text(photo, "id") == id) {
        if let Some(fields) = photo.as_object_mut() {
            fields.remove("removed_at");
            if let Some(at) = removed_at {
                fields.insert("removed_at".to_owned(), at.to_iso().into());
            }
        }
    }
    Value::Array(list)
}

/// The photo of a roll that was removed last, if it can still be brought back.
pub fn last_removed(roll: &Record, now: Timestamp) -> Option<String> {
    let removed = roll.list("photos").iter().filter_map(|photo| Some((removed_at(photo)?, photo)));
    let mut last = None;
    for (at, photo) in removed.filter(|(at, _)| !is_gone(*at, now)) {
        if last.is_none_or(|(before, _)| at >= before) {
            last = Some((at, photo));
        }
    }
    last.map(|(_, photo)| text(photo, "id").to_owned())
}

/// The keys of the photos that are gone for good: removed, or put aside with their roll, so long ago
/// that nothing brings them back.
pub fn gone(records: &[Record], now: Timestamp) -> Vec<String> {
    let mut gone = Vec::new();
    for roll in records.iter().filter(|record| record.kind() == Kind::Roll) {
        let is_roll_gone = is_away(roll, now);
        for photo in roll.list("photos") {
            if is_roll_gone || removed_at(photo).is_some_and(|at| is_gone(at, now)) {
                gone.push(key(roll.id(), text(photo, "id")));
            }
        }
    }
    gone
}

/// The keys of the photos that rolls show, or will show again once they are brought back: what a
/// file would hold that leaves none out.
pub fn all(records: &[Record], now: Timestamp) -> Vec<String> {
    let rolls = records.iter().filter(|record| record.kind() == Kind::Roll);
    let there = rolls.filter(|roll| !is_away(roll, now));
    there.flat_map(|roll| shown(roll).into_iter().map(|(id, _)| key(roll.id(), &id))).collect()
}

/// Whether a roll was put aside so long ago that nothing brings it back.
fn is_away(roll: &Record, now: Timestamp) -> bool {
    roll.is_deleted() && days_left(roll, now).is_none()
}

fn is_gone(removed_at: Timestamp, now: Timestamp) -> bool {
    now.since_ms(removed_at) >= KEPT_DAYS * DAY_MS
}

fn removed_at(photo: &Value) -> Option<Timestamp> {
    Timestamp::from_iso(text(photo, "removed_at"))
}

fn text<'a>(photo: &'a Value, field: &str) -> &'a str {
    photo.get(field).and_then(Value::as_str).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(days: i64) -> Timestamp {
        Timestamp::from_milliseconds(1_795_000_000_000 + days * DAY_MS)
    }

    fn roll() -> Record {
        let roll = Record::new(Kind::Roll, "r", "phone", at(0));
        let roll = roll.clone().with("photos", with(&roll, "a", "first.jpg"));
        roll.clone().with("photos", with(&roll, "b", "second.jpg"))
    }

    fn without(roll: &Record, id: &str, day: i64) -> Record {
        roll.clone().with("photos", marked(roll, id, Some(at(day))))
    }

    fn ids(roll: &Record) -> Vec<String> {
        shown(roll).into_iter().map(|(id, _)| id).collect()
    }

    #[test]
    fn a_photo_that_was_removed_comes_back_in_its_place() {
        let removed = without(&roll(), "a", 1);
        assert_eq!(ids(&removed), ["b"]);
        assert_eq!(last_removed(&removed, at(2)).as_deref(), Some("a"));
        let back = removed.clone().with("photos", marked(&removed, "a", None));
        assert_eq!(back, roll());
        // Adding the same picture again brings it back, too.
        assert_eq!(removed.clone().with("photos", with(&removed, "a", "again.jpg")), roll());
    }

    #[test]
    fn of_two_that_were_removed_the_later_comes_back_first() {
        let removed = without(&without(&roll(), "b", 2), "a", 1);
        assert_eq!(last_removed(&removed, at(3)).as_deref(), Some("b"));
        assert_eq!(last_removed(&roll(), at(3)), None);
    }

    #[test]
    fn a_photo_is_gone_thirty_days_after_it_was_removed_and_not_before() {
        let removed = [without(&roll(), "a", 1)];
        assert!(gone(&removed, at(30)).is_empty());
        assert_eq!(gone(&removed, at(31)), ["r/a"]);
        assert_eq!(last_removed(&removed[0], at(31)), None);
        assert_eq!(all(&removed, at(31)), ["r/b"]);
    }

    #[test]
    fn photos_go_with_their_roll_and_stay_as_long_as_it_can_come_back() {
        let aside = [roll().edited("phone", at(0), [("deleted", true.into())])];
        assert!(gone(&aside, at(29)).is_empty());
        assert_eq!(all(&aside, at(29)), ["r/a", "r/b"]);
        assert_eq!(gone(&aside, at(30)), ["r/a", "r/b"]);
        assert!(all(&aside, at(30)).is_empty());
    }

    #[test]
    fn what_another_version_says_of_a_photo_is_kept() {
        let mut photo = pairs(&[("id", "a"), ("name", "x")]);
        photo["later"] = 7.into();
        let roll = Record::new(Kind::Roll, "r", "phone", at(0)).with("photos", vec![photo]);
        assert_eq!(marked(&roll, "a", Some(at(1)))[0]["later"], 7);
    }
}
