//! The one place that holds the run and changes it.
//!
//! Screens read its signals and call its verbs. Nothing here draws, and nothing here counts down.

mod going;
mod heard;
mod kept;
mod press;
mod readings;
mod shared;
mod ticking;

use std::collections::BTreeMap;

use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use session::clock::Clock;
use session::entry::{Event, Place};
use session::habits::Habits;
use session::notebook::RunRecord;
use session::plan::Plan;
use session::run::Tank;
use session::timestamp::Timestamp;
use session::view::View;
use session::{Command, Entry, Refusal, Run, apply, decide, view};

use crate::browser::{Ports, events};
use crate::ports::{Lit, Offline, Sound, Speech, StoreError};
use crate::route::Route;
use crate::typed::Typed;

pub use readings::AskedBack;

/// The run that is open, and its record.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenRun {
    /// Its record.
    pub record: RunRecord,
    /// The run.
    pub run: Run,
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
    /// The first place in the open run's log that no kept entry has, readable or not.
    least_seq: u32,
    /// Entries that could not be kept, by key.
    unkept: BTreeMap<String, String>,
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
            least_seq: 0,
            unkept: BTreeMap::new(),
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
            cautions_read: RwSignal::new(false),
            loaded: RwSignal::new(false),
        }
    }

    /// Opens a new run for Last check, unless one is open that has not begun under these habits.
    pub fn open_run(self) {
        if self.is_live() {
            return;
        }
        let habits = self.habits.get_untracked();
        let offset = self.ports.with_value(|ports| ports.clock.utc_offset_min());
        let plan = Plan::new(&habits, offset);
        let same = self.run.with_untracked(|open| {
            let plan_of = |open: &OpenRun| open.run.plan == plan && open.run.log.len() < 200;
            open.as_ref().is_some_and(|open| open.run.state.tank == Tank::Ready && plan_of(open))
        });
        if same {
            return;
        }
        let (clock, id) = self
            .ports
            .with_value(|ports| (Clock::new(ports.clock.both(), 0), ports.papers.random_id()));
        self.live.update_value(|live| {
            live.clock = clock;
            live.least_seq = 0;
        });
        let now = self.read_clock();
        let device = self.live.with_value(|live| live.device.clone());
        let record = RunRecord::new(id, device, plan.clone(), now);
        self.keep_record(&record);
        self.run.set(Some(OpenRun { record, run: Run::new(plan) }));
        self.overlay.set(Overlay::None);
        self.away_ms.set(None);
    }

    /// Begins the run. The clock is read before sound is asked for, which takes its time.
    ///
    /// # Errors
    ///
    /// A [`Refusal`] if the run has begun.
    pub fn start(self, anyway: bool) -> Result<Entry, Refusal> {
        let entry = self.dispatch(Command::Start { anyway })?;
        self.ports.with_value(|ports| ports.tones.unlock());
        self.live.update_value(|live| live.primed = true);
        self.plan_tones();
        self.look_at_ports();
        Ok(entry)
    }

    /// Does `command` now: decides, applies, keeps, and sounds what follows.
    ///
    /// # Errors
    ///
    /// A [`Refusal`] if it makes no sense now; nothing has changed then.
    pub fn dispatch(self, command: Command) -> Result<Entry, Refusal> {
        let now = self.read_clock();
        let decided = self.run.with_untracked(|open| {
            open.as_ref().map_or(Err(Refusal::NoBath), |open| decide(&open.run, command, now))
        });
        let mut entry = decided?;
        // The place of an entry that could not be read is not taken by another.
        entry.seq = entry.seq.max(self.live.with_value(|live| live.least_seq));
        if self.held.get_untracked() == Held::Elsewhere {
            return Err(Refusal::NoBath);
        }
        self.run.update(|open| {
            *open = open.take().map(|OpenRun { record, run }| {
                let run = apply(run, entry.clone());
                OpenRun { record, run }
            });
        });
        self.keep_entry(&entry);
        self.live.update_value(|live| live.heard_until = live.heard_until.min(now));
        self.now.set(now);
        self.follow_up(&entry);
        Ok(entry)
    }

    /// What the rest of the page does about a new entry.
    fn follow_up(self, entry: &Entry) {
        if let Event::Started { .. } = entry.event {
            self.remember_open(true);
            self.ports.with_value(|ports| {
                ports.screen.keep_lit();
                ports.notebooks.ask_to_persist();
            });
        }
        if entry.event.is_tap() {
            self.away_ms.set(None);
        }
        self.go_where_the_run_is();
        self.say_due();
        self.plan_tones();
        self.arm();
    }

    /// Closes the run that is over and goes to the Bench.
    pub fn close_run(self) {
        self.remember_open(false);
        self.ports.with_value(|ports| {
            ports.screen.let_go();
            ports.hold.release();
            ports.tones.plan(&[]);
        });
        self.run.set(None);
        self.held.set(Held::Here);
        self.live.update_value(|live| live.timer = None);
        self.load_kept();
        self.go(Route::Bench);
    }

    /// Changes the habits and keeps them.
    pub fn change_habits(self, change: impl FnOnce(&mut Habits)) {
        self.habits.update(change);
        self.keep_habits();
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
            let name = format!("sinkside-run-{}.json", open.record.record.id);
            Some((name, open.record.with_log_to_json(&open.run)))
        });
        if let Some((name, text)) = file {
            self.save(&name, &text);
        }
    }

    /// Copies `text` to the clipboard.
    pub fn copy(self, text: String) -> crate::ports::Later<bool> {
        self.ports.with_value(|ports| ports.papers.copy(text))
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
