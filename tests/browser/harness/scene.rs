//! What the phone is like: its window, its clock, and which of the browser's doors are open.
//!
//! Given before the page loads. All of it is said again at every reload; what a test changes on
//! the way (see `page`) lasts until then.

use serde::Serialize;

/// The size of what the page has, in CSS pixels, and what points at it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Viewport {
    /// Across.
    pub width: u32,
    /// Down.
    pub height: u32,
    /// Device pixels to a CSS pixel.
    pub scale: u32,
    /// A phone: touch, and no hover.
    pub mobile: bool,
}

impl Viewport {
    /// A phone upright.
    pub const PORTRAIT: Self = Self::phone(390, 844);
    /// A phone upright, what a browser bar leaves.
    pub const PORTRAIT_BAR: Self = Self::phone(390, 664);
    /// A phone on its side.
    pub const LANDSCAPE: Self = Self::phone(844, 390);
    /// A phone on its side, what a browser bar leaves.
    pub const LANDSCAPE_BAR: Self = Self::phone(844, 340);
    /// A small phone.
    pub const SMALL: Self = Self::phone(360, 640);
    /// A desk.
    pub const DESK: Self = Self { width: 1280, height: 800, scale: 1, mobile: false };
    /// The sizes of every in-session screen.
    pub const PHONES: [Self; 5] =
        [Self::PORTRAIT, Self::PORTRAIT_BAR, Self::LANDSCAPE, Self::LANDSCAPE_BAR, Self::SMALL];

    /// A phone of this size.
    pub const fn phone(width: u32, height: u32) -> Self {
        Self { width, height, scale: 2, mobile: true }
    }
}

/// Whose time the page reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Clock {
    /// Time stands still until the test moves it.
    Test,
    /// The real one. The recorders work all the same, and tones are found in the samples.
    Real,
}

/// What Web Audio does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sound {
    /// Silent until the first touch, as browsers are, then as it should be.
    Normal,
    /// There is no `AudioContext`.
    Absent,
    /// `resume()` never settles and the context stays suspended.
    StaysSuspended,
    /// What the browser itself has, or lacks.
    Own,
}

/// What speech synthesis does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Speech {
    /// Refused until the first touch; then start at once, end after words / 2.67 + 0.2 s.
    Normal,
    /// As normal, but the first utterance starts 3 s late.
    SlowStart,
    /// As normal, but what is cut off says so half a second later, when the next one speaks already.
    LateEnd,
    /// There is no `speechSynthesis`.
    Absent,
    /// No voices; every utterance fails.
    Voiceless,
    /// A voice is listed, and no event ever comes.
    Silent,
    /// Every utterance is `not-allowed`.
    Refuses,
    /// Every utterance begins, and none ever ends.
    Stuck,
    /// As normal, but voices are listed only after 20 s.
    LateVoices,
    /// What the browser itself has, or lacks.
    Own,
    /// The browser's own, with a synthesiser of the machine that plays into nothing. Chromium only.
    Synthesiser,
}

/// What the wake lock does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WakeLock {
    /// Granted while visible, released by hiding.
    Normal,
    /// Rejected.
    Refused,
    /// There is no `navigator.wakeLock`.
    Absent,
    /// What the browser itself has, or lacks.
    Own,
}

/// Whether the phone can vibrate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Vibration {
    /// Calls are recorded.
    Normal,
    /// There is no `navigator.vibrate`.
    Absent,
}

/// What `navigator.storage.persist()` answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Persist {
    /// Yes.
    Granted,
    /// No.
    Refused,
    /// Nothing, ever.
    NeverSettles,
    /// There is no `navigator.storage`.
    Absent,
    /// What the browser itself has, or lacks.
    Own,
}

/// What `IndexedDB` does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Database {
    /// The browser's own.
    Normal,
    /// Opening throws.
    Throws,
    /// Opening ends in an error event.
    Refused,
    /// Opening never calls back.
    NeverCallsBack,
    /// Every write aborts its transaction for want of room.
    Full,
}

/// How the browser hands a file over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Files {
    /// Into the folder of downloads.
    Download,
    /// Where the person says; the file is written, and reads back.
    Picker,
    /// As the picker, but what is written is not what reads back.
    PickerThatLoses,
    /// The person closes the picker.
    PickerClosed,
    /// To another program.
    Share,
}

/// All of it.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Scene {
    /// The window.
    pub viewport: Viewport,
    /// Whose time.
    pub clock: Clock,
    /// The wall clock at the first load, in milliseconds since 1970, UTC.
    pub wall_ms: f64,
    /// Web Audio.
    pub sound: Sound,
    /// Speech synthesis.
    pub speech: Speech,
    /// The wake lock.
    pub wake_lock: WakeLock,
    /// Vibration.
    pub vibration: Vibration,
    /// Durable storage.
    pub persist: Persist,
    /// The database.
    pub database: Database,
    /// How files are handed over.
    pub files: Files,
    /// With the real clock: the main thread is blocked for 300 ms every 5 s.
    pub blocked: bool,
    /// The colours the person asked the phone for: `light` or `dark`.
    pub colours: &'static str,
    /// Whether the test ends well although the page threw, logged an error or broke its policy.
    pub faults_allowed: bool,
    /// The folder of the host the page lies in, slash first and last.
    pub prefix: &'static str,
    /// The phone has never met the host: what is loaded first comes from it. Otherwise the worker of a
    /// visit before this one may be there and hand out the same page, as it does for most who open it.
    pub first_visit: bool,
}

impl Default for Scene {
    fn default() -> Self {
        Self {
            viewport: Viewport::PORTRAIT,
            clock: Clock::Test,
            // Saturday, 14 March 2026, 14:30 UTC.
            wall_ms: 1_773_498_600_000.0,
            sound: Sound::Normal,
            speech: Speech::Normal,
            wake_lock: WakeLock::Normal,
            vibration: Vibration::Normal,
            persist: Persist::Granted,
            database: Database::Normal,
            files: Files::Download,
            blocked: false,
            colours: "light",
            faults_allowed: false,
            prefix: "/",
            first_visit: false,
        }
    }
}
