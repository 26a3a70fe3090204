//! The room that words and tones leave each other within one step.

use process_model::sheet::Bath;

use super::*;

/// When the first step gives `signal`, in milliseconds since its pour tone.
pub(super) fn times(run: &Run, signal: Signal) -> Vec<i64> {
    let tone_at = START.plus_ms(run.plan.lead_in_to(0));
    let all = cues(run, START, START.plus_ms(2_000_000)).into_iter();
    all.filter(|cue| cue.signal == signal).map(|cue| cue.at.since_ms(tone_at)).collect()
}

/// A first spell of ten seconds, then five seconds at every multiple of the interval.
pub(super) fn every(interval: u32) -> Agitation {
    let whole = Seconds::whole;
    Agitation::Repeated { first: whole(10), repeat: whole(5), interval: whole(interval) }
}

/// Where in the shipped plan a step stands.
pub(super) const DEVELOPER: usize = 1;
pub(super) const BLEACH_FIX: usize = 2;
const RINSE: usize = 4;

#[test]
fn a_step_without_twenty_seconds_between_pours_loses_its_get_ready() {
    let habits = Habits { fill_s: 7, drain_s: 12, ..Habits::default() };
    let ready = |time_ms| {
        let run = stepping(&habits, time_ms, Agitation::Still, DEVELOPER);
        times(&run, Signal::Say(Say::GetReady(Bath::Developer)))
    };
    assert_eq!(ready(7_000 + 12_000 + 20_000), [20_000], "seven seconds before pouring back");
    assert!(ready(7_000 + 12_000 + 19_999).is_empty());
}

#[test]
fn a_rinse_announces_its_last_ten_seconds_only_once_it_is_filled() {
    let last = |time_ms| {
        let run = stepping(&Habits::default(), time_ms, Agitation::Still, RINSE);
        let ten = times(&run, Signal::Say(Say::TenSeconds));
        assert_eq!(ten, times(&run, Signal::Tone(Tone::GetReady)), "{time_ms}");
        ten
    };
    // Filling takes ten seconds.
    assert_eq!(last(20_001), [10_001]);
    assert!(last(20_000).is_empty());
    assert!(last(15_000).is_empty());
}

#[test]
fn a_spell_ticks_at_each_second_within_it_and_not_at_its_ends() {
    let run = stepping(&Habits::default(), 60_000, every(30), DEVELOPER);
    let within: Vec<_> = (11..20).chain(31..35).map(|second| second * 1_000).collect();
    assert_eq!(times(&run, Signal::Tone(Tone::Tick)), within);
}

#[test]
fn a_bleach_fix_that_is_moved_without_a_rest_is_vented_once_it_has_been_moved() {
    let run = stepping(&Habits::default(), 480_000, Agitation::Continuous, BLEACH_FIX);
    let vented = times(&run, Signal::Say(Say::Vent));
    let clock = run.step_clock(0).unwrap();
    assert_eq!(vented.len(), 1, "{vented:?}");
    assert!(clock.spells[0].start < vented[0] && vented[0] < clock.pour_back.unwrap());
}

#[test]
fn a_bleach_fix_is_vented_before_its_next_spell_is_announced() {
    // Who fills for twelve seconds has eight of rest, and "Agitate in five" is due in the third.
    let habits = Habits { fill_s: 12, ..Habits::default() };
    for words in [Words::All, Words::Few] {
        let run = stepping(&Habits { words, ..habits.clone() }, 480_000, every(30), BLEACH_FIX);
        assert_eq!(times(&run, Signal::Say(Say::Vent)), [23_000], "{words:?}");
    }
}

#[test]
fn a_rest_too_short_to_vent_in_leaves_it_to_the_next_and_is_not_called_a_rest() {
    // Four seconds and a half are room for "Rest now" and not for the longer warning.
    let room = |say: Say| 1_000 + say.milliseconds() + 1_000;
    assert!(room(Say::RestNow) <= 4_500 && room(Say::Vent) > 4_500);
    let agitation = Agitation::Repeated {
        first: Seconds::whole(10),
        repeat: Seconds::whole(5),
        interval: Seconds::new(24.5),
    };
    let said = |bath, say| {
        let run = stepping(&Habits::default(), 200_000, agitation, bath);
        times(&run, Signal::Say(say))
    };
    assert_eq!(said(DEVELOPER, Say::RestNow), [21_000]);
    assert!(said(BLEACH_FIX, Say::RestNow).is_empty());
    assert_eq!(said(BLEACH_FIX, Say::Vent), [30_500], "a second after the second spell");
}

#[test]
fn a_bleach_fix_is_vented_once_however_long_it_takes_to_fill() {
    for fill_s in 2..=40 {
        for words in [Words::All, Words::Few] {
            let habits = Habits { fill_s, words, ..Habits::default() };
            let run = stepping(&habits, 390_000, every(30), BLEACH_FIX);
            assert_eq!(times(&run, Signal::Say(Say::Vent)).len(), 1, "{fill_s} s, {words:?}");
        }
    }
}

/// A bleach-fix with few words: its first spell ends at 20 s, and the next begins after `gap_s`.
fn vented(gap_s: u32) -> Run {
    let habits = Habits { words: Words::Few, ..Habits::default() };
    stepping(&habits, 80_000, every(20 + gap_s), BLEACH_FIX)
}

#[test]
fn a_tone_for_words_keeps_a_second_after_the_words_that_are_said() {
    let vent = Say::Vent.milliseconds();
    let ready = |run: &Run| times(run, Signal::Tone(Tone::GetReady));
    for gap_s in 5..13 {
        let run = vented(gap_s);
        assert_eq!(times(&run, Signal::Say(Say::Vent)), [21_000], "{gap_s}");
        let before = 20_000 + i64::from(gap_s) * 1_000 - 3_000;
        let is_clear = 21_000 + vent + 1_000 <= before;
        assert_eq!(ready(&run).contains(&before), is_clear, "{gap_s}");
    }
    assert!(!ready(&vented(7)).contains(&24_000), "the tank is just being vented");
}

#[test]
fn a_tone_for_words_sounds_three_seconds_before_each_spell_but_not_at_a_rest() {
    let habits = Habits { words: Words::Tones, ..Habits::default() };
    let ready = |interval: u32| {
        let run = stepping(&habits, 60_000, every(interval), DEVELOPER);
        times(&run, Signal::Tone(Tone::GetReady))
    };
    // 10 to 20 s, then five seconds from every multiple of nine: four seconds of rest.
    assert_eq!(ready(9), [24_000, 33_000]);
    // From every multiple of eight: the rest is three seconds long, and begins with a tone.
    assert!(ready(8).is_empty());
}
