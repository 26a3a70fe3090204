//! The page was killed, hidden or asleep, and comes back.

use serde_json::{Value, json};

use crate::harness::Stage;
use crate::harness::cues::{self, Channel, Cue};
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// Where the developer is when the page comes back: 2:10 left, ten seconds before a spell.
const BACK: f64 = 80.0;
/// What is said then.
const SENTENCE: &str = "Developer. Two ten left. Agitate in ten.";
/// What a browser that lets no sound out before a touch makes the page show.
const HELD: &str = "Touch anywhere for sound";

/// The developer is in, the browser is killed and is open again at [`BACK`] after `away` seconds.
/// Gives the pour tone.
async fn killed_and_back(stage: &mut Stage, away: f64) -> f64 {
    let zero = steps::to_developer(&stage.page).await;
    stage.page.advance_to(zero + BACK - away).await;
    stage.kill();
    stage.start_again(away).await;
    stage.page.open_to("Run: Developer").await;
    zero
}

#[test]
fn a_browser_killed_in_the_developer_shows_where_it_is_with_no_tap() {
    run(async |stage| {
        killed_and_back(stage, 35.0).await;
        let look = stage.page.look().await;
        assert_eq!(look.timer.as_deref(), Some("2:10"));
        assert_eq!(look.state.as_deref(), Some("REST"));
        assert_eq!(look.status, SENTENCE);
        assert!(stage.page.shows(SENTENCE).await, "the sentence is seen, not only read out");
        assert!(stage.page.shows(HELD).await, "on the screen: {}", stage.page.words().await);
    });
}

#[test]
fn a_killed_browser_loses_no_tenth_of_a_second_of_the_step() {
    run(async |stage| {
        let zero = killed_and_back(stage, 35.0).await;
        stage.page.advance_to(zero + 96.0).await;
        let screens = stage.page.heard().await.screens();
        let first = |wanted: &dyn Fn(&crate::harness::page::Look) -> bool| {
            screens.iter().find(|screen| wanted(&screen.what)).expect("it was shown").at - zero
        };
        let digits = first(&|look| look.timer.as_deref() == Some("2:09"));
        let spell = first(&|look| look.state.as_deref() == Some("AGITATE"));
        let rest = first(&|look| look.timer.as_deref() == Some("1:55"));
        for (at, expected) in [(digits, 81.0), (spell, 90.0), (rest, 95.0)] {
            assert!((at - expected).abs() <= 0.1, "at {at:.3} instead of {expected}");
        }
    });
}

#[test]
fn what_a_killed_browser_missed_is_not_made_up_for() {
    run(async |stage| {
        let zero = killed_and_back(stage, 35.0).await;
        let page = &stage.page;
        page.advance_to(zero + 82.0).await;
        assert!(page.heard().await.tones().is_empty(), "nothing sounds before the touch");
        let (x, y) = page.the("timer", "").await.rect.centre();
        page.touch_at(x, y).await;
        page.advance_to(zero + 84.0).await;
        let heard = page.heard().await;
        let said: Vec<_> = heard.said().into_iter().map(|said| said.what).collect();
        let aloud: Vec<_> = said.iter().filter(|said| said.outcome == "begun").collect();
        assert_eq!(aloud.len(), 1, "{said:?}");
        assert!(aloud[0].text.starts_with("Developer. Two oh eight left."), "{said:?}");
        assert!(!page.shows(HELD).await);
        page.advance_to(zero + 221.0).await;
        let heard = page.heard().await;
        let unlike = steps::unlike(&heard, steps::DEVELOPER_CUES, zero, 84.0, 220.5);
        assert!(unlike.is_empty(), "from the touch on:\n{}", unlike.join("\n"));
    });
}

#[test]
fn the_gap_of_a_killed_browser_is_in_the_file_of_the_run() {
    run(async |stage| {
        let zero = killed_and_back(stage, 35.0).await;
        let page = &stage.page;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.stop_here().await;
        page.open_the_roll().await;
        assert!(page.shows("Developer 3:30 3:30").await, "{}", page.words().await);
        page.tap("summary", "Show it").await;
        let file = page.words().await;
        let gap = file.find("\"event\":\"away\"").expect("the file tells of the gap");
        assert!(file[gap..].starts_with("\"event\":\"away\",\"ms\":3"), "{}", &file[gap..]);
    });
}

#[test]
fn a_killed_browser_comes_back_to_whatever_the_run_was_at() {
    run(async |stage| {
        let zero = steps::to_bleach_fix(&stage.page).await;
        dies_for(stage, 3.0, "Run: Bleach-fix", "WAIT 0:05").await;
        stage.page.advance_to(zero + steps::BLEACH_FIX + 20.0).await;
        dies_for(stage, 3.0, "Run: Bleach-fix", "WAIT 0:23").await;
        stage.page.bath_is_out("Bleach-fix").await;
        stage.page.advance(steps::LEAD_IN + 100.0).await;
        dies_for(stage, 7.0, "Wash", " 1:47").await;
        stage.page.advance(263.0).await;
        stage.page.tap("button", "CLEAR").await;
        stage.page.advance(60.0).await;
        stage.page.tap("button", "CLEAR").await;
        stage.page.advance(steps::LEAD_IN + 60.0).await;
        stage.page.bath_is_out("Rinse").await;
        stage.page.advance(1.0).await;
        dies_for(stage, 3.0, "Run: Stabiliser", "").await;
        assert!(stage.page.has("button", "WITHOUT").await);
        stage.page.advance(1.0).await;
        stage.page.tap("button", "WITHOUT").await;
        stage.page.advance(1.0).await;
        dies_for(stage, 3.0, "Hang", "").await;
        assert!(stage.page.has("button", "DONE").await);
    });
}

/// Kills the browser, opens it after `away` seconds, and looks for the state word and the timer.
async fn dies_for(stage: &mut Stage, away: f64, heading: &str, expected: &str) {
    stage.kill();
    stage.start_again(away).await;
    stage.page.open_to(heading).await;
    let look = stage.page.look().await;
    let is = format!("{} {}", look.state.unwrap_or_default(), look.timer.unwrap_or_default());
    assert!(expected.is_empty() || is == expected, "{is} instead of {expected} on {heading}");
}

/// Comes back into view at [`BACK`], and checks what is shown and said at once and from then on.
async fn is_back_in_view(page: &Page, zero: f64, away: f64) {
    let before = page.heard().await.said().len();
    page.show().await;
    let look = page.look().await;
    assert_eq!((look.timer.as_deref(), look.state.as_deref()), (Some("2:10"), Some("REST")));
    assert!(page.shows(SENTENCE).await, "on the screen: {}", page.words().await);
    page.advance(1.5).await;
    let said = page.heard().await.said();
    let caught_up: Vec<_> = said[before..].iter().map(|said| &said.what).collect();
    assert_eq!(caught_up.len(), 1, "{caught_up:?}");
    assert_eq!((caught_up[0].text.as_str(), caught_up[0].outcome.as_str()), (SENTENCE, "begun"));
    page.advance_to(zero + 221.0).await;
    let heard = page.heard().await;
    let unlike = steps::unlike(&heard, steps::DEVELOPER_CUES, zero, BACK + 2.0, 220.5);
    assert!(unlike.is_empty(), "from the return on:\n{}", unlike.join("\n"));
    let log = page.log().await;
    let gaps: Vec<&Value> = log.iter().filter(|entry| entry["event"] == "away").collect();
    assert_eq!(gaps.len(), 1, "{log:?}");
    let ms = gaps[0]["ms"].as_f64().expect("a length");
    assert!((ms - away * 1_000.0).abs() <= 100.0, "{ms} ms");
}

#[test]
fn a_page_hidden_for_61_seconds_says_where_it_is_when_it_is_seen_again() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + BACK - 61.0).await;
        page.hide().await;
        page.advance(61.0).await;
        is_back_in_view(page, zero, 61.0).await;
    });
}

#[test]
fn a_page_out_of_view_carries_the_time_in_its_title() {
    run(async |stage| {
        let page = &stage.page;
        let title = async || page.eval("document.title").await;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + BACK - 61.0).await;
        assert_eq!(title().await, "Sinkside", "in view the page itself says it");
        page.hide().await;
        let mut seen = Vec::new();
        for seconds in [0.0, 10.0, 1.0] {
            page.advance(seconds).await;
            let timer = page.look().await.timer.expect("a timer");
            assert_eq!(title().await, format!("{timer} Sinkside"));
            seen.push(timer);
        }
        seen.dedup();
        assert_eq!(seen.len(), 3, "it counts: {seen:?}");
        page.show().await;
        assert_eq!(title().await, "Sinkside");
    });
}

#[test]
fn a_page_that_comes_back_too_late_says_in_words_by_how_much() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_developer(page).await;
        page.advance_to_state("OVER", 300.0).await;
        page.hide().await;
        page.advance(12.0).await;
        page.show().await;
        page.until_shows("Developer over by twelve. Pour back.").await;
        page.advance(0.5).await;
        let said = page.heard().await.sentences();
        let last = said.last().map(String::as_str);
        assert_eq!(last, Some("Developer over by twelve. Pour back."), "{said:?}");
    });
}

#[test]
fn a_phone_that_slept_for_61_seconds_says_where_it_is_when_it_wakes() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + BACK - 61.0).await;
        page.hide().await;
        page.sleep(61.0).await;
        is_back_in_view(page, zero, 61.0).await;
    });
}

#[test]
fn a_page_that_was_frozen_for_61_seconds_says_where_it_is_when_it_thaws() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + BACK - 61.0).await;
        page.hide().await;
        let state = async |state: &str| {
            page.cdp("Page.setWebLifecycleState", json!({ "state": state })).await;
        };
        page.eval("(window.ran = 0, __clock.real.setInterval(() => (ran += 1), 20), 0)").await;
        page.wait_real(0.3).await;
        assert!(page.eval("ran").await.as_f64() > Some(1.0), "timers run");
        state("frozen").await;
        page.wait_real(0.3).await;
        let frozen = page.eval("ran").await;
        page.sleep(61.0).await;
        page.wait_real(0.5).await;
        assert_eq!(page.eval("ran").await, frozen, "nothing runs in a frozen page");
        state("active").await;
        is_back_in_view(page, zero, 61.0).await;
    });
}

#[test]
fn a_page_hidden_for_seven_minutes_sounds_every_tone_and_knows_where_it_is() {
    run(async |stage| {
        let page = &stage.page;
        let zero = steps::to_bleach_fix(page).await;
        page.advance_to(zero + 20.5).await;
        page.hide().await;
        // After five minutes the browser runs a timer once a minute.
        page.advance(420.0).await;
        let is_tone = |cue: &Cue| cue.channel == Channel::Tone;
        let mut agreed = cues::agreed(steps::BLEACH_FIX_CUES);
        agreed.retain(|cue| is_tone(cue) && (20.5..440.5).contains(&cue.at));
        let mut given = cues::given(&page.heard().await, zero, zero + 20.5, zero + 440.5);
        given.retain(is_tone);
        let unlike = cues::compare(&agreed, &given);
        assert!(agreed.len() > 20 && unlike.is_empty(), "hidden:\n{}", unlike.join("\n"));
        page.show().await;
        assert_eq!(page.timer().await, "0:40");
        page.advance_to(zero + 481.0).await;
        let heard = page.heard().await;
        let unlike = steps::unlike(&heard, steps::BLEACH_FIX_CUES, zero, 447.0, 480.5);
        assert!(unlike.is_empty(), "from the return on:\n{}", unlike.join("\n"));
    });
}

#[test]
fn real_time_a_killed_run_is_on_the_screen_within_a_second_and_a_half() {
    run(async |stage| {
        killed_and_back(stage, 35.0).await;
        let ms = stage.page.eval("__clock.real.now()").await;
        println!("from opening to digits, state and sentence: {ms} ms");
        assert!(ms.as_f64().expect("a time") <= 1_500.0, "{ms} ms");
    });
}
