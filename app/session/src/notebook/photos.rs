//! Photos in a file of the notebook. They come from anybody: what is not a small JPEG that a roll
//! of the same file lists by the hash of its text is not taken.

use serde_json::{Map, Value};

use super::record::{Record, pairs};
use super::shelves::Text;
use super::{Kind, canonical};
use crate::photos::{all, has, key, shown};
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

/// Those of these photos that the rolls among `records` show, a line of a file each.
pub(super) fn lines(records: &[Record], photos: &[Text]) -> Vec<String> {
    let mut lines = Vec::new();
    for roll in records.iter().filter(|_| !photos.is_empty()) {
        for (id, name) in shown(roll) {
            let of = key(roll.id(), &id);
            if let Some((_, base64)) = photos.iter().find(|(key, _)| *key == of) {
                let line =
                    [("id", &*id), ("jpeg_base64", base64), ("name", &name), ("roll", roll.id())];
                lines.push(canonical::text(&pairs(&line)));
            }
        }
    }
    lines
}

/// Takes the photos out of a file that has been read otherwise.
pub(super) fn read(file: &mut Map<String, Value>, records: &[Record], now: Timestamp) -> Photos {
    let mut photos = Photos { left_out: all(records, now).len(), ..Photos::default() };
    let Some(Value::Array(values)) = file.remove("photos") else { return photos };
    let rolls: Vec<&Record> = records.iter().filter(|record| record.kind() == Kind::Roll).collect();
    for mut value in values {
        let base64 = value.get_mut("jpeg_base64").map(Value::take);
        let Some(Value::String(base64)) = base64 else {
            photos.unusable += 1;
            continue;
        };
        let field = |field| value.get(field).and_then(Value::as_str).unwrap_or_default();
        let (roll, id) = (field("roll"), field("id"));
        let of = key(roll, id);
        let is_listed = rolls.iter().any(|record| record.id() == roll && has(record, id));
        let is_there = photos.taken.iter().any(|(key, _)| *key == of);
        if is_listed && !is_there && is_jpeg(&base64) && id_of(&base64) == id {
            photos.taken.push((of, base64));
        } else {
            photos.unusable += 1;
        }
    }
    let is_in = |of: &String| photos.taken.iter().any(|(key, _)| key == of);
    photos.left_out = all(records, now).iter().filter(|of| !is_in(of)).count();
    photos
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
    use crate::photos::with;

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
        let removed = crate::photos::marked(&roll, &id_of("/9j/AAAA"), Some(now()));
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
