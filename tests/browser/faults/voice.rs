//! A phone without a voice: tones and text go on as if nothing were.

use crate::harness::cues::{self, Channel, Cue};
use crate::harness::heard::Heard;
use crate::harness::run_in;
use crate::harness::scene::{Scene, Speech};
use crate::steps::{self, Steps};

const NOTICE: &str = "No voice; tones only";

/// The developer on a phone whose voice is like this: tones and states as agreed, and every
/// sentence to read when it should be heard.
fn the_developer_is_as_ever_with(speech: Speech) {
    run_in(Scene { speech, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        for at in [25.2, 55.2, 85.2] {
            page.advance_to(zero + at).await;
            assert!(page.shows("Agitate in five.").await, "at {at}: {}", page.words().await);
        }
        page.advance_to(zero + 100.0).await;
        assert!(page.shows(NOTICE).await, "on the screen: {}", page.words().await);
        page.advance_to(zero + 221.0).await;
        let heard = page.heard().await;
        let spoken = heard.said().iter().filter(|said| said.what.outcome == "spoken").count();
        assert_eq!(spoken, 0, "this phone says nothing");
        let mut agreed = cues::agreed(steps::DEVELOPER_CUES);
        agreed.retain(|cue| (-0.5..220.5).contains(&cue.at));
        let mut given = cues::given(&heard, zero, zero - 0.5, zero + 220.5);
        given.retain(|cue| cue.channel != Channel::Words);
        given.extend(written(&heard, zero));
        given.retain(|cue| cue.value != "Check the tub." && (-0.5..220.5).contains(&cue.at));
        let unlike = cues::compare(&agreed, &given);
        assert!(unlike.is_empty(), "{speech:?}:\n{}", unlike.join("\n"));
    });
}

/// Every sentence as it came up for reading. One that comes again has an ending that nobody sees,
/// so that a screen reader reads it again.
fn written(heard: &Heard, zero: f64) -> Vec<Cue> {
    let mut before = String::new();
    let mut written = Vec::new();
    for screen in heard.screens() {
        if screen.what.status != before {
            before.clone_from(&screen.what.status);
            let value = before.trim_end_matches('\u{200b}').to_owned();
            written.push(Cue { at: screen.at - zero, channel: Channel::Words, value });
        }
    }
    written.retain(|cue| !cue.value.starts_with("Developer until"));
    written
}

#[test]
fn a_phone_without_speech_runs_on_tones_and_text() {
    the_developer_is_as_ever_with(Speech::Absent);
}

#[test]
fn a_phone_without_voices_runs_on_tones_and_text() {
    the_developer_is_as_ever_with(Speech::Voiceless);
}

#[test]
fn a_phone_whose_voice_never_begins_runs_on_tones_and_text() {
    the_developer_is_as_ever_with(Speech::Silent);
}

#[test]
fn a_phone_that_refuses_to_speak_runs_on_tones_and_text() {
    the_developer_is_as_ever_with(Speech::Refuses);
}

#[test]
fn a_voice_that_begins_late_once_is_not_given_up() {
    run_in(Scene { speech: Speech::SlowStart, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 100.0).await;
        assert!(!page.shows(NOTICE).await, "on the screen: {}", page.words().await);
        page.advance_to(zero + 221.0).await;
        let unlike = steps::unlike(&page.heard().await, steps::DEVELOPER_CUES, zero, -0.5, 220.5);
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
    });
}

/// The developer, with every sentence begun as agreed and nothing said against the voice.
fn the_developer_is_said_with(speech: Speech) {
    run_in(Scene { speech, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 221.0).await;
        assert!(!page.shows(NOTICE).await, "on the screen: {}", page.words().await);
        let heard = page.heard().await;
        let unlike = steps::unlike(&heard, steps::DEVELOPER_CUES, zero, -0.5, 220.5);
        assert!(unlike.is_empty(), "{speech:?}:\n{}", unlike.join("\n"));
        let said = heard.said().into_iter().filter(|said| said.at > zero - 8.5);
        let unsaid: Vec<_> = said.filter(|said| said.what.outcome == "waiting").collect();
        assert!(unsaid.is_empty(), "{speech:?}, never begun: {unsaid:?}");
    });
}

#[test]
fn a_voice_that_is_stuck_in_a_sentence_is_cut_off_for_the_next() {
    the_developer_is_said_with(Speech::Stuck);
}

#[test]
fn voices_that_are_listed_late_speak_all_the_same() {
    the_developer_is_said_with(Speech::LateVoices);
}

#[test]
fn a_voice_that_tells_late_what_it_has_cut_off_does_no_harm() {
    run_in(Scene { speech: Speech::LateEnd, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        steps::to_developer(page).await;
        page.advance(30.0).await;
        for _ in 0..3 {
            page.key("r").await;
            page.advance(0.8).await;
        }
        page.advance(3.0).await;
        let said = page.heard().await.said();
        let outcomes: Vec<_> = said.iter().map(|said| said.what.outcome.as_str()).collect();
        assert!(outcomes.contains(&"cut off"), "{outcomes:?}");
        assert_eq!(outcomes.last(), Some(&"spoken"));
    });
}
