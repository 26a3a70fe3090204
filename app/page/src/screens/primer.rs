//! What there is to read before a first roll: the whole job, loading, words, cautions, the phone.
//!
//! The texts are fetched when they are looked at, and are shown as texts and nothing else.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::primer::{HEADING, MARK, PARAGRAPHS, Section};

use super::desk::{Line, Press, desk, to};
use super::{on_press, store};
use crate::parts::pic::{drawing, line};
use crate::parts::{el, key, made, words as words_of};
use crate::route::Route;
use crate::store::Store;

/// The parts: in the address and in the file, as a heading, and a line about them.
const PARTS: [(&str, &str, &str); 5] = [
    ("job", "The whole job", "in two pages"),
    ("loading", "Practise loading", "in daylight, with a spoiled film"),
    ("words", "Words", "of the trade, and of this page"),
    ("cautions", "Cautions", "and where they are from"),
    ("phone", "The phone", "home screen, sound, clear bag"),
];

/// A part, as a screen that leads back to where it was come from.
pub fn primer(part: &str, from: &str) -> AnyView {
    store().fetch_primer();
    let (part, title, _) = *PARTS.iter().find(|known| known.0 == part).unwrap_or(&PARTS[0]);
    let here = Route::parse(from);
    let lines = Arc::new(move |store| lines(store, part));
    desk(title, &here, Some(("Back", here.clone())), lines)
}

/// The address of a part, seen from another screen.
pub fn read(part: &str, from: &Route) -> Route {
    Route::Primer(part.to_owned(), from.fragment().trim_start_matches('/').to_owned())
}

/// A quiet key to a part.
pub fn key_to(says: &'static str, part: &'static str, from: Route) -> AnyView {
    key("key--plain", says, on_press(move |store| store.go(read(part, &from))))
}

/// A row to each part.
pub fn rows(from: &Route) -> Vec<Line> {
    let row = |(part, title, about): &(&str, &str, &str)| Line::Row {
        is_here: false,
        label: (*title).to_owned(),
        value: (*about).to_owned(),
        more: String::new(),
        act: to(read(part, from)),
    };
    PARTS.iter().map(row).collect()
}

/// Says so where it was asked for and could not be read.
pub fn lost(store: Store) -> Option<Line> {
    let is_lost = store.finding.primer.get().is_some_and(|all| all.is_empty());
    let why = "These pages could not be read. Open Sinkside once with a network, then come back.";
    is_lost.then(|| Line::Said(why.to_owned()))
}

fn lines(store: Store, part: &'static str) -> Vec<Line> {
    let shown = store.primer(part);
    if shown.is_empty() {
        return lost(store).into_iter().collect();
    }
    if part == "words" {
        let heading = Line::Heading("Words of this page".to_owned());
        return vec![meanings(shown), heading, meanings(store.primer("own"))];
    }
    let words = if part == "job" { store.primer("words") } else { Vec::new() };
    let here = store.route.get_untracked();
    let press = |says: &str, part: &str| Press::new(says, to(read(part, &here)));
    let mut lines = vec![Line::View(Arc::new(move || {
        el("div", "primer", shown.iter().map(|section| draw(section, &words)).collect())
    }))];
    if part == "job" {
        lines.push(Line::Keys(vec![
            press("PRACTISE LOADING", "loading"),
            press("WORDS", "words"),
            press("CAUTIONS", "cautions"),
        ]));
    }
    lines
}

/// A section, and behind one touch the words of the trade that are in it.
fn draw(section: &[String], words: &[Section]) -> AnyView {
    let mut all = vec![el("h2", "lead", vec![made(section[HEADING].clone())])];
    if !section[MARK].is_empty() {
        let path = vec![line("", section[MARK].clone())];
        all.push(drawing("pic primer__pic".to_owned(), "0 0 96 64", "xMinYMid", path));
    }
    let mut text = String::new();
    for paragraph in &section[PARAGRAPHS..] {
        text.push_str(paragraph);
        all.push(el("p", "", vec![made(paragraph.clone())]));
    }
    text.make_ascii_lowercase();
    let (mut names, mut rows) = (String::new(), Vec::new());
    for word in words {
        if !word[MARK].is_empty() && text.contains(&word[MARK]) {
            names.push_str(if rows.is_empty() { "" } else { ", " });
            names.push_str(&word[HEADING]);
            rows.push(row(word));
        }
    }
    if !rows.is_empty() {
        let rows = el("ul", "cautions", rows);
        let names = vec![words_of("b", "", "What these mean"), made(names)];
        all.push(el("details", "", vec![el("summary", "", names), rows]));
    }
    el("section", "primer__section", all)
}

fn meanings(words: Vec<Section>) -> Line {
    Line::View(Arc::new(move || el("ul", "cautions", words.iter().map(|word| row(word)).collect())))
}

fn row(word: &[String]) -> AnyView {
    let meaning = el("span", "quiet", vec![made(word[PARAGRAPHS].clone())]);
    el("li", "caution", vec![el("b", "", vec![made(word[HEADING].clone())]), meaning])
}
