//! The one place that holds the run and changes it.
//!
//! Screens read its signals and call its verbs. Nothing here draws, and nothing here counts down.

mod aside;
mod backup;
mod going;
mod heard;
mod kept;
pub mod photos;
mod practice;
mod press;
mod primer;
mod readings;
mod records;
mod rolls;
mod running;
mod shared;
mod sheets;
mod solutions;
mod tables;
mod tempering;
mod ticking;
mod vessels;

use std::pin::Pin;

use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use session::clock::Clock;
use session::cue::Ahead;
use session::entry::Place;
use session::evening::Evening;
use session::habits::Habits;
use session::notebook::{Record, RunRecord};
use session::run::Tank;
use session::timestamp::Timestamp;
use session::view::View;
use session::{Run, view};

use crate::browser::mark::Mark;
use crate::browser::{Ports, events};
use crate::ports::{Lit, Offline, Shelf, Sound, Speech, StoreError, Truth};
use crate::route::Route;
use crate::typed::Typed;

pub use aside::{Aside, Finding, Known};
pub use backup::Backup;
use photos::Photos;
pub use readings::AskedBack;
pub use tempering::Water;

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

    /// The solutions that it poured, as far as they are known.
    pub fn poured(&self, store: Store) -> Vec<Record> {
        let ids = self.record.record.list("solutions").iter();
        ids.filter_map(|id| store.record(id.as_str()?)).collect()
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
    /// What was done with the water of the tub.
    Water(Water),
    /// How one bottle or the tub is doing.
    Bottle(Place),
    /// After the phone was dead: what is in the tank now, and since when.
    Gap(Option<u32>),
    /// Keep the time of a developer, or use another, in milliseconds.
    Times(i64),
    /// What was done about a tub that was just read, in a run.
    TubDone,
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
    /// The same without what runs, for what does not change with every second.
    pub still: Memo<Option<View>>,
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
    pub sound: Known<Sound>,
    /// Whether words can be heard.
    pub speech: Known<Speech>,
    /// Whether the screen stays lit.
    pub lit: Known<Lit>,
    /// Whether entries are being kept.
    pub keeping: Known<Keeping>,
    /// Which window the live run is in.
    pub held: Known<Held>,
    /// How long the page was away, until the next tap.
    pub away_ms: Known<Option<i64>>,
    /// The time in steps of ten seconds: for what takes a while to work out.
    pub coarse_now: RwSignal<Timestamp>,
    /// Whether nobody's hands go into the tub: it may be warmer then.
    pub no_hands: RwSignal<bool>,
    /// Whether the black screen asks if the light is on.
    pub dark_asks: RwSignal<bool>,
    /// Counts the alarms that nobody could hear.
    pub flashes: Known<u32>,
    /// Whether the page works without a network.
    pub offline: Known<Offline>,
    /// Whether a new version waits.
    pub update_waits: RwSignal<bool>,
    /// The runs that were kept.
    pub kept: RwSignal<Vec<KeptRun>>,
    /// Every record but runs.
    pub records: RwSignal<Vec<Record>>,
    /// The rolls that go into the tank next, by id.
    pub ticked: Known<Vec<String>>,
    /// What was picked for the next run: solutions by id, and whether a longer time.
    pub picked: Known<Vec<String>>,
    /// What is looked for at a desk.
    pub finding: Finding,
    /// What became of the last file.
    pub backup: Known<Backup>,
    /// The photos of the roll that was looked at last.
    pub photos: Known<Photos>,
    /// When a file of the notebook was last saved.
    pub file_saved: Known<Option<Timestamp>>,
    /// What the browser says about the place of the notebook.
    pub truth: Known<Truth>,
    /// The name of a field, and what is wrong with what was typed into it.
    pub hint: Known<(String, String)>,
    /// The name of the field that is being typed into and has not been left.
    pub typed_in: StoredValue<String>,
    /// What became of the last copy.
    pub copied: Known<&'static str>,
    /// Whether the cautions have been read for this kit.
    pub cautions_read: RwSignal<bool>,
    /// Whether the notebook has been read.
    pub loaded: RwSignal<bool>,
    /// Whether there was a run in the notebook the last time, and it has not been read yet.
    expected: RwSignal<bool>,
    /// Since when a stopwatch of a desk runs; from the beginning of time if none does.
    pub watch: RwSignal<Timestamp>,
}

/// What no screen looks at.
#[derive(Debug)]
struct Live {
    clock: Clock,
    timer: Option<Timeout>,
    /// Every cue before this instant has been dealt with.
    heard_until: Timestamp,
    /// What is heard and shown next.
    ahead: Ahead,
    planned_at: Timestamp,
    checked_at: Timestamp,
    beaten_at: Timestamp,
    hidden_at: Option<Timestamp>,
    pressed_mono_ms: f64,
    /// Whether the voice has been woken in a touch since the page was loaded.
    primed: bool,
    device: String,
    /// What was last said to be next.
    next_said: Option<String>,
    /// The roll and photos that were last asked for.
    photos_of: String,
    /// The evening, and what it was worked out from.
    evening: Option<(tempering::Of, Evening)>,
    /// A touch in the dark, while it lasts.
    touch: Option<Timeout>,
    /// The record of this device's habits, as it was last kept.
    habits: Option<Record>,
    /// The first place in the open run's log that no kept entry has, readable or not.
    least_seq: u32,
    /// What is not kept yet: shelf, key and text.
    unkept: Vec<(Shelf, String, String)>,
}

impl Live {
    /// Nothing planned, nothing said, nothing pressed.
    fn new(clock: Clock, now: Timestamp) -> Self {
        Self {
            clock,
            timer: None,
            heard_until: now,
            ahead: Ahead::default(),
            planned_at: now,
            checked_at: now,
            beaten_at: now,
            hidden_at: None,
            pressed_mono_ms: f64::NEG_INFINITY,
            primed: false,
            device: String::new(),
            next_said: None,
            photos_of: String::new(),
            evening: None,
            touch: None,
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
        let now = RwSignal::new(clock.now(ports.clock.both()));
        let aside = RwSignal::new(Aside::new(ports.tones.sound()));
        let run = RwSignal::new(None::<OpenRun>);
        let view = Memo::new(move |_| run.read().as_ref().map(|open| view(&open.run, now.get())));
        Self {
            ports: StoredValue::new_local(ports),
            live: StoredValue::new_local(Live::new(clock, now.get_untracked())),
            coarse_now: RwSignal::new(now.get_untracked()),
            no_hands: RwSignal::new(false),
            dark_asks: RwSignal::new(false),
            run,
            now,
            view,
            still: Memo::new(move |_| view.read().as_ref().map(View::still)),
            habits: RwSignal::new(Habits::default()),
            route: RwSignal::new(Route::parse(&events::fragment())),
            overlay: RwSignal::new(Overlay::None),
            said: RwSignal::new(String::new()),
            said_at: RwSignal::new(Timestamp::default()),
            place: RwSignal::new(Place::Tub),
            typed: RwSignal::new(Typed::default()),
            typing_hint: RwSignal::new(String::new()),
            asked_back: RwSignal::new(None),
            sound: Known::new(aside, |aside| &mut aside.sound, |aside| aside.sound),
            speech: Known::new(aside, |aside| &mut aside.speech, |aside| aside.speech),
            lit: Known::new(aside, |aside| &mut aside.lit, |aside| aside.lit),
            keeping: Known::new(aside, |aside| &mut aside.keeping, |aside| aside.keeping),
            held: Known::new(aside, |aside| &mut aside.held, |aside| aside.held),
            away_ms: Known::new(aside, |aside| &mut aside.away_ms, |aside| aside.away_ms),
            flashes: Known::new(aside, |aside| &mut aside.flashes, |aside| aside.flashes),
            offline: Known::new(aside, |aside| &mut aside.offline, |aside| aside.offline),
            update_waits: RwSignal::new(false),
            kept: RwSignal::new(Vec::new()),
            records: RwSignal::new(Vec::new()),
            ticked: Known::new(aside, |aside| &mut aside.ticked, |aside| aside.ticked.clone()),
            picked: Known::new(aside, |aside| &mut aside.picked, |aside| aside.picked.clone()),
            finding: Finding::new(aside),
            backup: Known::new(aside, |aside| &mut aside.backup, |aside| aside.backup.clone()),
            photos: Known::new(aside, |aside| &mut aside.photos, |aside| aside.photos.clone()),
            file_saved: Known::new(aside, |aside| &mut aside.file_saved, |aside| aside.file_saved),
            truth: Known::new(aside, |aside| &mut aside.truth, |aside| aside.truth),
            typed_in: StoredValue::new(String::new()),
            hint: Known::new(aside, |aside| &mut aside.hint, |aside| aside.hint.clone()),
            copied: Known::new(aside, |aside| &mut aside.copied, |aside| aside.copied),
            cautions_read: RwSignal::new(false),
            loaded: RwSignal::new(false),
            expected: RwSignal::new(Mark::of_a_run().is_there()),
            watch: RwSignal::new(Timestamp::default()),
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
