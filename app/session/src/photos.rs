//! Photos of negatives: what a roll says of them. The pictures themselves are kept apart from the
//! records, so that lists of rolls stay quick.

use crate::notebook::{Kind, Record, Value, pairs};
use crate::rolls::{DAY_MS, KEPT_DAYS, days_left};
use crate::timestamp::Timestamp;

/// Where a photo is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// On its roll.
    Shown,
    /// Removed, but it can come back.
    Removed(Timestamp),
    /// Gone for good: removed, or put aside with its roll, so long ago that nothing brings it back.
    Gone,
}

/// A photo as its roll lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Photo {
    /// Under what the picture is kept: the roll's id, a stroke, and the photo's.
    pub key: String,
    /// What its file was called.
    pub name: String,
    /// Where it is.
    pub place: Place,
}

/// Under what a photo of a roll is kept. What a roll keeps begins with its id and a stroke.
pub fn key(roll: &str, photo: &str) -> String {
    [roll, "/", photo].concat()
}

/// Every photo that a roll lists, in the order in which they were added.
#[inline(never)]
pub fn of(roll: &Record, now: Timestamp) -> Vec<Photo> {
    let is_roll_gone = roll.is_deleted() && days_left(roll, now).is_none();
    let mut photos = Vec::new();
    for photo in roll.list("photos") {
        let place = match Timestamp::from_iso(text(photo, "removed_at")) {
            _ if is_roll_gone => Place::Gone,
            None => Place::Shown,
            Some(at) if now.since_ms(at) < KEPT_DAYS * DAY_MS => Place::Removed(at),
            Some(_) => Place::Gone,
        };
        let (key, name) = (key(roll.id(), text(photo, "id")), text(photo, "name").to_owned());
        photos.push(Photo { key, name, place });
    }
    photos
}

/// The photos in one place of all rolls among `records`. Those that are shown are what a file would
/// hold that leaves none out.
#[inline(never)]
pub fn all(records: &[Record], now: Timestamp, place: Place) -> Vec<Photo> {
    let mut photos = Vec::new();
    for record in records {
        if record.kind() == Kind::Roll {
            photos.extend(of(record, now));
        }
    }
    photos.retain(|photo| photo.place == place);
    photos
}

/// The photo of a roll that was removed last, if it can still be brought back.
pub fn last_removed(photos: &[Photo]) -> Option<&Photo> {
    let mut last = None;
    for photo in photos {
        if let Place::Removed(at) = photo.place
            && last.is_none_or(|(before, _)| at >= before)
        {
            last = Some((at, photo));
        }
    }
    last.map(|(_, photo)| photo)
}

/// The list of a roll with one photo more. One that was removed comes back.
pub fn with(roll: &Record, id: &str, name: &str) -> Value {
    let mut list = roll.list("photos").to_vec();
    if !list.iter().any(|photo| text(photo, "id") == id) {
        list.push(pairs(&[("id", id), ("name", name)]));
    }
    marked(list, roll.id(), &key(roll.id(), id), None)
}

/// The list of a roll with one photo, by its key, removed at an instant, or brought back.
pub fn with_mark(roll: &Record, key: &str, removed_at: Option<Timestamp>) -> Value {
    marked(roll.list("photos").to_vec(), roll.id(), key, removed_at)
}

fn marked(mut list: Vec<Value>, roll: &str, of: &str, removed_at: Option<Timestamp>) -> Value {
    for photo in &mut list {
        let is_it = key(roll, text(photo, "id")) == of;
        if let Some(fields) = photo.as_object_mut().filter(|_| is_it) {
            fields.remove("removed_at");
            if let Some(at) = removed_at {
                fields.insert("removed_at".to_owned(), at.to_iso().into());
            }
        }
    }
    Value::Array(list)
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

    fn without(roll: &Record, key: &str, day: i64) -> Record {
        roll.clone().with("photos", with_mark(roll, key, Some(at(day))))
    }

    fn last(roll: &Record, day: i64) -> Option<String> {
        last_removed(&of(roll, at(day))).map(|photo| photo.key.clone())
    }

    #[track_caller]
    fn are(records: &[Record], day: i64, place: Place, keys: &[&str]) {
        let there = all(records, at(day), place);
        assert_eq!(there.into_iter().map(|photo| photo.key).collect::<Vec<_>>(), keys);
    }

    #[test]
    fn a_photo_that_was_removed_comes_back_in_its_place() {
        let removed = without(&roll(), "r/a", 1);
        are(std::slice::from_ref(&removed), 2, Place::Shown, &["r/b"]);
        assert_eq!(last(&removed, 2).as_deref(), Some("r/a"));
        let back = removed.clone().with("photos", with_mark(&removed, "r/a", None));
        assert_eq!(back, roll());
        // Adding the same picture again brings it back, too.
        assert_eq!(removed.clone().with("photos", with(&removed, "a", "again.jpg")), roll());
    }

    #[test]
    fn of_two_that_were_removed_the_later_comes_back_first() {
        let removed = without(&without(&roll(), "r/b", 2), "r/a", 1);
        assert_eq!(last(&removed, 3).as_deref(), Some("r/b"));
        assert_eq!(last(&roll(), 3), None);
    }

    #[test]
    fn a_photo_is_gone_thirty_days_after_it_was_removed_and_not_before() {
        let removed = [without(&roll(), "r/a", 1)];
        are(&removed, 30, Place::Gone, &[]);
        are(&removed, 31, Place::Gone, &["r/a"]);
        assert_eq!(last(&removed[0], 31), None);
        are(&removed, 31, Place::Shown, &["r/b"]);
    }

    #[test]
    fn photos_go_with_their_roll_and_stay_as_long_as_it_can_come_back() {
        let aside = [roll().edited("phone", at(0), [("deleted", true.into())])];
        are(&aside, 29, Place::Gone, &[]);
        are(&aside, 29, Place::Shown, &["r/a", "r/b"]);
        are(&aside, 30, Place::Gone, &["r/a", "r/b"]);
        are(&aside, 30, Place::Shown, &[]);
    }

    #[test]
    fn what_another_version_says_of_a_photo_is_kept() {
        let mut photo = pairs(&[("id", "a"), ("name", "x")]);
        photo["later"] = 7.into();
        let roll = Record::new(Kind::Roll, "r", "phone", at(0)).with("photos", vec![photo]);
        assert_eq!(with_mark(&roll, "r/a", Some(at(1)))[0]["later"], 7);
    }
}
