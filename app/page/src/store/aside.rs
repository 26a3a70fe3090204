//! What changes rarely, in one signal: one for each of these small things would bring its own code
//! along. Who looks at one is told when another changes, too.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::primer::Section;
use session::timestamp::Timestamp;

use super::photos::Photos;
use super::{Backup, Held, Keeping};
use crate::browser::events;
use crate::ports::{Lit, Offline, Sound, Speech, Truth};

/// Everything that changes rarely: what is known of the phone, and what was last answered at a desk.
#[derive(Clone, Debug)]
pub struct Aside {
    pub(super) sound: Sound,
    pub(super) speech: Speech,
    pub(super) lit: Lit,
    pub(super) keeping: Keeping,
    pub(super) held: Held,
    pub(super) offline: Offline,
    pub(super) truth: Truth,
    pub(super) away_ms: Option<i64>,
    pub(super) flashes: u32,
    pub(super) file_saved: Option<Timestamp>,
    pub(super) backup: Backup,
    pub(super) photos: Photos,
    pub(super) hint: (String, String),
    pub(super) primer: Option<Arc<Vec<Section>>>,
    pub(super) copied: &'static str,
    pub(super) ticked: Vec<String>,
    pub(super) picked: Vec<String>,
    pub(super) only: u32,
    pub(super) pages: u32,
}

impl Aside {
    /// As long as nobody has looked.
    pub(super) fn new(sound: Sound) -> Self {
        Self {
            sound,
            speech: Speech::Usual,
            lit: Lit::Unasked,
            keeping: Keeping::Kept,
            held: Held::Here,
            offline: Offline::Unknown,
            truth: Truth::default(),
            away_ms: None,
            flashes: 0,
            file_saved: None,
            backup: Backup::None,
            photos: Photos::default(),
            hint: (String::new(), String::new()),
            primer: None,
            copied: "",
            ticked: Vec::new(),
            picked: Vec::new(),
            only: 0,
            pages: 1,
        }
    }
}

/// One of these things, to be read and set like a signal of its own.
#[derive(Debug)]
pub struct Known<T: 'static> {
    of: RwSignal<Aside>,
    part: fn(&mut Aside) -> &mut T,
    copy: fn(&Aside) -> T,
}

impl<T: 'static> Clone for Known<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: 'static> Copy for Known<T> {}

impl<T: 'static> Known<T> {
    pub(super) fn new(
        of: RwSignal<Aside>,
        part: fn(&mut Aside) -> &mut T,
        copy: fn(&Aside) -> T,
    ) -> Self {
        Self { of, part, copy }
    }

    /// What is known; who asks is told of changes.
    pub fn get(self) -> T {
        (self.copy)(&self.of.read())
    }

    /// What is known now.
    pub fn get_untracked(self) -> T {
        (self.copy)(&self.of.read_untracked())
    }

    /// Knows better.
    pub fn set(self, value: T) {
        let mut aside = self.of.write();
        *(self.part)(&mut aside) = value;
    }
}

/// What is looked for at a desk, as long as the page is open.
#[derive(Clone, Copy, Debug)]
pub struct Finding {
    /// The words that rolls are found by: a signal of their own, because they change with each key.
    pub rolls: RwSignal<String>,
    /// The words that faults are found by.
    pub faults: RwSignal<String>,
    /// Which rolls, by their place among the choices.
    pub only: Known<u32>,
    /// Whether there is room for a list beside its page.
    pub room: RwSignal<bool>,
    /// How far down that list is scrolled.
    pub list_at: StoredValue<i32>,
    /// How many screenfuls of them are drawn.
    pub pages: Known<u32>,
    /// What there is to read, once it was asked for; empty if it could not be had.
    pub primer: Known<Option<Arc<Vec<Section>>>>,
}

impl Finding {
    /// Nothing is looked for.
    pub(super) fn new(aside: RwSignal<Aside>) -> Self {
        Self {
            rolls: RwSignal::new(String::new()),
            faults: RwSignal::new(String::new()),
            room: RwSignal::new(events::has_room()),
            list_at: StoredValue::new(0),
            only: Known::new(aside, |aside| &mut aside.only, |aside| aside.only),
            pages: Known::new(aside, |aside| &mut aside.pages, |aside| aside.pages),
            primer: Known::new(aside, |aside| &mut aside.primer, |aside| aside.primer.clone()),
        }
    }
}
