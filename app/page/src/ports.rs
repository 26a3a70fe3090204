//! What the page asks of the device. `browser` answers.

use std::future::Future;
use std::pin::Pin;

use session::clock::Both;
use session::cue::Tone;
use session::habits::Pace;

/// An answer that comes later.
pub type Later<T> = Pin<Box<dyn Future<Output = T>>>;

/// The phone's clocks.
pub trait Clock {
    /// Both clocks at this instant.
    fn both(&self) -> Both;
    /// Local time less UTC, in minutes.
    fn utc_offset_min(&self) -> i32;
}

/// Whether tones can be heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sound {
    /// Not asked for yet.
    Asleep,
    /// The browser lets no sound out before a touch, or a call has taken it.
    Held,
    /// Sounding.
    On,
    /// The phone cannot.
    Missing,
}

/// Tones, on a clock of their own that no busy page delays.
pub trait Tones {
    /// Asks for sound. Works only inside a touch or a key press.
    fn unlock(&self);
    /// Whether tones can be heard.
    fn sound(&self) -> Sound;
    /// Sounds these instead of whatever was planned: milliseconds from an instant of the monotonic
    /// clock, and which. What should have begun already begins at once.
    fn plan(&self, from_mono_ms: f64, tones: &[(f64, Tone)]);
    /// Whether the audio clock has moved against the page's since the last plan.
    fn has_slipped(&self) -> bool;
    /// Calls back whenever the answer of `sound` may have changed.
    fn on_change(&self, callback: Box<dyn Fn()>);
}

/// Whether words can be heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Speech {
    /// Nothing is known against it.
    Usual,
    /// The phone has no voice, or its voice does not begin.
    Unheard,
    /// The phone cannot.
    Missing,
}

/// One voice.
pub trait Voice {
    /// Says `text`, instead of anything it is saying.
    fn say(&self, text: &str);
    /// Says nothing more.
    fn hush(&self);
    /// Whether words can be heard.
    fn speech(&self) -> Speech;
    /// Speaks at this pace from now on, with the voice of that name if the phone has it.
    fn tune(&self, pace: Pace, voice: &str);
    /// The names of the English voices on this phone itself.
    fn voices(&self) -> Vec<String>;
}

/// Whether the screen stays lit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lit {
    /// Nobody asked.
    Unasked,
    /// It stays lit.
    Kept,
    /// It may go dark.
    Refused,
}

/// The screen and the body of the phone.
pub trait Screen {
    /// Keeps the screen lit, again if it must.
    fn keep_lit(&self);
    /// Lets the screen go dark.
    fn let_go(&self);
    /// Whether it stays lit.
    fn lit(&self) -> Lit;
    /// A short buzz, where there is such a thing.
    fn buzz(&self);
}

/// Why something was not kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreError {
    /// There is no place to keep it, or it may not be used.
    Refused,
    /// The place is full.
    Full,
    /// No answer came in time.
    Slow,
    /// Another window with an earlier version of the page is in the way.
    Blocked,
    /// Something else.
    Broken,
}

/// A text that was kept: its key and itself, or what is there instead.
pub type Kept = (String, String);

/// Texts that outlive the page. Each belongs to a shelf and has a key.
pub trait Notebooks {
    /// Keeps `text` if it can: nobody is told, and a power cut may take it.
    fn jot(&self, shelf: Shelf, key: String, text: String);
    /// One text.
    fn find(&self, shelf: Shelf, key: String) -> Later<Result<Option<String>, StoreError>>;
    /// Every text whose key begins with `prefix`, in the order of keys.
    fn all(&self, shelf: Shelf, prefix: String) -> Later<Result<Vec<Kept>, StoreError>>;
    /// Keeps all of these or none of them, so that they outlive a power cut.
    fn keep_all(&self, texts: Vec<(Shelf, String, String)>) -> Later<Result<(), StoreError>>;
    /// Throws everything away.
    fn erase(&self) -> Later<Result<(), StoreError>>;
    /// What the browser says about the place.
    fn truth(&self) -> Later<Truth>;
    /// Asks the browser not to clear the notebook by itself. Nobody waits for the answer.
    fn ask_to_persist(&self);
}

/// What the browser says about the place where the notebook is kept.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Truth {
    /// Whether it will not clear the place by itself; nothing if it does not say.
    pub is_durable: Option<bool>,
    /// How many bytes are used, by its estimate.
    pub used_bytes: Option<f64>,
}

/// A shelf of the notebook.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shelf {
    /// Records of runs.
    Runs,
    /// Log entries of runs.
    Entries,
    /// Whole logs of runs that came in a file.
    Logs,
    /// Every other record.
    Records,
    /// Habits and other single things.
    Single,
    /// Photos of negatives, as base64, by roll and photo.
    Photos,
}

/// The one live run of all windows.
pub trait Hold {
    /// Holds the run if no other window does; with `steal`, in any case. Says whether it is held.
    fn take(&self, steal: bool) -> Later<bool>;
    /// Whether it waits for another to let go, who may not: nothing is written into the run meanwhile.
    fn waits(&self) -> bool;
    /// Gives the run back.
    fn release(&self);
    /// Calls back when another window has taken the run.
    fn on_lost(&self, callback: Box<dyn Fn()>);
    /// Tells the other windows that something was kept.
    fn tell(&self);
    /// Calls back when another window has kept something.
    fn on_told(&self, callback: Box<dyn Fn()>);
}

/// Whether the page works without a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offline {
    /// Not known yet.
    Unknown,
    /// Still fetching.
    Fetching,
    /// Ready.
    Ready,
    /// Fetched once, but the phone has dropped some of it.
    Incomplete,
    /// This browser cannot, or it did not work.
    Not,
}

/// The worker that keeps the page for use without a network.
pub trait Shell {
    /// Starts it. Calls back with what it finds, and once more with `true` when a new version
    /// waits.
    fn start(&self, on_state: Box<dyn Fn(Offline)>, on_update: Box<dyn Fn()>);
    /// Changes to the new version. Reloads the page.
    fn update(&self);
}

/// What became of a file that was handed over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handed {
    /// The person has given it to another program.
    Shared,
    /// It was written where the person said, read back, and is the same.
    Saved,
    /// It went where downloads go; nobody can say whether it arrived.
    Downloaded,
    /// The person changed their mind.
    Nowhere,
    /// It was written but is not the same, or not at all.
    Failed,
}

/// Text out of the page.
pub trait Papers {
    /// Puts `text` on the clipboard. Says whether it did.
    fn copy(&self, text: String) -> Later<bool>;
    /// Offers `text` as a file.
    fn save(&self, name: &str, text: &str);
    /// Hands `text` over as a file, the best way this browser has.
    fn hand_over(&self, name: String, text: String) -> Later<Handed>;
    /// 128 random bits in hexadecimal.
    fn random_id(&self) -> String;
}

/// Why a picture cannot be taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhotoError {
    /// It is no picture, or none that this browser knows.
    Unreadable,
    /// The phone has no room to make it smaller.
    TooLarge,
}

/// What a person has picked: the name of its file, and the picture as a JPEG in base64.
pub type Picked = (String, Result<String, PhotoError>);

/// Pictures into the page, and onto it.
pub trait Photos {
    /// Lets the person pick pictures, or take one, and hands them over one by one, made smaller.
    fn pick(&self, each: Box<dyn Fn(Picked)>);
    /// An address at which a JPEG in base64 is shown, until it is forgotten.
    fn show(&self, base64: &str) -> String;
    /// Nobody looks at this address any more.
    fn forget(&self, address: &str);
}
