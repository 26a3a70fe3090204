mod bounds;
mod notices;
mod room;

use expect_test::{Expect, expect};
use process_model::agitation::Agitation;
use process_model::quantity::Seconds;
use process_model::sheet::SheetId;
use proptest::prelude::*;

use super::*;
use crate::command::{Command, decide};
use crate::entry::{Look, Place, With};
use crate::habits::{Convention, Habits};
use crate::plan::Plan;
use crate::run::apply;

const START: Timestamp = Timestamp::from_milliseconds(1_000_000);

fn at(seconds: i64) -> Timestamp {
    START.plus_ms(seconds * 1_000)
}

fn tap(run: Run, command: Command, now: Timestamp) -> Run {
    let entry = decide(&run, command, now).unwrap();
    apply(run, entry)
}

fn started(habits: &Habits) -> Run {
    tap(Run::new(Plan::shipped(habits, 0)), Command::Start { anyway: false }, START)
}

/// A run whose first step has this shape and is about to be poured.
fn stepping(habits: &Habits, time_ms: i64, agitation: Agitation, at: usize) -> Run {
    let mut plan = Plan::shipped(habits, 0);
    plan.steps[at].time_ms = time_ms;
    plan.steps[at].agitation = agitation;
    plan.steps.drain(..at);
    tap(Run::new(plan), Command::Start { anyway: false }, START)
}

fn said(run: &Run, from: Timestamp, until: Timestamp) -> String {
    let line = |cue: Cue| {
        let seconds = cue.at.since_ms(START) / 1_000;
        match cue.signal {
            Signal::Tone(Tone::Tick) => None,
            Signal::Tone(tone) => Some(format!("{seconds} {tone:?}\n")),
            Signal::Say(say) => Some(format!("{seconds} {}\n", say.text())),
        }
    };
    cues(run, from, until).into_iter().filter_map(line).collect()
}

#[track_caller]
fn check(run: &Run, until_s: i64, expected: &Expect) {
    expected.assert_eq(&said(run, START, at(until_s)));
}

#[test]
fn a_pre_soak_is_announced_moved_and_poured_out() {
    check(
        &started(&Habits::default()),
        70,
        &expect![[r#"
            0 Pour on the tone.
            5 Go
            11 Lid on. Agitate next.
            15 Go
            20 Rest
            21 Rest now. Tap the tank.
            35 Uncap developer. Should read forty.
            48 Get ready to pour out.
            55 GoTwice
            56 Pour the water out. Colour is normal.
            65 Rest
        "#]],
    );
}

#[test]
fn a_slow_filler_is_told_when_the_step_will_end() {
    let habits = Habits { fill_s: 14, ..Habits::default() };
    let run = started(&habits);
    let heard = said(&run, START, at(10));
    assert!(heard.contains("7 Pre-soak until twelve seventeen and forty-five."), "{heard}");
}

#[test]
fn a_wash_asks_for_a_change_of_water_each_minute() {
    let mut plan = Plan::shipped(&Habits::default(), 0);
    plan.steps.drain(..3);
    plan.steps[0].least_ms = 150_000;
    let run = tap(Run::new(plan), Command::Start { anyway: false }, START);
    check(
        &run,
        190,
        &expect![[r#"
            0 Pour on the tone.
            5 Go
            65 GetReady
            65 Change the water. Look at it.
            125 GetReady
            125 Change the water. Look at it.
            155 Sheet minimum reached.
            185 GetReady
            185 Change the water. Look at it.
        "#]],
    );
}

#[test]
fn the_last_baths_are_asked_for_and_ended() {
    let mut plan = Plan::shipped(&Habits::default(), 0);
    plan.steps.drain(..4);
    let run = tap(Run::new(plan), Command::Start { anyway: false }, START);
    let run = tap(run, Command::TankIsEmpty { ago_ms: 0 }, at(70));
    check(&run, 80, &expect![["70 Stabiliser or skip?\n"]]);
    let run = tap(run, Command::Choose(With::With), at(75));
    let heard = said(&run, at(75), at(160));
    expect![[r#"
        75 Stabiliser next. Pour on the tone.
        83 Go
        85 Stabiliser until twelve nineteen and three.
        89 Lid on. Agitate next.
        93 Go
        108 Rest
        109 Rest now. Tap the tank.
        133 Ten seconds.
        133 GetReady
        143 Rest
    "#]]
    .assert_eq(&sorted(&heard));
    let run = tap(run, Command::TankIsEmpty { ago_ms: 0 }, at(145));
    check(&run, 150, &expect![["145 Gently. Then hang it.\n"]]);
}

fn sorted(heard: &str) -> String {
    let mut lines: Vec<_> = heard.lines().collect();
    lines.sort_by_key(|line| {
        let (seconds, rest) = line.split_once(' ').unwrap();
        (seconds.parse::<i64>().unwrap(), !rest.ends_with('.'))
    });
    lines.iter().map(|line| format!("{line}\n")).collect()
}

#[test]
fn the_tub_is_asked_for_once_in_three_minutes_while_no_reading_is_fresh() {
    let agitation = Plan::shipped(&Habits::default(), 0).steps[2].agitation;
    let run = stepping(&Habits::default(), 1_200_000, agitation, 2);
    let tub = |run: &Run| -> Vec<i64> {
        cues(run, START, at(1_200))
            .into_iter()
            .filter(|cue| cue.signal == Signal::Say(Say::CheckTheTub))
            .map(|cue| cue.at.since_ms(START) / 1_000)
            .collect()
    };
    assert_eq!(tub(&run), [322, 502, 682, 862, 1042]);
    let celsius = process_model::quantity::Celsius::new(41.0);
    let run = tap(run, Command::Read { place: Place::Tub, celsius }, at(330));
    assert_eq!(tub(&run), [322, 652, 832, 1012, 1192]);
}

#[test]
fn words_of_the_moment_give_way_to_a_prompt() {
    let run = started(&Habits::default());
    assert!(has_room(&run, at(25), 2_000));
    assert!(!has_room(&run, at(33), 2_100), "a prompt begins at 35");
    assert!(!has_room(&run, at(13), 1_500), "a tone sounds at 15");
    assert!(!has_room(&run, at(22), 500), "a prompt is being said");
}

#[test]
fn all_that_comes_moves_with_a_time_that_was_chosen() {
    let developer = started(&Habits::default());
    let developer = tap(developer, Command::TankIsEmpty { ago_ms: 0 }, at(66));
    // The tone is at 74 s, the pour back ten seconds before 210 s.
    let chosen = tap(developer.clone(), Command::ChooseTime { time_ms: 225_000 }, at(150));
    let pours = |run: &Run| {
        let twice = |cue: &Cue| cue.signal == Signal::Tone(Tone::GoTwice);
        let at = cues(run, at(151), at(320)).into_iter().filter(twice).map(|cue| cue.at);
        at.map(|at| at.since_ms(START) / 1_000).collect::<Vec<_>>()
    };
    assert_eq!(pours(&developer), [74 + 200]);
    assert_eq!(pours(&chosen), [74 + 215]);
    let left = |run: &Run| crate::view::view(run, at(174)).scene.left();
    assert_eq!((left(&developer), left(&chosen)), (Some(110_000), Some(125_000)));
}

fn level() -> impl Strategy<Value = Words> {
    prop_oneof![Just(Words::All), Just(Words::Few), Just(Words::Tones)]
}

fn habits() -> impl Strategy<Value = Habits> {
    let convention = prop_oneof![Just(Convention::AsYouBegin), Just(Convention::WhenComplete)];
    (2_u32..=40, 2_u32..=40, 5_u32..=20, level(), convention).prop_map(
        |(fill_s, drain_s, lead_in_s, words, convention)| Habits {
            fill_s,
            drain_s,
            lead_in_s,
            words,
            convention,
            ..Habits::default()
        },
    )
}

fn rhythm() -> impl Strategy<Value = Agitation> {
    let whole = Seconds::whole;
    prop_oneof![
        Just(Agitation::Still),
        Just(Agitation::Continuous),
        (1_u32..40).prop_map(move |first| Agitation::Once { first: whole(first) }),
        (1_u32..40, 1_u32..20, 3_u32..90).prop_map(move |(first, repeat, interval)| {
            Agitation::Repeated {
                first: whole(first),
                repeat: whole(repeat),
                interval: whole(interval),
            }
        }),
    ]
}

/// A timed step of any shape under any habits, about to be poured.
fn any_step() -> impl Strategy<Value = Run> {
    (habits(), 1_i64..1_200, rhythm(), 0_usize..3).prop_map(|(habits, time, agitation, index)| {
        stepping(&habits, time * 1_000, agitation, index)
    })
}

proptest! {
    /// A page in the background ticks late and unevenly; each cue must still come once.
    #[test]
    fn no_cue_is_lost_or_doubled_at_any_tick_cadence(
        run in any_step(),
        mut ticks in prop::collection::vec(0_i64..1_500_000, 0..50),
    ) {
        ticks.push(1_500_000);
        ticks.sort_unstable();
        let mut heard = Vec::new();
        let mut last = START;
        for tick in ticks.into_iter().map(|ms| START.plus_ms(ms)) {
            heard.extend(cues(&run, last, tick));
            last = tick;
        }
        prop_assert_eq!(heard, cues(&run, START, last));
    }

    #[test]
    fn what_was_worked_out_ahead_is_what_would_be_worked_out_anew(
        run in any_step(),
        mut ticks in prop::collection::vec((0_i64..1_500_000, 0_u8..8), 0..50),
    ) {
        ticks.sort_unstable();
        let (mut run, mut ahead, mut last) = (run, Ahead::default(), START);
        for (tick, what) in ticks {
            let now = START.plus_ms(tick);
            prop_assert_eq!(ahead.shown(&run, last, now), shown(&run, last, now));
            last = now;
            // Now and then something happens that moves what follows.
            let command = match what {
                0 => Command::TankIsEmpty { ago_ms: 0 },
                1 => Command::Undo,
                2 => Command::Redo,
                _ => continue,
            };
            if let Ok(entry) = decide(&run, command, now) {
                run = apply(run, entry);
            }
        }
    }

    #[test]
    fn words_end_a_second_before_the_next_tone_and_touch_no_other_words(run in any_step()) {
        let all = cues(&run, START, START.plus_ms(1_500_000));
        let words: Vec<_> = all
            .iter()
            .filter_map(|cue| match cue.signal {
                Signal::Say(say) => Some((cue.at, cue.at.plus_ms(say.milliseconds()), say)),
                Signal::Tone(_) => None,
            })
            .collect();
        for pair in words.windows(2) {
            prop_assert!(pair[0].1 <= pair[1].0, "{:?} runs into {:?}", pair[0], pair[1]);
        }
        let marks = all.iter().filter(|cue| {
            matches!(cue.signal, Signal::Tone(tone) if tone != Tone::Tick)
        });
        for mark in marks {
            for (from, to, say) in &words {
                let before = to.plus_ms(1_000) <= mark.at;
                prop_assert!(mark.at <= *from || before, "{:?} at {:?}, {:?}", say, from, mark);
            }
        }
    }

    #[test]
    fn nobody_agitates_in_the_last_three_seconds_before_pour_back(run in any_step()) {
        let clock = run.step_clock(0).unwrap();
        if let Some(back) = clock.pour_back {
            for spell in clock.spells.iter().skip(1) {
                prop_assert!(spell.end + 3_000 <= back);
            }
            for spell in &clock.spells {
                prop_assert!(spell.end <= back);
            }
        }
    }

    #[test]
    fn who_drains_on_time_and_taps_never_hears_the_alarm(habits in habits()) {
        let mut run = started(&habits);
        let mut heard = Vec::new();
        while let Tank::Bath { step, tone_at, .. } = run.state.tank {
            let clock = run.step_clock(step).unwrap();
            let last_wash = run.plan.is_last_wash(step);
            let end = if last_wash { 400_000 } else { clock.end };
            let out = clock.zero(tone_at).plus_ms(end);
            heard.extend(cues(&run, tone_at, out));
            if last_wash {
                run = tap(run, Command::Judge(Look::Clear), out);
                run = tap(run, Command::Judge(Look::Clear), out.plus_ms(60_000));
            } else {
                run = tap(run, Command::TankIsEmpty { ago_ms: 0 }, out);
            }
        }
        let alarms = heard.iter().filter(|cue| cue.signal == Signal::Tone(Tone::Alarm)).count();
        prop_assert_eq!(alarms, 0);
    }
}

#[test]
fn a_developer_that_stays_in_sounds_the_alarm_until_the_tap() {
    let habits = Habits { sheet: SheetId::MultiBathC41.key(), ..Habits::default() };
    let run = tap(started(&habits), Command::TankIsEmpty { ago_ms: 0 }, at(65));
    let end = at(65 + 8 + 195);
    let alarms = |run: &Run| {
        cues(run, end, end.plus_ms(60_000))
            .into_iter()
            .filter(|cue| cue.signal == Signal::Tone(Tone::Alarm))
            .map(|cue| cue.at.since_ms(end) / 1_000)
            .collect::<Vec<_>>()
    };
    assert_eq!(alarms(&run), [10, 25, 40, 55]);
    let run = tap(run, Command::TankIsEmpty { ago_ms: 0 }, end.plus_ms(12_000));
    assert!(alarms(&run).is_empty());
}
