//! What practice with water teaches about a pair of hands.

use crate::habits::Habits;
use crate::order;
use crate::run::Run;
use crate::timestamp::Timestamp;

/// How long pouring takes, in whole seconds. A half is nothing where it was not seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hands {
    /// Pouring in: from the pour tone to the tap that the tank is full.
    pub fill_s: Option<u32>,
    /// Pouring out: from the tone to pour back to the tap that the tank is empty.
    pub drain_s: Option<u32>,
}

/// What the steps of a practice run have shown: the middle of what was seen, brought into what a
/// habit may be.
pub fn hands(run: &Run) -> Hands {
    let mut fills = Vec::new();
    let mut drains = Vec::new();
    for (index, actual) in run.state.actual.iter().enumerate() {
        let Some(poured) = actual.poured_at else { continue };
        fills.extend(actual.filled_at.map(|filled| filled.since_ms(poured)));
        let back = run.step_clock(index).and_then(|clock| {
            let pour_back = clock.pour_back?;
            Some(clock.zero(poured).plus_ms(pour_back))
        });
        drains
            .extend(actual.out_at.zip(back).map(|(out, back): (Timestamp, _)| out.since_ms(back)));
    }
    Hands {
        fill_s: middle(fills).map(|seconds| Habits::FILL.nearest(seconds)),
        drain_s: middle(drains).map(|seconds| Habits::DRAIN.nearest(seconds)),
    }
}

/// The middle one, in whole seconds. A tap before the tone is no measurement.
fn middle(mut ms: Vec<i64>) -> Option<u32> {
    ms.retain(|ms| (1_000..120_000).contains(ms));
    let ms = order::by(ms, |ms| order::number(ms.unsigned_abs()));
    let middle = ms.get(ms.len() / 2)?;
    u32::try_from((middle + 500) / 1_000).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::entry::{Entry, Event};
    use crate::plan::Plan;

    #[test]
    fn practice_learns_how_long_pouring_takes() {
        let mut plan = Plan::shipped(&Habits::default(), 0);
        plan.practice = true;
        let seconds = |seconds: i64| Timestamp::from_milliseconds(seconds * 1_000);
        let entry = |seq, at, event| Entry { seq, at: seconds(at), event };
        // Pour tone at 5, the tank full at 18; pour back at 55, empty at 67.
        let log = [
            entry(0, 0, Event::Started { anyway: true }),
            entry(1, 18, Event::Filled),
            entry(2, 67, Event::TankEmptied { ago_ms: 0 }),
        ];
        let run = Run::replay(plan.clone(), log);
        assert_eq!(hands(&run), Hands { fill_s: Some(13), drain_s: Some(12) });
        assert_eq!(hands(&Run::new(plan)), Hands { fill_s: None, drain_s: None });
    }
}
