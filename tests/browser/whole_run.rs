//! A whole roll, pre-soak to hang: what is shown, sounded and said, and what is kept.

use crate::harness::cues::{self, Cue};
use crate::harness::heard::{Heard, ToneKind};
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, LEAD_IN, Steps};

/// How far the tub reminders, which are not in the agreed timelines, must be apart.
const REMINDERS_APART: f64 = 180.0;

#[test]
fn a_whole_run_by_taps_alone_is_timed_to_the_second_and_kept() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_last_check(page).await;
        let before = taps(&page.heard().await);
        let mut zero = page.since().await + 5.0;
        page.press("START").await;
        for (bath, case, seconds) in [
            ("Pre-soak", "pre-soak_60_f10_d10_begin", 60.0),
            ("Developer", "developer_210_f10_d10_begin", 210.0),
            ("Bleach-fix", "bleach-fix_480_f10_d10_begin", 480.0),
        ] {
            page.advance(zero + seconds + 0.1 - page.since().await).await;
            let next = page.since().await + LEAD_IN;
            is_out(page, bath).await;
            agrees(page, case, zero, seconds).await;
            zero = next;
        }
        wash_by_touch(page).await;
        page.advance(LEAD_IN + 59.2).await;
        is_out(page, "Rinse").await;
        let asked = page.since().await;
        page.press("WITH").await;
        page.advance(asked + LEAD_IN + 60.0 - page.since().await).await;
        is_out(page, "Stabiliser").await;

        let heard = page.heard().await;
        assert_eq!(page.heading().await, "Hang");
        assert_eq!(taps(&heard) - before, 9, "taps from the start to the hanging");
        let alarms = heard.tones().iter().filter(|tone| tone.kind == ToneKind::E4).count();
        assert_eq!(alarms, 0, "who drains on time and taps never hears the alarm");
        reminders_are_rare(&heard);
        kept(page).await;
    });
}

#[test]
fn a_whole_run_by_the_space_key_alone_reaches_the_line() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_last_check(page).await;
        let mut zero = page.since().await + 5.0;
        page.key(" ").await;
        page.settle().await;
        for (case, seconds) in [
            ("pre-soak_60_f10_d10_begin", 60.0),
            // Nobody taps for a while, so that the over-run is heard.
            ("developer_210_f10_d10_begin", 210.0 + 27.0),
            ("bleach-fix_480_f10_d10_begin", 480.0),
        ] {
            page.advance(zero + seconds + 0.1 - page.since().await).await;
            let next = page.since().await + LEAD_IN;
            page.key(" ").await;
            page.advance(0.8).await;
            agrees(page, case, zero, seconds).await;
            zero = next;
        }
        // The wash: Space is CLEAR, once a fill.
        page.advance(LEAD_IN + 310.0).await;
        page.key(" ").await;
        page.advance(60.0).await;
        page.key(" ").await;
        for _ in 0..2 {
            page.advance(LEAD_IN + 60.0).await;
            page.key(" ").await;
            page.advance(1.0).await;
            if page.has("button", "WITHOUT").await {
                page.key(" ").await;
            }
        }
        assert_eq!(page.heading().await, "Hang");
    });
}

/// Looks at the water until it is clear twice running, as early as a wash may end.
async fn wash_by_touch(page: &Page) {
    page.advance(LEAD_IN + 304.2).await;
    assert_eq!(page.timer().await, "5:05");
    page.press("CLEAR").await;
    page.advance(59.0).await;
    page.press("CLEAR").await;
}

/// Says that a bath is out.
async fn is_out(page: &Page, bath: &str) {
    page.press(&format!("{} IS OUT", bath.to_uppercase())).await;
}

/// The whole timeline of a step up to `until` equals the agreed one.
async fn agrees(page: &Page, case: &str, zero: f64, until: f64) {
    let agreed: Vec<Cue> = cues::agreed(case).into_iter().filter(|cue| cue.at <= until).collect();
    let heard = page.heard().await;
    let from = zero - LEAD_IN - 0.05;
    let mut given = cues::given(&heard, zero, from, zero + until + 0.05);
    given.retain(|cue| cue.value != "Check the tub.");
    let differences = cues::compare(&agreed, &given);
    assert!(differences.is_empty(), "{case}:\n{}", differences.join("\n"));
}

/// How often a finger or a key came down.
fn taps(heard: &Heard) -> usize {
    heard.presses().iter().filter(|press| press.what.what == "click").count()
}

fn reminders_are_rare(heard: &Heard) {
    let said = heard.said();
    let at: Vec<f64> =
        said.iter().filter(|said| said.what.text == "Check the tub.").map(|said| said.at).collect();
    assert!(!at.is_empty(), "a tub that nobody reads for five minutes is asked for");
    assert!(at.windows(2).all(|pair| pair[1] - pair[0] >= REMINDERS_APART), "{at:?}");
}

/// Planned and actual stand on the page of the roll, each step to the second.
async fn kept(page: &Page) {
    page.press("DONE").await;
    page.press("Rolls").await;
    assert!(page.body_text().await.contains("finished, developer 3:30 of 3:30"));
    page.press_with("Two-bath colour negative").await;
    let text = page.body_text().await;
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for row in [
        "Pre-soak 1:00 1:00",
        "Developer 3:30 3:30",
        "Bleach-fix 8:00 8:00",
        "Wash 3:00 or more",
        "Rinse 1:00 1:00",
        "Stabiliser 1:00 1:00",
    ] {
        assert!(flat.contains(row), "{row} is not in:\n{flat}");
    }
}
