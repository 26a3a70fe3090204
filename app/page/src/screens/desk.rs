//! A desk screen as a list of plain lines.
//!
//! A screen says what stands on it; drawing is written once, here. When what it says changes, lines
//! are patched in their places, so that nobody loses the field they are in.

pub mod beside;
mod draw;

use std::sync::Arc;

use leptos::prelude::*;

use super::bench::bar;
use super::{on_press, store};
use crate::browser::events;
use crate::parts::{all, anew, el, key, words};
use crate::route::Route;
use crate::store::{Backup, Store};

/// A new line within a cell, which nobody types: a vertical tab.
pub const BELOW: char = '\u{b}';

/// What a press does.
pub type Act = Arc<dyn Fn(Store) + Send + Sync>;
/// What a field does with what was typed, or the sentence that says why not.
pub type Write = Arc<dyn Fn(Store, &str) -> Result<(), String> + Send + Sync>;

/// What a press does.
pub fn act(does: impl Fn(Store) + Send + Sync + 'static) -> Act {
    Arc::new(does)
}

/// Goes to another screen.
pub fn to(route: Route) -> Act {
    act(move |store| store.go(route.clone()))
}

/// What a field does with any text.
pub fn write(does: impl Fn(Store, &str) + Send + Sync + 'static) -> Write {
    Arc::new(move |store, text| {
        does(store, text);
        Ok(())
    })
}

/// A field for words.
pub fn field(name: &str, about: &str, typing: Typing, value: &str, write: Write) -> Line {
    let (name, about, value) = (name.to_owned(), about.to_owned(), value.to_owned());
    Line::Field(Field { name, about, unit: "", typing, value, write, steps: None })
}

/// What became of the last file that went out.
pub fn handed(store: Store) -> Option<Line> {
    match store.backup.get() {
        Backup::Said(words) => Some(Line::Said(words)),
        Backup::None | Backup::Waits { .. } => None,
    }
}

/// A key, or one half of a choice.
#[derive(Clone)]
pub struct Press {
    /// What it says.
    pub says: String,
    /// A second, quieter line.
    pub more: String,
    /// Whether it is the next thing to do, or what is chosen.
    pub so: bool,
    /// What it does.
    pub act: Act,
}

impl Press {
    /// A key.
    pub fn new(says: impl Into<String>, act: Act) -> Self {
        Self { says: says.into(), more: String::new(), so: false, act }
    }

    /// The same with a second line.
    #[must_use]
    pub fn more(mut self, more: impl Into<String>) -> Self {
        self.more = more.into();
        self
    }

    /// The same, chosen or next.
    #[must_use]
    pub fn so(mut self, so: bool) -> Self {
        self.so = so;
        self
    }
}

/// How a field is typed into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typing {
    /// A line of text.
    Words,
    /// Several lines of text.
    Long,
    /// A number.
    Number,
    /// Words that are looked for while they are typed.
    Find,
}

/// A field.
#[derive(Clone)]
pub struct Field {
    /// What it is.
    pub name: String,
    /// A line about it.
    pub about: String,
    /// Its unit.
    pub unit: &'static str,
    /// How it is typed into.
    pub typing: Typing,
    /// What is in it.
    pub value: String,
    /// What becomes of what was typed.
    pub write: Write,
    /// One less and one more.
    pub steps: Option<(Act, Act)>,
}

/// One line of a desk screen.
#[derive(Clone)]
pub enum Line {
    /// What the screen is about, in larger letters.
    Lead(String),
    /// A quieter line.
    Quiet(String),
    /// Something that has just happened, said aloud by screen readers.
    Said(String),
    /// How many there are of what follows, told to readers of screens as it changes.
    Count(String),
    /// The name of what follows.
    Heading(String),
    /// A row that leads on.
    Row {
        /// Whether it leads to the page that is open.
        is_here: bool,
        /// What it is about.
        label: String,
        /// What there is to say.
        value: String,
        /// Quieter.
        more: String,
        /// Where it leads.
        act: Act,
    },
    /// A row that is pressed and stays so.
    Tick {
        /// What it says.
        label: String,
        /// At its right.
        value: String,
        /// Whether it is pressed.
        so: bool,
        /// What pressing does.
        act: Act,
    },
    /// One of a few.
    Choice {
        /// What is chosen.
        name: String,
        /// A line about it.
        about: String,
        /// The halves.
        of: Vec<Press>,
    },
    /// Something to type.
    Field(Field),
    /// Keys side by side.
    Keys(Vec<Press>),
    /// A table: its head, then its rows, each named by its first cell. What follows [`BELOW`] in a cell
    /// is said in small.
    Table(Vec<String>, Vec<Vec<String>>),
    /// A text as it is, to be read or marked.
    Raw(String),
    /// The same, shown when it is asked for.
    Folded(String),
    /// A picture, or lines that follow something of their own.
    View(Arc<dyn Fn() -> AnyView + Send + Sync>),
}

/// Lines that are drawn anew by themselves when what they read has changed.
pub fn following(lines: impl Fn() -> Vec<Line> + Send + Sync + 'static) -> Line {
    let lines = Arc::new(lines);
    Line::View(Arc::new(move || {
        let lines = Arc::clone(&lines);
        anew(move || all(groups(lines())))
    }))
}

/// What stands on a screen, or on a part of it.
pub type Lines = Arc<dyn Fn(Store) -> Vec<Line> + Send + Sync>;

/// Lines that stay on one page where they are printed.
pub fn whole(lines: Lines) -> Line {
    Line::View(Arc::new(move || el("section", "whole", groups(lines(store())))))
}

/// A key that opens the browser's own way of printing.
pub fn print() -> Press {
    Press::new("PRINT", act(|_| events::print()))
}

/// A desk screen.
#[component]
pub fn Desk(
    /// Its name.
    title: &'static str,
    /// Where it is among the places.
    here: Route,
    /// The key back, if it lies deeper.
    #[prop(optional_no_strip)]
    back: Option<(&'static str, Route)>,
    /// What stands on it.
    lines: Arc<dyn Fn(Store) -> Vec<Line> + Send + Sync>,
) -> impl IntoView {
    desk(title, &here, back, lines)
}

/// The same as a function.
#[inline(never)]
pub fn desk(
    title: &'static str,
    here: &Route,
    back: Option<(&'static str, Route)>,
    lines: Arc<dyn Fn(Store) -> Vec<Line> + Send + Sync>,
) -> AnyView {
    let store = store();
    store.hint.set((String::new(), String::new()));
    store.typed_in.set_value(String::new());
    let beside = back.as_ref().and_then(|(_, route)| beside::list(route));
    let beside = beside.map(|list| beside::drawn(store, list));
    let back = back.map(|(says, route)| {
        let back = on_press(move |store| store.go(route.clone()));
        key("head__act", says.to_owned(), back)
    });
    let head = [words("h1", "head__title", title)].into_iter().chain(back).collect();
    let lines = anew(move || all(groups(lines(store))));
    let body = vec![el("header", "head", head), demo(), lines];
    let page = el("main", "desk__body", body);
    el("div", "desk", [page, bar(here)].into_iter().chain(beside).collect())
}

/// Says that nothing here is real, where that is so.
pub fn demo() -> AnyView {
    let says = if events::is_demo() { "Demo: every roll here is invented." } else { "" };
    words("p", "demo", says)
}

/// Lines of one kind that follow each other stand between common rules.
#[inline(never)]
fn groups(lines: Vec<Line>) -> Vec<AnyView> {
    let mut groups: Vec<(&'static str, Vec<AnyView>)> = Vec::new();
    for line in lines {
        let class = group(&line);
        let drawn = draw::draw(line);
        match groups.last_mut() {
            Some((last, views)) if *last == class && !class.is_empty() => views.push(drawn),
            _ => groups.push((class, vec![drawn])),
        }
    }
    groups.into_iter().map(|(class, views)| el("div", class, views)).collect()
}

fn group(line: &Line) -> &'static str {
    match line {
        Line::Row { .. } => "ledger",
        Line::Tick { .. } => "ready",
        Line::Choice { .. } => "srows",
        Line::Field(field) if field.typing == Typing::Number => "srows",
        Line::Quiet(_) => "quiets",
        Line::View(_) => "view",
        Line::Lead(_)
        | Line::Said(_)
        | Line::Count(_)
        | Line::Heading(_)
        | Line::Field(_)
        | Line::Keys(_)
        | Line::Table(..)
        | Line::Raw(_)
        | Line::Folded(_) => "",
    }
}
