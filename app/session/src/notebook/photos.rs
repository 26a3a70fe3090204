//! Photos in a file of the notebook. They come from anybody: what is not a small JPEG that a roll
//! of the same file lists by the hash of its text is not taken.

use serde_json::{Map, Value};

use super::canonical;
use super::record::{Record, pairs};
use super::shelves::Text;
use crate::photos::{Photo, Place, all, key};
use crate::timestamp::Timestamp;

/// The longest text of a photo: about six million bytes of JPEG. One of this page is a tenth of it.
const MOST_SIGNS: usize = 8_000_000;
/// How a JPEG begins, the bytes FF D8 FF (ISO/IEC 10918-1: start of image, then a marker), in base64
/// (RFC 4648).
const JPEG: &str = "/9j/";

/// What a file says of photos.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Photos {
    /// Those that can be taken in: their keys, and JPEGs as base64.
    pub taken: Vec<Text>,
    /// How many its rolls list that are not in it.
    pub left_out: usize,
    /// How many are in it that cannot be taken in.
    pub unusable: usize,
}

/// The id of a photo: the SHA-256 of its base64, in hexadecimal.
pub fn id_of(base64: &str) -> String {
    canonical::sha_256(base64)
}

/// A line of a file for each of these photos, by their keys, that is among those that are shown.
pub(super) fn lines(shown: &[Photo], photos: &[Text]) -> Vec<String> {
    let mut lines = Vec::new();
    for photo in shown {
        if let Some((_, base64)) = photos.iter().find(|(key, _)| *key == photo.key)
            && let Some((roll, id)) = photo.key.split_once('/')
        {
            let line = [("id", id), ("jpeg_base64", base64), ("name", &photo.name), ("roll", roll)];
            lines.push(canonical::text(&pairs(&line)));
        }
    }
    lines
}

/// Takes the photos out of a file that has been read otherwise.
pub(super) fn read(file: &mut Map<String, Value>, records: &[Record], now: Timestamp) -> Photos {
    let mut listed = all(records, now, Place::Shown);
    let mut photos = Photos::default();
    if let Some(Value::Array(values)) = file.remove("photos") {
        for value in values {
            match take(value, &mut listed) {
                Some(taken) => photos.taken.push(taken),
                None => photos.unusable += 1,
            }
        }
    }
    photos.left_out = listed.len();
    photos
}

/// The photo of a file, if it is one of those that are listed: each is taken once.
fn take(mut value: Value, listed: &mut Vec<Photo>) -> Option<Text> {
    let base64 = value.get_mut("jpeg_base64").map(Value::take);
    let field = |field| value.get(field).and_then(Value::as_str);
    let (id, Some(Value::String(base64))) = (field("id")?, base64) else { return None };
    let of = key(field("roll")?, id);
    let place = listed.iter().position(|photo| photo.key == of)?;
    if !is_jpeg(&base64) || id_of(&base64) != id {
        return None;
    }
    Some((listed.swap_remove(place).key, base64))
}

/// Whether a text can be a JPEG as base64: it begins like one, is not too long, and is nothing else.
fn is_jpeg(base64: &str) -> bool {
    let is_sign = |sign: u8| sign.is_ascii_alphanumeric() || matches!(sign, b'+' | b'/' | b'=');
    base64.starts_with(JPEG) && base64.len() <= MOST_SIGNS && base64.bytes().all(is_sign)
}

#[cfg(test)]
mod tests {
    use super::super::file;
    use super::*;
    use crate::notebook::Kind;
    use crate::photos::{with, with_mark};

    fn now() -> Timestamp {
        Timestamp::from_milliseconds(1_795_000_000_000)
    }

    /// A roll that lists these photos.
    fn roll(photos: &[&str]) -> Record {
        let roll = Record::new(Kind::Roll, "r", "phone", now());
        photos.iter().fold(roll, |roll, base64| {
            let list = with(&roll, &id_of(base64), "a \"photo\" <b>.jpg");
            roll.with("photos", list)
        })
    }

    fn kept(base64: &str) -> Text {
        (key("r", &id_of(base64)), base64.to_owned())
    }

    #[test]
    fn a_file_with_photos_gives_them_back() {
        let photos = [kept("/9j/AAAA"), kept("/9j/BBBB")];
        let text = file::write_with(vec![roll(&["/9j/AAAA", "/9j/BBBB"])], &photos, now());
        let file = file::read(&text).unwrap();
        assert!(file.untouched && !text.contains("photos_left_out"));
        assert_eq!(file.photos.taken, photos);
        assert_eq!((file.photos.left_out, file.photos.unusable), (0, 0));
    }

    #[test]
    fn a_file_says_how_many_photos_it_leaves_out() {
        let rolls = vec![roll(&["/9j/AAAA", "/9j/BBBB"])];
        let text = file::write(rolls.clone(), now());
        assert!(text.contains("\"photos_left_out\":2,"), "{text}");
        assert_eq!(file::read(&text).unwrap().photos.left_out, 2);
        let text = file::write_with(rolls, &[kept("/9j/BBBB")], now());
        assert!(text.contains("\"photos_left_out\":1,"), "{text}");
        assert_eq!(file::read(&text).unwrap().photos.left_out, 1);
    }

    #[test]
    fn a_photo_that_was_removed_is_neither_in_the_file_nor_left_out() {
        let roll = roll(&["/9j/AAAA"]);
        let removed = with_mark(&roll, &kept("/9j/AAAA").0, Some(now()));
        let text = file::write_with(vec![roll.with("photos", removed)], &[kept("/9j/AAAA")], now());
        assert!(!text.contains("jpeg_base64") && !text.contains("left_out"), "{text}");
    }

    #[test]
    fn what_is_no_photo_of_a_roll_in_the_file_is_not_taken_and_the_rest_is() {
        let good = "/9j/AAAA";
        let evil = ["PGh0bWw+", "/9j/<script>", "R0lGODlh"];
        let mut listed = vec![good];
        listed.extend(evil);
        let mut photos = vec![kept(good)];
        photos.extend(evil.map(kept));
        let text = file::write_with(vec![roll(&listed)], &photos, now());
        let file = file::read(&text).unwrap();
        assert_eq!(file.photos.taken, [kept(good)]);
        assert_eq!((file.photos.left_out, file.photos.unusable), (3, 3));
        // A picture that is not the one that the roll lists.
        let other = text.replace(good, "/9j/CCCC");
        assert_eq!(file::read(&other).unwrap().photos.unusable, 4);
        // A photo of no roll, twice the same, and things that are no photos at all.
        let more = text.replace("\"photos\":[\n", "\"photos\":[7,{},{\"jpeg_base64\":[]},");
        assert_eq!(file::read(&more).unwrap().photos.unusable, 6);
        let long = format!("/9j/{}", "A".repeat(MOST_SIGNS));
        let text = file::write_with(vec![roll(&[&long])], &[kept(&long)], now());
        assert_eq!(file::read(&text).unwrap().photos.unusable, 1);
    }

    #[test]
    fn a_file_from_before_photos_were_kept_leaves_none_out() {
        let text = file::write(vec![Record::new(Kind::Roll, "r", "phone", now())], now());
        assert_eq!(file::read(&text).unwrap().photos, Photos::default());
    }
}
