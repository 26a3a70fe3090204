//! Words and tones are written down as they would be heard.

use super::run_fixture;
use crate::harness::cues::{Channel, Cue, compare, given};
use crate::harness::heard::ToneKind::{E1, E2, E2Twice, E3, E4};
use crate::harness::scene::{Scene, Sound, Speech};

#[test]
fn harness_tones_are_told_apart_and_those_taken_back_are_not_heard() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(3.0).await;
        page.tap("button", "START").await;
        page.advance(30.0).await;
        let heard = page.heard().await;
        let tones: Vec<_> = heard.tones().iter().map(|tone| (tone.kind, tone.at)).collect();
        let expected = [(E2, 4.0), (E1, 8.0), (E3, 13.0), (E2Twice, 18.0), (E4, 23.0)];
        assert_eq!(tones.len(), expected.len(), "{tones:?}");
        for ((kind, at), (expected, due)) in tones.into_iter().zip(expected) {
            assert_eq!(kind, expected);
            assert!((at - due).abs() < 0.001, "{kind:?} at {at}");
        }
        assert_eq!(heard.ticks(), [6.0]);
        let notes = heard.tones()[1].notes.clone();
        assert_eq!((notes[0].what.hz, notes[1].what.hz), (587.0, 784.0));
        assert!((notes[1].at - notes[0].at - 0.26).abs() < 0.001);
        assert!((notes[0].what.lasts - 0.22).abs() < 0.01, "{:?}", notes[0]);
        assert_eq!(heard.sound_states(), ["suspended", "running"]);
    });
}

#[test]
fn harness_an_interrupted_context_sounds_nothing_until_it_is_resumed() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.advance(2.0).await;
        page.eval("__clock.sound.interrupt()").await;
        page.advance(20.0).await;
        assert_eq!(page.heard().await.tones().len(), 1);
        page.eval("__clock.sound.endInterruption('running')").await;
        page.advance(4.0).await;
        // The audio clock stood still for 20 s, so what was planned comes 20 s late.
        assert!((page.heard().await.tones()[1].at - 25.0).abs() < 0.001);
    });
}

#[test]
fn harness_words_start_and_end_on_the_pages_time() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.advance(6.5).await;
        assert_eq!(page.status_text().await, "Lid on. Agitate next.");
        assert_eq!(page.eval("speechSynthesis.speaking").await, true);
        // Four words take 1.7 s.
        page.advance(1.3).await;
        assert_eq!(page.eval("speechSynthesis.speaking").await, false);
        let said = page.heard().await.said();
        assert_eq!((said[0].at, said[0].what.outcome.as_str()), (6.0, "spoken"));
    });
}

#[test]
fn harness_a_phone_without_sound_or_voice_is_possible() {
    let scene = Scene { sound: Sound::Absent, speech: Speech::Absent, ..Scene::default() };
    run_fixture(scene, async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.advance(7.0).await;
        assert_eq!(
            page.eval("[typeof AudioContext, typeof speechSynthesis]").await[0],
            "undefined"
        );
        let heard = page.heard().await;
        assert!(heard.tones().is_empty() && heard.said().is_empty());
        assert_eq!(page.status_text().await, "Lid on. Agitate next.");
    });
}

#[test]
fn harness_no_sound_before_a_touch_or_ever() {
    for (sound, after) in
        [(Sound::Normal, "running,true"), (Sound::StaysSuspended, "suspended,false")]
    {
        run_fixture(Scene { sound, ..Scene::default() }, async |stage| {
            let page = &stage.page;
            page.open("").await;
            page.eval("early = new AudioContext(); settled = false; early.resume().then(() => (settled = true));
            speechSynthesis.speak(new SpeechSynthesisUtterance('too early')); 0").await;
            page.advance(1.0).await;
            assert_eq!(page.eval("[early.state, settled].join()").await, "suspended,false");
            assert_eq!(page.heard().await.said()[0].what.outcome, "not-allowed");
            page.touch_at(5.0, 5.0).await;
            page.eval("early.resume(); 0").await;
            page.settle().await;
            assert_eq!(page.eval("[early.state, settled].join()").await, after);
        });
    }
}

#[test]
fn harness_voices_fail_in_each_of_their_ways() {
    for (speech, outcome) in [
        (Speech::Voiceless, "synthesis-failed"),
        (Speech::Silent, "waiting"),
        (Speech::Refuses, "not-allowed"),
        (Speech::SlowStart, "begun"),
    ] {
        run_fixture(Scene { speech, ..Scene::default() }, async |stage| {
            let page = &stage.page;
            page.open("").await;
            page.tap("button", "START").await;
            page.advance(9.5).await;
            assert_eq!(page.heard().await.said()[0].what.outcome, outcome, "{speech:?}");
        });
    }
}

#[test]
fn harness_a_timeline_that_differs_is_told_line_by_line() {
    let cue = |at, channel, value: &str| Cue { at, channel, value: value.to_owned() };
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(2.0).await;
        page.tap("button", "START").await;
        page.advance(12.0).await;
        let given = given(&page.heard().await, 2.0, 2.0, 14.0);
        let mut agreed = vec![
            cue(0.0, Channel::State, "POUR"),
            cue(1.0, Channel::Tone, "E2"),
            cue(5.0, Channel::Tone, "E1"),
            cue(6.0, Channel::Words, "Lid on. Agitate next."),
            cue(10.0, Channel::State, "AGITATE"),
            cue(10.0, Channel::Tone, "E3"),
        ];
        assert_eq!(compare(&agreed, &given), [""; 0]);
        agreed[1].at = 1.06;
        agreed[3].value = "Lid off.".to_owned();
        let expected = [
            "at 1.00 instead: 1.06 tone \"E2\"",
            "missing: 6.00 words \"Lid off.\"",
            "too much: 6.00 words \"Lid on. Agitate next.\"",
        ];
        assert_eq!(compare(&agreed, &given), expected);
    });
}
