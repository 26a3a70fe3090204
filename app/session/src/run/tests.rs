use proptest::prelude::*;

use super::*;
use crate::habits::Habits;
use crate::notebook::tests::event;

fn log() -> impl Strategy<Value = Vec<Entry>> {
    prop::collection::vec((event(), any::<i32>(), 0_u32..40), 0..40).prop_map(|events| {
        let entry = |(event, at, seq): (Event, i32, u32)| Entry {
            seq,
            at: Timestamp::from_milliseconds(i64::from(at)),
            event,
        };
        events.into_iter().map(entry).collect()
    })
}

proptest! {
    #[test]
    fn no_log_makes_a_run_panic(log in log(), now in any::<i32>()) {
        let run = Run::replay(Plan::shipped(&Habits::default(), 60), log);
        let now = Timestamp::from_milliseconds(i64::from(now));
        let view = crate::view(&run, now);
        let cues = crate::cues(&run, now, now.plus_ms(600_000));
        prop_assert!(cues.len() < 10_000);
        prop_assert!(view.step.is_none_or(|step| step < run.plan.steps.len()));
    }

    #[test]
    fn replay_gives_the_run(log in log()) {
        let plan = Plan::shipped(&Habits::default(), 0);
        let run = Run::replay(plan.clone(), log);
        prop_assert_eq!(Run::replay(plan, run.log.clone()), run);
    }

    #[test]
    fn a_run_read_back_from_its_file_is_the_run(log in log()) {
        let plan = Plan::shipped(&Habits::default(), 0);
        let run = Run::replay(plan.clone(), log);
        let texts: Vec<_> = run.log.iter().map(crate::notebook::entry_to_json).collect();
        let read = texts.iter().map(|text| crate::notebook::entry_from_json(text).unwrap());
        prop_assert_eq!(Run::replay(plan, read), run);
    }
}

fn at(seconds: i64) -> Timestamp {
    Timestamp::from_milliseconds(1_000_000 + seconds * 1_000)
}

/// A run of the usual plan to which these things happen, a number of seconds after its beginning.
fn after(practice: bool, events: &[(i64, Event)]) -> Run {
    happened(Plan { practice, ..Plan::shipped(&Habits::default(), 0) }, events)
}

/// The same of any plan.
fn happened(plan: Plan, events: &[(i64, Event)]) -> Run {
    let numbered = (0..).zip(events);
    let log = numbered.map(|(seq, (seconds, event))| Entry {
        seq,
        at: at(*seconds),
        event: event.clone(),
    });
    Run::replay(plan, log)
}

const STARTED: Event = Event::Started { anyway: true };
const EMPTIED: Event = Event::TankEmptied { ago_ms: 0 };

fn read(celsius: f64) -> Event {
    let celsius = Celsius::new(celsius);
    Event::Read { place: Place::Tub, celsius, doubted: true }
}

fn readings(run: &Run) -> Vec<(f64, bool)> {
    run.state.readings.iter().map(|reading| (reading.celsius.get(), reading.doubted)).collect()
}

#[test]
fn practice_asks_for_a_full_tank_from_the_tone_on_and_once_and_a_real_run_never() {
    // The first lead-in is five seconds.
    let practice = after(true, &[(0, STARTED)]);
    assert!(
        !practice.is_filling(at(4)) && practice.is_filling(at(5)) && practice.is_filling(at(9))
    );
    let filled = after(true, &[(0, STARTED), (12, Event::Filled)]);
    assert!(!filled.is_filling(at(13)));
    assert!(!after(false, &[(0, STARTED)]).is_filling(at(9)));
    assert!(!after(true, &[]).is_filling(at(9)), "nothing is poured yet");
}

#[test]
fn one_reading_is_put_right_or_taken_away_and_the_others_stay() {
    let celsius = Celsius::new(38.5);
    let corrected = Event::ReadingCorrected { of: 1, celsius };
    let run = after(false, &[(0, read(41.0)), (1, read(83.5)), (2, read(40.0)), (3, corrected)]);
    assert_eq!(readings(&run), [(41.0, true), (38.5, false), (40.0, true)]);
    let dropped = Event::ReadingDropped { of: 1 };
    let run = after(false, &[(0, read(41.0)), (1, read(83.5)), (2, read(40.0)), (3, dropped)]);
    assert_eq!(readings(&run), [(41.0, true), (40.0, true)]);
}

#[test]
fn a_lead_in_begins_anew_before_its_tone_and_never_on_it() {
    let tone = |run: &Run| run.state.actual[0].poured_at.map(|tone| tone.since_ms(at(0)));
    let anew = |seconds| after(false, &[(0, STARTED), (seconds, Event::LeadInRestarted)]);
    assert_eq!(tone(&anew(4)), Some(9_000));
    assert_eq!(tone(&anew(5)), Some(5_000));
}

#[test]
fn a_bath_that_was_found_in_the_tank_has_been_there_for_as_long_as_was_said() {
    let found = |step, ago_ms| {
        let events = [(0, STARTED), (65, EMPTIED), (400, Event::FoundInTank { step, ago_ms })];
        after(false, &events)
    };
    let run = found(2, 90_000);
    let since = |instant: Option<Timestamp>| instant.map(|instant| instant.since_ms(at(0)));
    assert_eq!(since(run.state.actual[1].out_at), Some(310_000));
    assert_eq!(since(run.state.actual[2].poured_at), Some(310_000));
    assert!(matches!(run.state.tank, Tank::Bath { step: 2, .. }));
    // Not before the developer was poured, and never later than now.
    assert_eq!(
        found(2, 900_000).state.actual[1].out_at,
        found(2, 900_000).state.actual[1].poured_at
    );
    assert_eq!(since(found(2, -5).state.actual[2].poured_at), Some(400_000));
    // The bath that is in the tank, one before it, or one that no plan has, is not found.
    for step in [0, 1, 99] {
        assert!(matches!(found(step, 0).state.tank, Tank::Bath { step: 1, .. }), "{step}");
    }
}

#[test]
fn a_whole_run_lasts_from_its_first_reading_to_its_last_bath_and_not_before_it_is_over() {
    let short = || {
        let mut plan = Plan::shipped(&Habits::default(), 0);
        plan.steps.truncate(1);
        plan
    };
    let events = [(0, read(41.0)), (30, STARTED), (95, EMPTIED)];
    assert_eq!(happened(short(), &events).whole_ms(), Some(95_000));
    assert_eq!(happened(short(), &events[..2]).whole_ms(), None);
}
