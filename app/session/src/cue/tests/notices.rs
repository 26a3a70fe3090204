//! The notices of the last minute: where they are said on time, where they move, and where there is
//! no room for them.

use process_model::sheet::Bath;

use super::room::{DEVELOPER, every, times};
use super::*;

fn minute(under: bool) -> Say {
    Say::OneMinute { next: Bath::BleachFix, under }
}

/// A developer whose last minute begins at `at_ms`.
fn with_minute_at(at_ms: i64, agitation: Agitation) -> Run {
    stepping(&Habits::default(), at_ms + 60_000, agitation, DEVELOPER)
}

/// When the minute is told on time and when it is told late.
fn told(run: &Run) -> (Vec<i64>, Vec<i64>) {
    let [on_time, late] = [false, true].map(|under| times(run, Signal::Say(minute(under))));
    let tones = times(run, Signal::Tone(Tone::GetReady));
    assert_eq!(tones, on_time, "the tone sounds with the number, and never without");
    (on_time, late)
}

#[test]
fn the_last_minute_is_told_on_time_between_two_spells() {
    assert_eq!(told(&with_minute_at(45_000, every(30))), (vec![45_000], vec![]));
}

#[test]
fn a_notice_whose_tone_would_follow_words_within_a_second_is_left_out() {
    // "Rest now" is said a second after the only spell, which ends at 20 s.
    let once = Agitation::Once { first: Seconds::whole(10) };
    let clear = 21_000 + Say::RestNow.milliseconds() + 1_000;
    assert_eq!(told(&with_minute_at(clear, once)), (vec![clear], vec![]));
    assert_eq!(told(&with_minute_at(clear - 1, once)), (vec![], vec![]));
    assert_eq!(told(&with_minute_at(clear - 999, once)), (vec![], vec![]));
}

#[test]
fn a_notice_that_falls_on_the_words_before_a_spell_moves_to_a_second_after_it() {
    // "Agitate in five" is said at 55 s, and the spell lasts from 60 to 65.
    let run = with_minute_at(54_000, every(30));
    assert!(54_000 + minute(false).milliseconds() < 57_000, "it does not fall on the spell");
    assert_eq!(told(&run), (vec![], vec![66_000]));
}

#[test]
fn a_notice_that_falls_on_the_words_before_the_last_spell_moves_to_a_second_after_it() {
    // "Last agitation in five" is said at 84 s, and the spell lasts from 90 to 95.
    let run = with_minute_at(83_000, every(90));
    assert!(83_000 + minute(false).milliseconds() < 87_000, "it does not fall on the spell");
    assert_eq!(times(&run, Signal::Say(Say::LastAgitation)), [84_000]);
    assert_eq!(told(&run), (vec![], vec![96_000]));
}

#[test]
fn a_notice_that_ends_as_a_spell_is_announced_stays_where_it_is() {
    let at = 55_000 - minute(false).milliseconds();
    assert_eq!(told(&with_minute_at(at, every(30))), (vec![at], vec![]));
    assert_eq!(told(&with_minute_at(at + 1, every(30))), (vec![], vec![66_000]));
}

#[test]
fn a_moved_notice_that_cannot_end_a_second_before_the_next_announcement_is_dropped() {
    // Told late it takes three seconds and an eighth, from a second after a spell on.
    let late = minute(true).milliseconds();
    assert!((3_000..4_000).contains(&late));
    // Ten seconds of rest leave four before the second that the announcement wants clear.
    let short = with_minute_at(48_000, every(15));
    assert!(times(&short, Signal::Say(Say::AgitateInFive)).contains(&55_000));
    assert_eq!(told(&short), (vec![], vec![]));
    // Eleven leave five.
    let long = with_minute_at(50_000, every(16));
    assert!(times(&long, Signal::Say(Say::AgitateInFive)).contains(&59_000));
    assert_eq!(told(&long), (vec![], vec![54_000]));
}

#[test]
fn a_moved_notice_that_cannot_end_three_seconds_before_the_next_spell_is_dropped() {
    let late = minute(true).milliseconds();
    assert!((3_000..4_000).contains(&late));
    // Six seconds of rest leave room before the next tone, but the spell wants three clear.
    let short = with_minute_at(58_000, every(11));
    assert!(
        61_000 + late + 1_000 <= 66_000 && times(&short, Signal::Tone(Tone::Go)).contains(&66_000)
    );
    assert_eq!(told(&short), (vec![], vec![]));
    // Eight leave enough, and the fifth spell has no words of its own.
    let long = with_minute_at(55_000, every(13));
    assert!(times(&long, Signal::Tone(Tone::Go)).contains(&65_000));
    assert_eq!(told(&long), (vec![], vec![58_000]));
}
