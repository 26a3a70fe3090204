use proptest::prelude::*;

use super::*;
use crate::habits::Habits;
use crate::plan::Plan;
use crate::run::apply;
use crate::view::{Scene, view};

const START: Timestamp = Timestamp::from_milliseconds(5_000_000);

fn at(seconds: i64) -> Timestamp {
    START.plus_ms(seconds * 1_000)
}

fn tap(run: Run, command: Command, now: Timestamp) -> Run {
    let entry = decide(&run, command, now).unwrap();
    apply(run, entry)
}

const OUT: Command = Command::TankIsEmpty { ago_ms: 0 };

/// The pre-soak is poured at 5 s and ends at 65 s.
fn pre_soaking() -> Run {
    tap(Run::new(Plan::shipped(&Habits::default(), 0)), Command::Start { anyway: false }, START)
}

/// The developer is poured at 73 s and ends at 283 s.
fn developing() -> Run {
    tap(pre_soaking(), OUT, at(65))
}

/// The wash is poured at 800 s.
fn washing() -> Run {
    let run = tap(developing(), OUT, at(283));
    tap(run, OUT, at(792))
}

#[test]
fn a_whole_run_takes_nine_taps() {
    let mut run = washing();
    assert_eq!(run.log.len(), 4);
    run = tap(run, Command::Judge(Look::Clear), at(800 + 301));
    run = tap(run, Command::Judge(Look::Clear), at(800 + 361));
    run = tap(run, OUT, at(800 + 361 + 70));
    run = tap(run, Command::Choose(With::With), at(1_240));
    run = tap(run, OUT, at(1_320));
    assert_eq!(run.log.len(), 9);
    assert_eq!(run.state.tank, Tank::Done { at: at(1_320) });
    assert!(run.state.actual.iter().all(|actual| actual.out_at.is_some()));
}

#[test]
fn nothing_ends_a_step_before_its_last_twenty_seconds() {
    let run = developing();
    for seconds in [74, 100, 262] {
        assert_eq!(decide(&run, OUT, at(seconds)), Err(Refusal::TooEarly));
        assert_eq!(decide(&run, Command::Leave, at(seconds)), Err(Refusal::TooEarly));
    }
    assert!(decide(&run, OUT, at(263)).is_ok());
}

#[test]
fn a_tap_during_a_lead_in_begins_it_anew() {
    let run = tap(developing(), OUT, at(70));
    let Tank::Bath { tone_at, .. } = run.state.tank else { unreachable!() };
    assert_eq!(tone_at, at(78));
    assert_eq!(run.state.actual[0].out_at, Some(at(65)), "the tank was empty at the first tap");
}

#[test]
fn a_wash_is_not_ended_by_the_big_button_of_other_baths() {
    assert_eq!(decide(&washing(), OUT, at(1_200)), Err(Refusal::WashIsJudged));
    let early = tap(washing(), Command::EndWash, at(930));
    assert_eq!(early.state.actual[3].out_at, Some(at(930)));
}

#[test]
fn an_out_time_is_dated_back_once_and_the_lead_in_stays() {
    let run = tap(developing(), Command::BackDate { by_ms: 10_000 }, at(68));
    assert_eq!(run.state.actual[0].out_at, Some(at(55)));
    let Tank::Bath { tone_at, .. } = run.state.tank else { unreachable!() };
    assert_eq!(tone_at, at(73));
    let again = Command::BackDate { by_ms: 5_000 };
    assert_eq!(decide(&run, again, at(70)), Err(Refusal::NothingToDateBack));
    assert_eq!(decide(&developing(), again, at(126)), Err(Refusal::NothingToDateBack));
}

#[test]
fn undo_lasts_a_minute() {
    let run = developing();
    assert!(decide(&run, Command::Undo, at(125)).is_ok());
    assert_eq!(decide(&run, Command::Undo, at(126)), Err(Refusal::NothingToUndo));
}

#[test]
fn redo_lasts_until_the_next_tap() {
    let undone = tap(developing(), Command::Undo, at(70));
    assert!(decide(&undone, Command::Redo, at(130)).is_ok());
    assert_eq!(decide(&undone, Command::Redo, at(131)), Err(Refusal::NothingToRedo));
    let noted = tap(undone, Command::Note(Fault::Light), at(72));
    assert_eq!(decide(&noted, Command::Redo, at(73)), Err(Refusal::NothingToRedo));
}

#[test]
fn taps_are_undone_one_by_one() {
    let mut run = developing();
    for second in 80..83 {
        run = tap(run, Command::Note(Fault::Spilled), at(second));
    }
    for left in (0..3).rev() {
        run = tap(run, Command::Undo, at(90));
        assert_eq!(run.state.faults.len(), left);
    }
    let run = tap(run, Command::Undo, at(91));
    assert!(matches!(run.state.tank, Tank::Bath { step: 0, .. }));
}

#[test]
fn after_an_undo_that_came_after_the_pour_tone_the_page_asks_what_is_in() {
    let before = tap(developing(), Command::Undo, at(72));
    assert_eq!(view(&before, at(72)).still_in, None);
    let after = tap(developing(), Command::Undo, at(74));
    assert_eq!(view(&after, at(75)).still_in, Some(Bath::PreSoak));
}

#[test]
fn a_start_is_undone_too() {
    let run = tap(pre_soaking(), Command::Undo, at(3));
    assert_eq!(view(&run, at(3)).scene, Scene::Ready);
    let run = tap(run, Command::Start { anyway: true }, at(10));
    assert_eq!(run.started_at(), Some(at(10)));
}

proptest! {
    /// Wherever a run is, UNDO and REDO restore state, clock and cues exactly.
    #[test]
    fn undo_then_redo_restores_everything(
        commands in prop::collection::vec((0_usize..9, 0_i64..120_000), 1..30),
        later in 0_i64..60_000,
    ) {
        let choices = [
            Command::Start { anyway: false },
            OUT,
            OUT,
            Command::Choose(With::With),
            Command::Judge(Look::Clear),
            Command::Note(Fault::Spilled),
            Command::BackDate { by_ms: 5_000 },
            Command::Read { place: Place::Tub, celsius: Celsius::new(41.0) },
            Command::EndWash,
        ];
        let mut run = tap(Run::new(Plan::shipped(&Habits::default(), 0)), choices[0], START);
        let mut now = START;
        for (choice, after) in commands {
            now = now.plus_ms(after);
            if let Ok(entry) = decide(&run, choices[choice], now) {
                run = apply(run, entry);
            }
        }
        if undoable(&run, now.plus_ms(later)).is_some() {
            let undone = tap(run.clone(), Command::Undo, now.plus_ms(later));
            let redone = tap(undone, Command::Redo, now.plus_ms(later + 59_000));
            prop_assert_eq!(&redone.state, &run.state);
            let span = (now, now.plus_ms(600_000));
            prop_assert_eq!(crate::cues(&redone, span.0, span.1), crate::cues(&run, span.0, span.1));
        }
    }
}
