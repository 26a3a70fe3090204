//! Photos of the negatives, on the page of their roll.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::Record;
use session::photos::{Place, last_removed, of};

use super::desk::{Line, Press, act};
use super::on_press;
use crate::parts::{button, el, el_with, fixed};
use crate::store::{Store, photos};
use crate::text;

/// The photos of a roll, and what can be done with them.
#[inline(never)]
pub fn on(store: Store, roll: &Record) -> Vec<Line> {
    store.fetch_photos(roll);
    let mut listed = of(roll, store.wall_now());
    let removed = last_removed(&listed).map(|photo| photo.key.clone());
    listed.retain(|photo| photo.place == Place::Shown);
    let known = store.photos.get();
    let mut lines = vec![Line::Heading("Photos of the negatives".to_owned())];
    let is_here = known.of == photos::version(roll);
    let is_large = is_here && !known.large.is_empty();
    if !listed.is_empty() && is_here {
        lines.push(pictures(known.clone()));
        lines.push(Line::Quiet(told(&known, listed.len())));
    }
    let (hinted, hint) = store.hint.get();
    if hinted == photos::HINT && !hint.is_empty() {
        lines.push(Line::Said(hint));
    }
    let mut keys = Vec::new();
    if is_large {
        keys.push(Press::new("CLOSE", act(|store| store.enlarge(String::new()))));
        keys.push(mark("REMOVE", "it can be undone", roll, known.large, true));
    } else if let Some(error) = store.not_kept() {
        let why = text::store_error(error).to_owned();
        lines.push(Line::Quiet(why + ". Photos cannot be kept."));
    } else {
        let id = roll.id().to_owned();
        let add = act(move |store| store.add_photos(id.clone()));
        keys.push(Press::new("ADD PHOTOS", add).more("camera or library"));
    }
    keys.extend(removed.map(|key| mark("UNDO", "bring back a removed photo", roll, key, false)));
    lines.push(Line::Keys(keys));
    lines
}

/// A key that removes a photo, or brings it back.
fn mark(says: &str, more: &str, roll: &Record, key: String, removed: bool) -> Press {
    let roll = roll.clone();
    Press::new(says, act(move |store| store.mark_photo(&roll, &key, removed))).more(more)
}

/// How many there are, how large they are, and how many are not here.
fn told(known: &photos::Photos, listed: usize) -> String {
    let here = known.shown.len();
    #[expect(clippy::cast_precision_loss, reason = "some megabytes")]
    let size = text::decimal(known.bytes as f64 / 1e6, 1);
    let mut told = [&text::photos::count(here), ", ", &size, " MB on this phone."].concat();
    if here < listed {
        told.push(' ');
        told.push_str(&text::photos::count(listed - here));
        told.push_str(" not on this phone: read in a file with photos.");
    }
    told
}

/// The photos that are here, small, each pressed to see it large; or the one that is large.
fn pictures(known: photos::Photos) -> Line {
    Line::View(Arc::new(move || {
        let mut all = Vec::new();
        let is_large = !known.large.is_empty();
        for (nth, (key, name, address)) in known.shown.iter().enumerate() {
            if is_large && *key != known.large {
                continue;
            }
            let name = ["Photo ", &(nth + 1).to_string(), ", ", name].concat();
            let says = [("src", address.clone()), ("alt", name)];
            let says = says.map(|(name, says)| (name, Signal::stored(says)));
            let picture = el_with("img", fixed("photo"), Vec::from(says), Vec::new());
            let key = key.clone();
            let enlarge = on_press(move |store| store.enlarge(key.clone()));
            all.push(if is_large {
                picture
            } else {
                button(fixed(""), Vec::new(), None, vec![picture], enlarge)
            });
        }
        el("div", if is_large { "" } else { "photos" }, all)
    }))
}
