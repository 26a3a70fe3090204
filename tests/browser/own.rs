//! What each browser itself has and lacks, nothing put in its place: the page says so, and the run
//! is as ever. Time alone is the test's.

use crate::harness::cues::{self, Channel};
use crate::harness::engine::Engine;
use crate::harness::page::Page;
use crate::harness::run_in;
use crate::harness::scene::{Persist, Scene, Sound, Speech, WakeLock};
use crate::steps::{self, Steps};

/// Time for what only the browser can bring about, in real seconds.
const REAL: f64 = 2.0;

/// What the page shows of sound, voice and screen.
async fn notices(page: &Page) -> Vec<&'static str> {
    page.wait_real(REAL).await;
    page.advance(1.0).await;
    let words = page.words().await;
    let notices =
        ["No sound", "Touch anywhere for sound", "No voice; tones only", "Screen may turn off"];
    notices.into_iter().filter(|notice| words.contains(notice)).collect()
}

#[test]
fn a_run_with_what_the_browser_itself_has_says_what_it_lacks_and_is_as_ever() {
    let scene = Scene {
        sound: Sound::Own,
        speech: Speech::Own,
        wake_lock: WakeLock::Own,
        persist: Persist::Own,
        ..Scene::default()
    };
    run_in(scene, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 40.0).await;
        let shown = notices(page).await;
        let expected: &[&str] = match Engine::chosen() {
            // No voices are on this machine.
            Engine::Chromium => &["No voice; tones only"],
            // No sound device, either, so that the sound never begins; that is the graver.
            Engine::Firefox => &["Touch anywhere for sound"],
            // Its voices speak in real time, too late for the page's.
            Engine::WebKit => &["No voice; tones only"],
        };
        assert_eq!(shown, expected);
        page.advance_to(zero + steps::DEVELOPER + 5.0).await;
        let heard = page.heard().await;
        let mut agreed = cues::agreed(steps::DEVELOPER_CUES);
        agreed.retain(|cue| cue.channel == Channel::State && cue.at < 214.0);
        let mut given = cues::given(&heard, zero, zero - 0.5, zero + 214.0);
        given.retain(|cue| cue.channel == Channel::State);
        let unlike = cues::compare(&agreed, &given);
        assert!(unlike.is_empty(), "{}", unlike.join("\n"));
        page.bath_is_out("Developer").await;
        page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
        page.wash_and_hang().await;
        page.press("DONE").await;
        page.press("DONE").await;
        page.press("Settings").await;
        let durable = match Engine::chosen() {
            Engine::Chromium | Engine::Firefox => "The browser may clear it",
            // There is no `navigator.storage`.
            Engine::WebKit => "The browser does not say whether it may clear it",
        };
        assert!(page.shows(durable).await, "{}", page.words().await);
    });
}

#[test]
fn real_time_a_synthesiser_begins_and_ends_what_the_page_says() {
    let scene = Scene { speech: Speech::Synthesiser, ..Scene::default() };
    run_in(scene, async |stage| {
        let page = &stage.page;
        page.open("").await;
        // The browser asks for the voices when the page does, and gets them later.
        page.until("speechSynthesis.getVoices().some((voice) => voice.lang.startsWith('en'))")
            .await;
        page.advance(1.0).await;
        page.lay_out().await;
        let zero = page.start_to_developer().await;
        for second in 0..30 {
            page.advance_to(zero + f64::from(second)).await;
            page.wait_real(0.3).await;
        }
        let said = page.heard().await.said();
        let spoken = said.iter().filter(|said| said.what.outcome == "spoken").count();
        println!("{spoken} of {} sentences were begun and ended", said.len());
        assert!(spoken >= 3, "{said:#?}");
        assert!(!page.shows("No voice").await, "{}", page.words().await);
    });
}
