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
