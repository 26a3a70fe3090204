//! The one place that holds the run and changes it.
//!
//! Screens read its signals and call its verbs. Nothing here draws, and nothing here counts down.

mod backup;
mod going;
mod heard;
mod kept;
mod practice;
mod press;
mod readings;
mod records;
mod rolls;
mod running;
mod shared;
mod sheets;
mod ticking;

use std::pin::Pin;

use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use session::clock::Clock;
use session::entry::Place;
use session::habits::Habits;
use session::notebook::{Record, RunRecord};
use session::run::Tank;
use session::timestamp::Timestamp;
use session::view::View;
use session::{Run, view};

use crate::browser::{Ports, events};
use crate::ports::{Kept, Lit, Offline, Sound, Speech, StoreError, Truth};
use crate::route::Route;
use crate::typed::Typed;

pub use backup::Backup;
pub use readings::AskedBack;

/// Does `work` when the browser has time. Boxed, so that what runs it is compiled once.
pub(super) fn spawn(work: impl Future<Output = ()> + 'static) {
    let work: Pin<Box<dyn Future<Output = ()>>> = Box::pin(work);
    leptos::task::spawn_local(work);
}

/// The run that is open, and its record.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenRun {
    /// Its record.
    pub record: RunRecord,
    /// The run.
    pub run: Run,
}

impl OpenRun {
    /// What its file is called.
    pub fn file_name(&self) -> String {
        format!("sinkside-run-{}.json", self.record.id())
    }

    /// The run as a file of the notebook.
    pub fn file(&self, now: Timestamp) -> String {
        session::notebook::file::write(vec![self.record.with_log(&self.run.log)], now)
    }
}

/// What lies over the Run screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Overlay {
    /// Nothing.
    #[default]
    None,
    /// The keypad.
    Temp,
    /// The faults.
    Fault,
    /// By how much the tap was late.
    Late,
    /// What to do about a fault.
    Answer(session::entry::Fault),
}

/// Whether entries are being kept.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Keeping {
    /// They are.
    #[default]
    Kept,
    /// Some are only in memory.
    NotKept(StoreError),
}

/// Which window the live run is in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Held {
    /// In this one, or there is none.
    #[default]
    Here,
    /// In another: this one only shows it.
    Elsewhere,
}

/// A run that was kept, for the list.
#[derive(Clone, Debug, PartialEq)]
pub enum KeptRun {
    /// It can be read.
    Readable(Box<OpenRun>),
    /// It cannot; its text is shown so that it can be saved.
    Unreadable {
        /// Its key.
        key: String,
        /// What is there.
        text: String,
    },
}

/// The store. Copies are handles to the same store.
#[derive(Clone, Copy, Debug)]
pub struct Store {
    ports: StoredValue<Ports, LocalStorage>,
    live: StoredValue<Live, LocalStorage>,
    /// The open run.
    pub run: RwSignal<Option<OpenRun>>,
    /// The run's time, as of the last tick.
    pub now: RwSignal<Timestamp>,
    /// What is true of the open run at that time: looked up once a tick for every screen.
    pub view: Memo<Option<View>>,
    /// What the person always does.
    pub habits: RwSignal<Habits>,
    /// Where the person is.
    pub route: RwSignal<Route>,
    /// What lies over the Run screen.
    pub overlay: RwSignal<Overlay>,
    /// The last sentence, spoken or not.
    pub said: RwSignal<String>,
    /// When it was said.
    pub said_at: RwSignal<Timestamp>,
    /// Where the next reading is taken.
    pub place: RwSignal<Place>,
    /// The digits typed so far.
    pub typed: RwSignal<Typed>,
    /// What was wrong with what was typed.
    pub typing_hint: RwSignal<String>,
    /// A reading that was asked back.
    pub asked_back: RwSignal<Option<AskedBack>>,
    /// Whether tones can be heard.
    pub sound: RwSignal<Sound>,
    /// Whether words can be heard.
    pub speech: RwSignal<Speech>,
    /// Whether the screen stays lit.
    pub lit: RwSignal<Lit>,
    /// Whether entries are being kept.
    pub keeping: RwSignal<Keeping>,
    /// Which window the live run is in.
    pub held: RwSignal<Held>,
    /// How long the page was away, until the next tap.
    pub away_ms: RwSignal<Option<i64>>,
    /// Counts the alarms that nobody could hear.
    pub flashes: RwSignal<u32>,
    /// Whether the page works without a network.
    pub offline: RwSignal<Offline>,
    /// Whether a new version waits.
    pub update_waits: RwSignal<bool>,
    /// The runs that were kept.
    pub kept: RwSignal<Vec<KeptRun>>,
    /// Every record but runs.
    pub records: RwSignal<Vec<Record>>,
    /// The rolls that go into the tank next, by id.
    pub ticked: RwSignal<Vec<String>>,
    /// What became of the last file.
    pub backup: RwSignal<Backup>,
    /// When a file of the notebook was last saved.
    pub file_saved: RwSignal<Option<Timestamp>>,
    /// What the browser says about the place of the notebook.
    pub truth: RwSignal<Truth>,
    /// The name of a field, and what is wrong with what was typed into it.
    pub hint: RwSignal<(String, String)>,
    /// What became of the last copy.
    pub copied: RwSignal<&'static str>,
    /// Whether the cautions have been read for this kit.
    pub cautions_read: RwSignal<bool>,
    /// Whether the notebook has been read.
    pub loaded: RwSignal<bool>,
}

/// What no screen looks at.
#[derive(Debug)]
struct Live {
    clock: Clock,
    timer: Option<Timeout>,
    /// Every cue before this instant has been dealt with.
    heard_until: Timestamp,
    planned_at: Timestamp,
    checked_at: Timestamp,
    beaten_at: Timestamp,
    hidden_at: Option<Timestamp>,
    pressed_mono_ms: f64,
    /// Whether the voice has been woken in a touch since the page was loaded.
    primed: bool,
    device: String,
    /// The record of this device's habits, as it was last kept.
    habits: Option<Record>,
    /// The first place in the open run's log that no kept entry has, readable or not.
    least_seq: u32,
    /// Entries that could not be kept, by key.
    unkept: Vec<Kept>,
}

impl Live {
    /// Nothing planned, nothing said, nothing pressed.
    fn new(clock: Clock, now: Timestamp) -> Self {
        Self {
            clock,
            timer: None,
            heard_until: now,
            planned_at: now,
            checked_at: now,
            beaten_at: now,
            hidden_at: None,
            pressed_mono_ms: f64::NEG_INFINITY,
            primed: false,
            device: String::new(),
            habits: None,
            least_seq: 0,
            unkept: Vec::new(),
        }
    }
}

impl Store {
    /// A store over these ports, with nothing in it yet.
    pub fn new(ports: Ports) -> Self {
        let clock = Clock::new(ports.clock.both(), 0);
        let now = clock.now(ports.clock.both());
        let sound = ports.tones.sound();
        let live = Live::new(clock, now);
        let run = RwSignal::new(None::<OpenRun>);
        let now = RwSignal::new(now);
        let view = Memo::new(move |_| {
            let now = now.get();
            run.read().as_ref().map(|open| view(&open.run, now))
        });
        Self {
            ports: StoredValue::new_local(ports),
            live: StoredValue::new_local(live),
            run,
            now,
            view,
            habits: RwSignal::new(Habits::default()),
            route: RwSignal::new(Route::parse(&events::fragment())),
            overlay: RwSignal::new(Overlay::None),
            said: RwSignal::new(String::new()),
            said_at: RwSignal::new(Timestamp::default()),
            place: RwSignal::new(Place::Tub),
            typed: RwSignal::new(Typed::default()),
            typing_hint: RwSignal::new(String::new()),
            asked_back: RwSignal::new(None),
            sound: RwSignal::new(sound),
            speech: RwSignal::new(Speech::Usual),
            lit: RwSignal::new(Lit::Unasked),
            keeping: RwSignal::new(Keeping::Kept),
            held: RwSignal::new(Held::Here),
            away_ms: RwSignal::new(None),
            flashes: RwSignal::new(0),
            offline: RwSignal::new(Offline::Unknown),
            update_waits: RwSignal::new(false),
            kept: RwSignal::new(Vec::new()),
            records: RwSignal::new(Vec::new()),
            ticked: RwSignal::new(Vec::new()),
            backup: RwSignal::new(Backup::None),
            file_saved: RwSignal::new(None),
            truth: RwSignal::new(Truth::default()),
            hint: RwSignal::new((String::new(), String::new())),
            copied: RwSignal::new(""),
            cautions_read: RwSignal::new(false),
            loaded: RwSignal::new(false),
        }
    }

    /// Whether a run has begun and is not over.
    pub fn is_live(self) -> bool {
        self.run.with_untracked(|open| {
            let live = |open: &OpenRun| !open.run.is_over() && open.run.state.tank != Tank::Ready;
            open.as_ref().is_some_and(live)
        })
    }

    /// Offers the open run as a file.
    pub fn save_open_run(self) {
        let file = self.run.with_untracked(|open| {
            let open = open.as_ref()?;
            Some((open.file_name(), open.file(self.wall_now())))
        });
        if let Some((name, text)) = file {
            self.save(&name, &text);
        }
    }

    /// Copies `text` to the clipboard, and says whether it did.
    pub fn copy(self, text: String) {
        let copying = self.ports.with_value(|ports| ports.papers.copy(text));
        spawn(async move {
            self.copied.set(if copying.await { "Copied." } else { "Not copied; save it instead." });
        });
    }

    /// The voices of this phone, by name.
    pub fn voices(self) -> Vec<String> {
        self.ports.with_value(|ports| ports.voice.voices())
    }

    /// Lets the person pick a file of a notebook.
    pub fn pick_file(self) {
        events::pick_text(move |text| self.look_at_file(text));
    }

    /// Offers `text` as a file.
    pub fn save(self, name: &str, text: &str) {
        self.ports.with_value(|ports| ports.papers.save(name, text));
    }

    /// Changes to the new version, unless a run is live.
    pub fn update_page(self) {
        if !self.is_live() {
            self.ports.with_value(|ports| ports.shell.update());
        }
    }
}
