use proptest::prelude::*;

use super::*;
use crate::command::{Command, decide};
use crate::habits::{Convention, Habits};
use crate::plan::Plan;
use crate::run::apply;

const START: Timestamp = Timestamp::from_milliseconds(5_000_000);

fn tap(run: Run, command: Command, now: Timestamp) -> Run {
    let entry = decide(&run, command, now).unwrap();
    apply(run, entry)
}

fn developing(habits: &Habits) -> Run {
    let run = Run::new(Plan::shipped(habits, 0));
    let run = tap(run, Command::Start { anyway: false }, START);
    tap(run, Command::TankIsEmpty { ago_ms: 0 }, START.plus_ms(65_000))
}

#[test]
fn a_clock_that_starts_when_pouring_is_complete_shows_more_than_its_time_while_filling() {
    let habits = Habits { convention: Convention::WhenComplete, ..Habits::default() };
    let run = developing(&habits);
    let tone = START.plus_ms(73_000);
    assert_eq!(view(&run, tone).scene.left(), Some(220_000));
    assert_eq!(view(&run, tone).out_at, Some(tone.plus_ms(220_000)));
}

#[test]
fn the_time_to_pour_back_is_on_the_phones_clock() {
    let run = developing(&Habits::default());
    let hour = Command::ClockWasSet { by_ms: 3_600_000 };
    let before = view(&run, START.plus_ms(100_000)).pour_back_at.unwrap();
    let set = tap(run, hour, START.plus_ms(100_000));
    let after = view(&set, START.plus_ms(100_000));
    assert_eq!(after.pour_back_at, Some(before.plus_ms(3_600_000)));
    assert_eq!(after.scene.left(), Some(183_000), "what is left does not change");
}

#[test]
fn the_end_control_is_armed_for_the_last_twenty_seconds_and_after() {
    let run = developing(&Habits::default());
    let at = |seconds: i64| view(&run, START.plus_ms(73_000 + seconds * 1_000));
    assert!(!at(189).armed);
    assert!(at(190).armed);
    assert_eq!(at(215).scene, Scene::Over { by: 5_000 });
    assert!(at(215).armed);
}

#[test]
fn without_what_runs_a_view_stays_the_same_until_what_goes_on_changes() {
    let run = developing(&Habits::default());
    let at = |seconds: i64| view(&run, START.plus_ms(73_000 + seconds * 1_000));
    let mut changes = Vec::new();
    for second in 1..230 {
        if at(second).still() != at(second - 1).still() {
            changes.push(second);
        }
        assert_ne!(at(second), at(second - 1), "digits change with every second");
    }
    // Filled, and moved; moved again and again; UNDO is over; the key is out; poured back; over.
    let spells = (30..=180).step_by(30).flat_map(|spell| [spell, spell + 5]);
    let mut known: Vec<i64> = [10, 20, 53, 190, 200, 210].into_iter().chain(spells).collect();
    known.sort_unstable();
    assert_eq!(changes, known);
}

proptest! {
    #[test]
    fn nothing_but_what_runs_is_taken_out_of_a_view(at in -10_000_i64..400_000) {
        let run = developing(&Habits::default());
        let view = view(&run, START.plus_ms(73_000 + at));
        let still = view.still();
        prop_assert_eq!(still.scene.state_word(), view.scene.state_word());
        prop_assert_eq!(still.scene.left().is_some(), view.scene.left().is_some());
        prop_assert_eq!(View { scene: view.scene.clone(), ..still.clone() }, view);
        prop_assert_eq!(still.still(), still);
    }

    #[test]
    fn what_is_left_falls_as_time_passes(from in 0_i64..300_000, by in 0_i64..60_000) {
        let run = developing(&Habits::default());
        let tone = START.plus_ms(73_000);
        let left = |at: i64| {
            let scene = view(&run, tone.plus_ms(at)).scene;
            if let Scene::Over { by } = scene { -by } else { scene.left().unwrap() }
        };
        prop_assert_eq!(left(from) - left(from + by), by);
    }
}
