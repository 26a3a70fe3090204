//! Any key is the big button; some are more.

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

async fn heading_after(page: &Page, key: &str) -> String {
    page.key(key).await;
    page.advance(1.0).await;
    page.heading().await
}

#[test]
fn any_key_of_a_pedal_or_a_remote_is_the_big_button() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_pre_soak(page).await;
        let keys =
            [" ", "Enter", "PageDown", "PageUp", "x", "5", "MediaPlayPause", "F13", "Unidentified"];
        page.advance_to(zero + 20.0).await;
        for key in keys {
            assert_eq!(heading_after(page, key).await, "Run: Pre-soak", "{key} in the bath");
        }
        page.advance_to(zero + 45.0).await;
        for key in keys {
            assert_eq!(heading_after(page, key).await, "Run: Developer", "{key} at its end");
            assert_eq!(heading_after(page, "u").await, "Run: Pre-soak");
        }
    });
}

#[test]
fn keys_that_a_keyboard_needs_for_itself_do_nothing_to_a_run() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_pre_soak(page).await;
        page.advance_to(zero + 45.0).await;
        for key in ["Shift", "Control", "Tab", "Home", "ArrowDown", "F12"] {
            assert_eq!(heading_after(page, key).await, "Run: Pre-soak", "{key}");
        }
        assert_eq!(page.log().await.len(), 1);
    });
}

#[test]
fn letters_open_what_they_stand_for() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 36.0).await;
        for (key, heading) in [("t", "Tub"), ("f", "Fault"), ("T", "Tub"), ("F", "Fault")] {
            assert_eq!(heading_after(page, key).await, heading);
            assert_eq!(heading_after(page, "Escape").await, "Run: Developer");
        }
    });
}

#[test]
fn u_takes_a_tap_back_and_brings_it_again() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_developer(page).await;
        page.advance(2.0).await;
        assert_eq!(heading_after(page, "u").await, "Run: Pre-soak");
        assert_eq!(heading_after(page, "U").await, "Run: Developer");
    });
}

#[test]
fn r_says_the_last_sentence_again() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 70.0).await;
        let before = page.heard().await.sentences();
        page.key("r").await;
        page.advance(2.0).await;
        let after = page.heard().await.sentences();
        assert_eq!(after[before.len()..], before[before.len() - 1..]);
    });
}

#[test]
fn m_turns_words_off_and_on_and_tones_stay() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        page.key("m").await;
        page.advance_to(zero + 70.0).await;
        let said = |heard: crate::harness::heard::Heard, from: f64| {
            heard.said().iter().filter(|said| said.at > zero + from).count()
        };
        assert_eq!(said(page.heard().await, 40.0), 0);
        let tones = page.heard().await.tones();
        assert!(tones.iter().any(|tone| (tone.at - zero - 60.0).abs() < 0.05));
        page.key("m").await;
        page.advance_to(zero + 87.0).await;
        assert_eq!(said(page.heard().await, 84.0), 1);
    });
}

#[test]
fn space_is_the_big_button_although_a_finger_has_touched_another() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_pre_soak(page).await;
        page.advance_to(zero + 20.0).await;
        // A key first: the browser now takes the person for one who goes by keys.
        page.key("r").await;
        page.advance(1.0).await;
        page.tap("button", "TEMP").await;
        page.advance(1.0).await;
        page.tap("button", "skip").await;
        page.advance_to(zero + 53.0).await;
        assert_eq!(heading_after(page, " ").await, "Run: Developer");
        page.tap("button", "UNDO").await;
        page.advance(1.0).await;
        assert_eq!(page.heading().await, "Run: Pre-soak");
        assert_eq!(heading_after(page, " ").await, "Run: Developer", "and not REDO");
        let log = page.log().await;
        assert_eq!(log.last().expect("an entry")["event"], "tank_emptied", "{log:?}");
    });
}

#[test]
fn space_is_clear_in_the_wash_and_with_at_the_stabiliser() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_bleach_fix(page).await;
        page.advance_to(zero + steps::BLEACH_FIX).await;
        page.bath_is_out("Bleach-fix").await;
        page.advance(steps::LEAD_IN + 310.0).await;
        page.key(" ").await;
        assert!(page.shows("Clear. Once more.").await, "{}", page.words().await);
        page.advance(60.0).await;
        page.key(" ").await;
        page.advance(steps::LEAD_IN + 60.0).await;
        page.key(" ").await;
        page.advance(1.0).await;
        assert!(page.has("button", "WITHOUT").await, "{}", page.words().await);
        assert_eq!(heading_after(page, " ").await, "Run: Stabiliser");
        assert_eq!(page.state_word().await, "WAIT");
        assert!(!page.has("button", "WITHOUT").await, "{}", page.words().await);
    });
}

#[test]
fn arrows_choose_between_two_halves() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_bleach_fix(page).await;
        page.advance_to(zero + steps::BLEACH_FIX).await;
        page.bath_is_out("Bleach-fix").await;
        page.advance(steps::LEAD_IN + 310.0).await;
        page.key("ArrowLeft").await;
        page.advance(1.0).await;
        page.key(" ").await;
        assert!(page.shows("Still tinted. Go on.").await, "{}", page.words().await);
        page.advance(60.0).await;
        for _ in 0..2 {
            page.key("ArrowRight").await;
            page.advance(1.0).await;
            page.key(" ").await;
            page.advance(60.0).await;
        }
        page.advance(steps::LEAD_IN + 60.0).await;
        page.bath_is_out("Rinse").await;
        page.advance(1.0).await;
        page.key("ArrowRight").await;
        page.advance(1.0).await;
        assert_eq!(heading_after(page, " ").await, "Hang");
    });
}

#[test]
fn pages_that_belong_to_no_run_keep_their_keys() {
    run(async |stage| {
        let page = &stage.page;
        page.open_to("Bench").await;
        page.advance(1.0).await;
        for key in [" ", "Enter", "x", "t", "PageDown"] {
            assert_eq!(heading_after(page, key).await, "Bench", "{key}");
        }
    });
}
