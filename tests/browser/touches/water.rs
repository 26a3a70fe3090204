//! A wet screen presses itself: in the middle of a bath nothing comes of it.

use serde::Deserialize;
use serde_json::{Value, json};

use crate::harness::cues::{self, Channel};
use crate::harness::page::Page;
use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::steps::{self, Steps};

/// How many drops fall, from the first second of the bleach-fix until the end control is armed.
const DROPS: u32 = 200;
const FROM: f64 = 1.0;
const UNTIL: f64 = 459.0;

/// Numbers that look random and are the same every time (a linear congruential generator, Knuth).
struct Dice(u64);

impl Dice {
    /// From 0 to 1.
    fn throw(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let high = u32::try_from(self.0 >> 32).unwrap_or(0);
        f64::from(high) / (f64::from(u32::MAX) + 1.0)
    }
}

/// A browser takes a touch that just misses a button for one that meets it.
const NEAR: f64 = 16.0;

/// Whether a drop there would fall on UNDO, which reads REDO after it was pressed.
async fn is_on_undo(page: &Page, x: f64, y: f64) -> bool {
    let look = format!(
        "[...document.querySelectorAll('button')].some((button) => {{
            const box = button.getBoundingClientRect();
            const across = {x} > box.left - {NEAR} && {x} < box.right + {NEAR};
            const down = {y} > box.top - {NEAR} && {y} < box.bottom + {NEAR};
            return across && down && /^(UNDO|REDO)/.test(button.textContent.trim());
        }})"
    );
    page.eval(&look).await == json!(true)
}

/// What there is after a drop, by one look.
#[derive(Deserialize)]
struct After {
    /// How many entries are kept.
    entries: usize,
    /// When that is, in milliseconds since the test began.
    since: f64,
    /// The digits of every timer on the screen.
    timers: Vec<String>,
}

async fn after(page: &Page) -> After {
    const LOOK: &str = "__clock.stored().then(({ sinkside }) => ({
        entries: sinkside.entries.length,
        since: __clock.now().since,
        timers: __clock.eyes.timers(),
    }))";
    serde_json::from_value(page.eval(LOOK).await).expect("what there is")
}

/// Takes back, by its key, what a drop has written, and checks that it is gone.
async fn take_back(page: &Page, before: usize) {
    let log = page.log().await;
    let added: Vec<&Value> = log[before..].iter().collect();
    for entry in &added {
        let event = entry["event"].as_str().unwrap_or_default();
        assert!(
            ["read", "fault_noted", "reading_corrected", "back_dated"].contains(&event),
            "a drop of water did {entry}"
        );
    }
    // A corrected reading is two entries: the correction goes first.
    for entry in added.iter().rev() {
        page.advance(0.8).await;
        page.key("Escape").await;
        page.advance(0.8).await;
        page.key("u").await;
        let log = page.log().await;
        let last = log.last().expect("an entry");
        assert_eq!((&last["event"], &last["of"]), (&json!("undone"), &entry["seq"]), "{log:?}");
    }
}

/// Drops fall all through the bleach-fix on a phone that is put down like this after everything
/// was laid out. Gives the pour tone.
async fn drops_fall(page: &Page, put_down: Viewport, seed: u64) -> f64 {
    steps::to_last_check(page).await;
    page.size(put_down).await;
    let developer = page.start_to_developer().await;
    page.advance_to(developer + steps::DEVELOPER).await;
    page.bath_is_out("Developer").await;
    let zero = page.since().await + steps::LEAD_IN;
    page.advance_to(zero + FROM).await;
    let Viewport { width, height, .. } = put_down;
    let mut dice = Dice(seed);
    let mut kept = after(page).await.entries;
    let mut drops = 0;
    let mut undone = 0;
    while drops < DROPS {
        let x = (dice.throw() * f64::from(width)).floor();
        let y = (dice.throw() * f64::from(height)).floor();
        if is_on_undo(page, x, y).await {
            continue;
        }
        drops += 1;
        page.touch_at(x, y).await;
        let mut seen = after(page).await;
        if seen.entries > kept {
            undone += 1;
            take_back(page, kept).await;
            seen = after(page).await;
            kept = seen.entries;
        }
        let now = seen.since / 1_000.0 - zero;
        let left = (steps::BLEACH_FIX - now - 0.001).ceil();
        let left = format!("{}:{:02}", (left / 60.0).floor(), left % 60.0);
        for shown in seen.timers {
            assert_eq!(shown, left, "after {drops} drops, {now:.3} s after the pour tone");
        }
        let room = (UNTIL - now) / f64::from(DROPS - drops + 1);
        page.advance((0.4 + dice.throw() * 1.2) * room).await;
    }
    assert!(undone > 0, "some drop was written down");
    zero
}

/// Every tone and every agreed sentence of the bleach-fix came when it would have without drops.
async fn nothing_came_of_it(page: &Page, zero: f64) {
    page.advance_to(zero + steps::BLEACH_FIX + 3.4).await;
    assert_eq!((page.state_word().await.as_str(), page.timer().await.as_str()), ("WAIT", "0:03"));
    let heard = page.heard().await;
    let agreed = cues::agreed(steps::BLEACH_FIX_CUES);
    let tones = |cues: &[cues::Cue]| -> Vec<cues::Cue> {
        cues.iter().filter(|cue| cue.channel == Channel::Tone && cue.at > FROM).cloned().collect()
    };
    let given = cues::given(&heard, zero, zero + FROM, zero + steps::BLEACH_FIX + 2.0);
    let unlike = cues::compare(&tones(&agreed), &tones(&given));
    assert!(unlike.is_empty(), "{}", unlike.join("\n"));
    for cue in agreed.iter().filter(|cue| cue.channel == Channel::Words && cue.at > FROM) {
        let said = heard.said();
        let said = said
            .iter()
            .find(|said| said.what.text == cue.value && (said.at - zero - cue.at).abs() < 0.3);
        let said = said.unwrap_or_else(|| panic!("not said: {cue}"));
        assert_eq!(said.what.outcome, "spoken", "{cue}");
    }
}

/// On the page of the roll nothing is left of any drop.
async fn nothing_is_left_of_it(page: &Page) {
    page.bath_is_out("Bleach-fix").await;
    page.wash_and_hang().await;
    page.open_the_roll().await;
    let roll = page.words().await;
    for row in ["Developer 3:30 3:30 ", "Bleach-fix 8:00 8:03 +0:03", "None were noted."] {
        assert!(roll.contains(row), "{row} is not in: {roll}");
    }
}

#[test]
fn two_hundred_drops_of_water_change_nothing_in_the_bleach_fix() {
    run(async |stage| {
        let zero = drops_fall(&stage.page, Viewport::PORTRAIT, 1).await;
        nothing_came_of_it(&stage.page, zero).await;
        nothing_is_left_of_it(&stage.page).await;
    });
}

#[test]
fn two_hundred_drops_of_water_change_nothing_on_a_phone_on_its_side() {
    run(async |stage| {
        let zero = drops_fall(&stage.page, Viewport::LANDSCAPE_BAR, 2).await;
        nothing_came_of_it(&stage.page, zero).await;
    });
}
