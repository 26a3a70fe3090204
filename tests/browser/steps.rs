//! What a person does, in a person's verbs: things are found by their visible words and roles.
//!
//! ```ignore
//! let zero = steps::to_developer(page).await; // The tap is made, the pour tone is at `zero`.
//! page.advance_to(zero + 200.0).await;
//! page.bath_is_out("Developer").await;
//! ```
//!
//! Free functions go from an empty window to a moment of a run. Verbs of [`Steps`] are one touch,
//! or a few. Times are in seconds since the test began, the unit of everything that was heard.

use std::fs::DirEntry;
use std::path::Path;

use serde_json::{Value, json};

use crate::harness::cues;
use crate::harness::heard::Heard;
use crate::harness::page::{Control, Page};

/// From the tap that starts a run to its first pour tone.
pub const FIRST_LEAD_IN: f64 = 5.0;
/// From a tap that says a tank is empty to the next pour tone.
pub const LEAD_IN: f64 = 8.0;
/// How long the first three baths of the usual sheet take.
pub const PRE_SOAK: f64 = 60.0;
/// The developer.
pub const DEVELOPER: f64 = 210.0;
/// The bleach-fix.
pub const BLEACH_FIX: f64 = 480.0;

/// The agreed timeline of the developer, as the page is set from the start.
pub const DEVELOPER_CUES: &str = "developer_210_f10_d10_begin";
/// The agreed timeline of the bleach-fix, as the page is set from the start.
pub const BLEACH_FIX_CUES: &str = "bleach-fix_480_f10_d10_begin";

/// Every piece of text that can be seen, in the page's language.
const SEEN: &str = "__clock.eyes.pieces().map((piece) => piece.text).join(' ')";

/// Every key from the Bench to Last check, for the first time.
pub const LAYING_OUT: [&str; 8] = [
    "DEVELOP A ROLL",
    "ALL OF THIS IS SO",
    "ALL HERE",
    "ALL HERE",
    "ALL HERE",
    "CLEAR",
    "DARK",
    "FILM IS IN",
];

/// A second touch counts once this long has passed since the first.
const APART: f64 = 0.8;

/// Opens the page and lays everything out: Tempering is on the screen, nothing was read yet.
pub async fn to_tempering(page: &Page) {
    page.open("").await;
    page.advance(APART).await;
    page.lay_out_to_tempering().await;
}

/// A run with two readings before it, stopped when the developer is out.
pub async fn read_and_stopped_after_the_developer(page: &Page) {
    to_last_check(page).await;
    page.read("Developer", "401").await;
    page.read("Tub", "415").await;
    let zero = page.start_to_developer().await;
    page.advance_to(zero + DEVELOPER).await;
    page.bath_is_out("Developer").await;
    page.stop_here().await;
}

/// Opens the page and lays everything out: Last check is on the screen, nothing was read yet.
pub async fn to_last_check(page: &Page) {
    page.open("").await;
    page.advance(APART).await;
    page.lay_out().await;
}

/// Starts a run. Gives the instant of the pre-soak's pour tone.
pub async fn to_pre_soak(page: &Page) -> f64 {
    to_last_check(page).await;
    page.start().await
}

/// Starts a run and waits until it is over the pre-soak and the tank is empty: that has just been
/// tapped. Gives the instant of the developer's pour tone.
pub async fn to_developer(page: &Page) -> f64 {
    to_last_check(page).await;
    page.start_to_developer().await
}

/// As [`to_developer`], but it is the bleach-fix that comes next.
pub async fn to_bleach_fix(page: &Page) -> f64 {
    let zero = to_developer(page).await;
    page.advance_to(zero + DEVELOPER).await;
    page.bath_is_out("Developer").await;
    page.since().await + LEAD_IN
}

/// Each difference between what was shown, sounded and said, and an agreed timeline, from `from`
/// until `until` on the clock of the step that began at `zero`. Empty means none.
pub fn unlike(heard: &Heard, case: &str, zero: f64, from: f64, until: f64) -> Vec<String> {
    let mut agreed = cues::agreed(case);
    agreed.retain(|cue| (from..until).contains(&cue.at));
    let mut given = cues::given(heard, zero, zero + from, zero + until);
    // The agreed timelines do not know when the tub was read last.
    given.retain(|cue| cue.value != "Check the tub.");
    cues::compare(&agreed, &given)
}

/// What a person does at the sink.
pub trait Steps {
    /// From the Bench to Last check, everything being there and heard.
    async fn lay_out(&self);
    /// From the first group of things to Last check.
    async fn lay_out_the_rest(&self);
    /// From the Bench to Tempering, everything being there and heard, for the first time.
    async fn lay_out_to_tempering(&self);
    /// From the first group of things to Tempering.
    async fn check_the_rest(&self);
    /// From Tempering to Last check, the film being in the tank already.
    async fn pass_the_dark(&self);
    /// Starts the run from Last check.
    async fn tap_start(&self);
    /// Starts the run from Last check. Gives the pour tone of the pre-soak.
    async fn start(&self) -> f64;
    /// Starts the run from Last check and ends the pre-soak. Gives the developer's pour tone.
    async fn start_to_developer(&self) -> f64;
    /// Presses a button and lets so much time pass that the next press is not taken for water.
    async fn press(&self, name: &str);
    /// Presses the last of the buttons of that name.
    async fn press_last(&self, name: &str);
    /// Presses the last of the buttons whose name has these words in it.
    async fn press_with(&self, words: &str);
    /// Presses the last of the buttons that are meant.
    async fn press_found(&self, is_it: &dyn Fn(&Control) -> bool);
    /// Taps that this bath is out.
    async fn bath_is_out(&self, bath: &str);
    /// Waits for the pour tone and for `seconds` of this bath, and taps that it is out.
    async fn wait_out(&self, bath: &str, seconds: f64);
    /// From the tap that the bleach-fix is out: washes until the water is clear twice.
    async fn wash_until_clear(&self);
    /// From the end of the wash until the film hangs, without stabiliser.
    async fn rinse_and_hang(&self);
    /// From the tap that the bleach-fix is out until the film hangs.
    async fn wash_and_hang(&self);
    /// Stops the run for good in the lead-in to a bath.
    async fn stop_here(&self);
    /// Leaves the screen on which the film hangs, and opens the page of that roll.
    async fn open_the_roll(&self);
    /// Opens the keypad by this button and types a reading.
    async fn read(&self, button: &str, digits: &str);
    /// Opens the keypad of a run and types a reading of the tub.
    async fn read_tub(&self, digits: &str);
    /// Types digits on the keypad with a finger.
    async fn touch_digits(&self, digits: &str);
    /// Replaces what is in the field of that name, and leaves it.
    async fn write(&self, field: &str, text: &str);
    /// Opens the page and waits, its time standing still, until it is on the screen of that name.
    async fn open_to(&self, heading: &str);
    /// Reloads and waits, its time standing still, until it is on the screen of that name.
    async fn reload_to(&self, heading: &str);
    /// Waits, its time standing still, until it is on the screen of that name.
    async fn until_on(&self, heading: &str);
    /// Waits, its time standing still, until these words can be seen.
    async fn until_shows(&self, words: &str);
    /// Taps this button and gives the text of the file that comes of it.
    async fn tap_for_a_file(&self, button: &str, folder: &Path) -> String;
    /// The entries of all logs that are kept, in order, as the page wrote them.
    async fn log(&self) -> Vec<Value>;
    /// All text that can be seen, on one line.
    async fn words(&self) -> String;
    /// Whether these words can be seen. Capitals do not count.
    async fn shows(&self, words: &str) -> bool;
    /// Now, in seconds since the test began.
    async fn since(&self) -> f64;
    /// Lets time pass until then.
    async fn advance_to(&self, at: f64);
}

impl Steps for Page {
    async fn lay_out(&self) {
        self.press("Develop a roll").await;
        // The cautions are read once for a kit.
        if self.has("button", "ALL OF THIS IS SO").await {
            self.press("ALL OF THIS IS SO").await;
        }
        self.lay_out_the_rest().await;
    }

    async fn lay_out_the_rest(&self) {
        self.check_the_rest().await;
        self.pass_the_dark().await;
    }

    async fn lay_out_to_tempering(&self) {
        self.press("Develop a roll").await;
        self.press("ALL OF THIS IS SO").await;
        self.check_the_rest().await;
    }

    async fn check_the_rest(&self) {
        while self.has("button", "ALL HERE").await {
            self.press("ALL HERE").await;
        }
        self.press("CLEAR").await;
        assert_eq!(self.heading().await, "Tempering");
    }

    async fn pass_the_dark(&self) {
        self.press("DARK").await;
        self.press("FILM IS IN").await;
        assert_eq!(self.heading().await, "Last check");
    }

    async fn tap_start(&self) {
        self.tap("button", "START").await;
    }

    async fn start(&self) -> f64 {
        self.tap_start().await;
        self.since().await + FIRST_LEAD_IN
    }

    async fn start_to_developer(&self) -> f64 {
        let zero = self.start().await;
        self.advance_to(zero + PRE_SOAK).await;
        self.bath_is_out("Pre-soak").await;
        self.since().await + LEAD_IN
    }

    async fn press(&self, name: &str) {
        self.tap_and_wait("button", name, APART).await;
    }

    async fn press_last(&self, name: &str) {
        self.press_found(&|control: &Control| control.name == name).await;
    }

    async fn press_with(&self, words: &str) {
        self.press_found(&|control: &Control| control.name.contains(words)).await;
    }

    async fn press_found(&self, is_it: &dyn Fn(&Control) -> bool) {
        let find = async || {
            let buttons = self.buttons().await;
            let names: Vec<_> = buttons.iter().map(|button| button.name.clone()).collect();
            let found = buttons.into_iter().rfind(|button| is_it(button));
            found.unwrap_or_else(|| panic!("not among the buttons {names:?}"))
        };
        let mut control = find().await;
        if self.scroll_to(&control).await {
            control = find().await;
        }
        self.touch_and_wait(control.rect.centre(), APART).await;
    }

    async fn bath_is_out(&self, bath: &str) {
        self.tap("button", &format!("{bath} is out")).await;
    }

    async fn wait_out(&self, bath: &str, seconds: f64) {
        self.advance(LEAD_IN + seconds).await;
        self.bath_is_out(bath).await;
    }

    async fn wash_until_clear(&self) {
        self.advance(LEAD_IN + 310.0).await;
        self.tap("button", "CLEAR").await;
        self.advance(60.0).await;
        self.tap("button", "CLEAR").await;
    }

    async fn rinse_and_hang(&self) {
        self.wait_out("Rinse", 60.0).await;
        self.advance(APART).await;
        self.press("WITHOUT").await;
        assert_eq!(self.heading().await, "Hang");
    }

    async fn wash_and_hang(&self) {
        self.wash_until_clear().await;
        self.rinse_and_hang().await;
    }

    async fn stop_here(&self) {
        for key in ["FAULT", "Leave now", "STOP THE RUN HERE"] {
            self.advance(APART).await;
            self.tap("button", key).await;
        }
        self.advance(APART).await;
        assert_eq!(self.heading().await, "Hang");
    }

    async fn open_the_roll(&self) {
        self.press("DONE").await;
        self.press("Rolls").await;
        self.press_with("colour negative").await;
    }

    async fn read(&self, button: &str, digits: &str) {
        self.press(button).await;
        self.touch_digits(digits).await;
        self.advance(APART).await;
    }

    async fn read_tub(&self, digits: &str) {
        self.read("TEMP", digits).await;
    }

    async fn touch_digits(&self, digits: &str) {
        for digit in digits.chars() {
            self.tap("button", &digit.to_string()).await;
            self.advance(0.2).await;
        }
    }

    async fn write(&self, field: &str, text: &str) {
        self.tap("textbox", field).await;
        self.eval("document.activeElement.select(), 0").await;
        self.key("Backspace").await;
        self.type_text(text).await;
        self.key("Tab").await;
        self.advance(APART).await;
    }

    async fn open_to(&self, heading: &str) {
        self.load("").await;
        self.until_on(heading).await;
    }

    async fn reload_to(&self, heading: &str) {
        self.reload().await;
        self.until_on(heading).await;
    }

    async fn until_on(&self, heading: &str) {
        let on = format!("__clock.eyes.heading() === {}", json!(heading));
        self.until(&format!("__clock.advance(0).then(() => {on})")).await;
    }

    async fn until_shows(&self, words: &str) {
        let seen = format!("{SEEN}.toLowerCase().includes({})", json!(words.to_lowercase()));
        self.until(&format!("__clock.advance(0).then(() => {seen})")).await;
    }

    async fn tap_for_a_file(&self, button: &str, folder: &Path) -> String {
        let folder = folder.join("saved");
        self.give_files_to(&folder).await;
        self.tap("button", button).await;
        for _ in 0..200 {
            let files = std::fs::read_dir(&folder).expect("the folder is there").flatten();
            // What is not whole yet has an ending of its own, or nothing in it.
            let whole = |file: &DirEntry| {
                let path = file.path();
                let ending = path.extension().and_then(|ending| ending.to_str());
                !matches!(ending, Some("crdownload" | "part" | "wkdownload"))
                    && file.metadata().is_ok_and(|about| about.len() > 0)
            };
            if let Some(file) = files.into_iter().find(whole) {
                return std::fs::read_to_string(file.path()).expect("the file is text");
            }
            self.wait_real(0.05).await;
        }
        panic!("no file came of {button}");
    }

    async fn log(&self) -> Vec<Value> {
        let stored = self.eval("__clock.stored()").await;
        let entries = stored["sinkside"]["entries"].as_array().cloned().unwrap_or_default();
        let texts = entries.iter().filter_map(|entry| entry[1].as_str());
        texts.filter_map(|text| serde_json::from_str(text).ok()).collect()
    }

    async fn words(&self) -> String {
        self.eval(SEEN).await.as_str().unwrap_or_default().to_owned()
    }

    async fn shows(&self, words: &str) -> bool {
        self.words().await.to_lowercase().contains(&words.to_lowercase())
    }

    async fn since(&self) -> f64 {
        let now = self.eval("__clock.now().since").await;
        now.as_f64().expect("a time") / 1_000.0
    }

    async fn advance_to(&self, at: f64) {
        self.advance(at - self.since().await).await;
    }
}
