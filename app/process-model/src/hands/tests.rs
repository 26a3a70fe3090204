use proptest::prelude::*;

use super::*;

fn step(time_s: u32, bottle: Option<u8>, slip_s: Option<u32>) -> HandStep {
    HandStep {
        time_s,
        pour_in_s: 12,
        pour_out_s: 12,
        bottle,
        rhythm: slip_s.map(|slip_s| Rhythm { first_s: 10, every_s: 30, spell_s: 5, slip_s }),
        rinse_s: 0,
        turnaround_s: 0,
    }
}

fn tank(slip_s: u32) -> Vec<HandStep> {
    vec![
        step(60, None, None),
        step(210, Some(0), Some(0)),
        step(480, Some(1), Some(slip_s)),
        step(480, None, None),
    ]
}

fn two(slip_s: u32) -> Schedule {
    let pattern = Pattern::of(&tank(slip_s), ClockStarts::WhenComplete, 0).unwrap();
    earliest(&Search { tanks: vec![vec![&pattern]; 2] }).unwrap()
}

#[test]
fn a_little_slip_of_the_bleach_fix_lets_the_second_tank_begin_much_earlier() {
    let (rigid, slipping) = (two(0), two(10));
    assert!(rigid.starts_s[1] > slipping.starts_s[1] + 200, "{rigid:?} {slipping:?}");
    assert_ne!(slipping.binds, Binds::Nothing);
}

#[test]
fn both_conventions_give_a_pattern() {
    let begin = Pattern::of(&tank(0), ClockStarts::AsYouBegin, 0).unwrap();
    let complete = Pattern::of(&tank(0), ClockStarts::WhenComplete, 0).unwrap();
    assert_eq!(complete.seconds - begin.seconds, 4 * 24);
}

#[test]
fn a_step_shorter_than_its_pours_is_refused() {
    let steps = [step(20, None, None)];
    assert!(Pattern::of(&steps, ClockStarts::AsYouBegin, 0).is_err());
    assert!(matches!(Pattern::of(&[], ClockStarts::AsYouBegin, 0), Err(Refused::None { .. })));
}

/// Tasks of a schedule, at their own times.
fn placed(pattern: &Pattern, starts: &[i32]) -> Vec<Task> {
    let at = |start: &i32| {
        let start = *start;
        pattern.tasks.iter().map(move |task| Task {
            release: task.release + start,
            latest: task.latest + start,
            seconds: task.seconds,
        })
    };
    starts.iter().flat_map(at).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn schedules_keep_hands_and_bottles_apart_and_nothing_earlier_does(
        developer in 60_u32..300, bleach_fix in 60_u32..500, slip in 0_u32..12, turnaround in 0_u32..60,
    ) {
        let mut steps = vec![step(60, None, None), step(developer, Some(0), Some(0)), step(bleach_fix, Some(1), Some(slip))];
        steps[1].turnaround_s = turnaround;
        let pattern = Pattern::of(&steps, ClockStarts::WhenComplete, 0).unwrap();
        let found = earliest(&Search { tanks: vec![vec![&pattern]; 2] }).unwrap();
        let start = found.starts_s[1];
        prop_assert!(hands_suffice(&placed(&pattern, &found.starts_s)));
        prop_assert!(feasible::bottles_collide(&pattern, 0, &pattern, start).is_none());
        for earlier in 0..start {
            let fits = hands_suffice(&placed(&pattern, &[0, earlier]))
                && feasible::bottles_collide(&pattern, 0, &pattern, earlier).is_none();
            prop_assert!(!fits, "{earlier} fits before {start}");
        }
    }

    #[test]
    fn no_steps_make_it_panic(
        numbers in prop::collection::vec((any::<u32>(), 0_u32..100, 0_u32..100, any::<bool>()), 0..5),
        clock in prop_oneof![Just(ClockStarts::AsYouBegin), Just(ClockStarts::WhenComplete)],
    ) {
        let steps: Vec<HandStep> = numbers
            .into_iter()
            .map(|(time_s, pour, spell, moves)| HandStep {
                pour_in_s: pour,
                rhythm: moves.then_some(Rhythm { first_s: spell, every_s: spell, spell_s: spell, slip_s: pour }),
                ..step(time_s, Some(0), None)
            })
            .collect();
        let _ = Pattern::of(&steps, clock, 5).is_ok();
    }
}
