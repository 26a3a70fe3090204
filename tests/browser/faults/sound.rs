//! No sound, sound that waits for a touch, sound that somebody else takes.

use crate::harness::heard::ToneKind;
use crate::harness::page::Page;
use crate::harness::scene::{Scene, Sound};
use crate::harness::{cues, run, run_in};
use crate::steps::{self, Steps};

/// Touches the middle of the digits, which is no button.
async fn touch_nothing(page: &Page) {
    let (x, y) = page.the("timer", "").await.rect.centre();
    page.touch_at(x, y).await;
}

/// States and words of the developer as agreed; its tones are gone.
async fn developer_without_tones(page: &Page, zero: f64) {
    let heard = page.heard().await;
    let mut agreed = cues::agreed(steps::DEVELOPER_CUES);
    agreed.retain(|cue| cue.channel != cues::Channel::Tone && (-0.5..209.5).contains(&cue.at));
    let mut given = cues::given(&heard, zero, zero - 0.5, zero + 209.5);
    given.retain(|cue| cue.value != "Check the tub.");
    let unlike = cues::compare(&agreed, &given);
    assert!(unlike.is_empty(), "without tones:\n{}", unlike.join("\n"));
}

#[test]
fn a_phone_without_sound_says_so_and_the_run_is_as_ever() {
    run_in(Scene { sound: Sound::Absent, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 70.0).await;
        assert!(page.shows("No sound").await, "on the screen: {}", page.words().await);
        page.advance_to(zero + steps::DEVELOPER).await;
        developer_without_tones(page, zero).await;
        page.bath_is_out("Developer").await;
        assert_eq!(page.heading().await, "Run: Bleach-fix");
    });
}

#[test]
fn no_sound_stays_on_the_screen_while_sentences_come_and_go() {
    run_in(Scene { sound: Sound::Absent, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        for at in [1.0, 7.0, 22.0, 40.0, 57.0, 100.0, 158.0, 175.0] {
            page.advance_to(zero + at).await;
            assert!(page.shows("No sound").await, "at {at}: {}", page.words().await);
        }
    });
}

#[test]
fn a_context_that_stays_suspended_holds_up_neither_start_nor_run() {
    run_in(Scene { sound: Sound::StaysSuspended, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + steps::DEVELOPER).await;
        developer_without_tones(page, zero).await;
        page.advance_to(zero + steps::DEVELOPER + 5.0).await;
        assert!(page.shows("Touch anywhere for sound").await, "{}", page.words().await);
    });
}

#[test]
fn after_a_reload_sound_is_held_until_any_touch() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        page.reload_to("Run: Developer").await;
        let loaded = page.heard().await.notes().len();
        page.advance_to(zero + 70.0).await;
        assert_eq!(page.heard().await.notes().len(), loaded, "no touch, no sound");
        assert!(page.shows("Touch anywhere for sound").await, "{}", page.words().await);
        touch_nothing(page).await;
        page.advance(7.0).await;
        assert!(!page.shows("Touch anywhere for sound").await, "{}", page.words().await);
        page.advance_to(zero + 221.0).await;
        let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, 75.0, 220.5);
        assert!(unlike.is_empty(), "from the touch on:\n{}", unlike.join("\n"));
    });
}

#[test]
fn a_touch_after_a_reload_brings_the_very_next_tone() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 57.0).await;
        page.reload_to("Run: Developer").await;
        for at in [58.0, 88.0] {
            page.advance_to(zero + at).await;
            touch_nothing(page).await;
            page.advance(4.0).await;
            let heard = page.heard().await;
            let unlike = steps::unlike(&heard, steps::DEVELOPER_CUES, zero, at + 0.5, at + 3.5);
            assert!(unlike.is_empty(), "after the touch at {at}:\n{}", unlike.join("\n"));
        }
    });
}

#[test]
fn a_phone_that_is_busy_while_tones_are_planned_makes_none_of_them_late() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_pre_soak(page).await;
        page.advance_to(zero + steps::PRE_SOAK).await;
        page.eval("__clock.slow = 40").await;
        page.bath_is_out("Pre-soak").await;
        page.eval("__clock.slow = 0").await;
        let log = page.log().await;
        let tapped = log.last().map(|entry| format!("Date.parse({})", entry["at"]));
        let tapped_ms = page.eval(&tapped.expect("an entry")).await.as_f64().expect("an instant");
        let zero = (tapped_ms - page.scene().wall_ms) / 1_000.0 + steps::LEAD_IN;
        page.advance_to(zero + 95.0).await;
        let heard = page.heard().await;
        let late: Vec<_> = cues::agreed(steps::DEVELOPER_CUES)
            .iter()
            .filter(|cue| cue.channel == cues::Channel::Tone && (-0.5..90.0).contains(&cue.at))
            .map(|cue| {
                let off = |tone: f64| (tone - zero - cue.at).abs();
                heard.tones().iter().map(|tone| off(tone.at)).fold(f64::INFINITY, f64::min)
            })
            .collect();
        assert!(late.len() > 5 && late.iter().all(|off| *off < 0.002), "{late:?} {log:?}");
    });
}

/// Another app takes the sound at 0:40 and gives it back, `left` it, at 1:10 of the developer.
async fn interrupted(page: &Page, left: &str) -> f64 {
    let zero = steps::to_developer(page).await;
    page.advance_to(zero + 40.0).await;
    page.eval("__clock.sound.interrupt(), 0").await;
    page.advance_to(zero + 50.0).await;
    assert!(page.shows("Touch anywhere for sound").await, "{}", page.words().await);
    page.advance_to(zero + 70.0).await;
    page.eval(&format!("__clock.sound.endInterruption('{left}'), 0")).await;
    page.settle().await;
    zero
}

#[test]
fn tones_after_an_interruption_are_where_they_should_be() {
    run(async |stage| {
        let page = &stage.page;
        let zero = interrupted(page, "running").await;
        page.advance_to(zero + 221.0).await;
        let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, 72.0, 220.5);
        assert!(unlike.is_empty(), "after the interruption:\n{}", unlike.join("\n"));
    });
}

#[test]
fn sound_that_is_left_suspended_by_an_interruption_comes_back_by_a_touch() {
    run(async |stage| {
        let page = &stage.page;
        let zero = interrupted(page, "suspended").await;
        page.advance_to(zero + 72.0).await;
        touch_nothing(page).await;
        page.advance_to(zero + 221.0).await;
        let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, 80.0, 220.5);
        assert!(unlike.is_empty(), "after the touch:\n{}", unlike.join("\n"));
    });
}

#[test]
fn an_alarm_that_cannot_be_heard_is_flashed_and_felt() {
    run_in(Scene { sound: Sound::Absent, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + steps::DEVELOPER + 9.5).await;
        let before = page.heard().await.vibrations().len();
        page.advance(1.0).await;
        assert_eq!(page.heard().await.vibrations().len(), before + 1);
    });
}

#[test]
fn only_the_developer_left_too_long_is_an_alarm() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + steps::DEVELOPER + 36.0).await;
        let tones = page.heard().await.tones();
        let alarms: Vec<_> = tones.iter().filter(|tone| tone.kind == ToneKind::E4).collect();
        let at: Vec<_> = alarms.iter().map(|tone| (tone.at - zero).round()).collect();
        assert_eq!(at, [220.0, 235.0]);
    });
}
