//! Where a window of cues begins and ends, what each level of words leaves out, and how often things
//! are said again.

use super::*;

fn heard(run: &Run, from: i64, until: i64) -> Vec<Signal> {
    cues(run, at(from), at(until)).into_iter().map(|cue| cue.signal).collect()
}

fn washing(least_ms: i64) -> Run {
    let mut plan = Plan::shipped(&Habits::default(), 0);
    plan.steps.drain(..3);
    plan.steps[0].least_ms = least_ms;
    tap(Run::new(plan), Command::Start { anyway: false }, START)
}

#[test]
fn a_cue_at_the_end_of_a_window_belongs_to_the_next_one() {
    let run = started(&Habits::default());
    assert_eq!(heard(&run, 4, 5), []);
    assert_eq!(heard(&run, 5, 6), [Signal::Tone(Tone::Go)]);
}

#[test]
fn with_tones_only_nothing_is_said_of_the_wash_but_all_of_it_is_shown() {
    let mut run = washing(90_000);
    run.state.words = Words::Tones;
    let is_said = |cue: &Cue| matches!(cue.signal, Signal::Say(_));
    let all = |cues: Vec<Cue>| cues.into_iter().filter(is_said).count();
    assert_eq!(all(cues(&run, START, at(200))), 0);
    assert_eq!(all(shown(&run, START, at(200))), 5);
}

#[test]
fn the_water_is_changed_at_every_full_minute_whenever_one_listens() {
    let run = washing(90_000);
    // The tone is at five seconds: 125 is two minutes after it, to the millisecond.
    for until in [125, 126, 180] {
        let fills = heard(&run, 6, until).into_iter();
        let fills = fills.filter(|signal| *signal == Signal::Say(Say::ChangeTheWater)).count();
        assert_eq!(fills, if until == 125 { 1 } else { 2 }, "{until}");
    }
}

#[test]
fn the_minimum_of_a_wash_is_said_where_it_touches_no_other_words() {
    let is_said = |least_ms: i64| {
        let all = heard(&washing(least_ms), 0, 400);
        all.contains(&Signal::Say(Say::MinimumReached))
    };
    let change = Say::ChangeTheWater.milliseconds();
    let minimum = Say::MinimumReached.milliseconds();
    assert!(is_said(60_000 + change) && !is_said(60_000 + change - 1));
    let last = 120_000 - minimum - 1_000;
    assert!(is_said(last) && !is_said(last + 1));
    assert!(!is_said(120_000), "the change of water says it");
}

#[test]
fn a_clock_that_is_centuries_off_costs_no_more_than_one_that_is_right() {
    let years = 2_000 * 365 * 86_400;
    let wash = washing(90_000);
    assert_eq!(heard(&wash, years, years + 60).len(), 2);
    let developer = tap(started(&Habits::default()), Command::TankIsEmpty { ago_ms: 0 }, at(66));
    assert_eq!(heard(&developer, years, years + 60).len(), 8, "four alarms and their words");
}

#[test]
fn practice_says_so_before_its_first_tone() {
    let plan = Plan { practice: true, ..Plan::shipped(&Habits::default(), 0) };
    let run = tap(Run::new(plan), Command::Start { anyway: false }, START);
    assert_eq!(heard(&run, 0, 1), [Signal::Say(Say::Practice)]);
}

#[test]
fn a_tub_that_was_asked_for_in_one_bath_is_not_asked_for_at_once_in_the_next() {
    let agitation = Plan::shipped(&Habits::default(), 0).steps[2].agitation;
    let mut plan = Plan::shipped(&Habits::default(), 0);
    plan.steps[1].time_ms = 360_000;
    plan.steps[1].agitation = agitation;
    plan.steps.drain(..1);
    let run = tap(Run::new(plan), Command::Start { anyway: true }, START);
    let out = tap(run.clone(), Command::TankIsEmpty { ago_ms: 0 }, at(365));
    let asked = |run: &Run, from, until| -> Vec<i64> {
        let all = cues(run, at(from), at(until)).into_iter();
        let tub = all.filter(|cue| cue.signal == Signal::Say(Say::CheckTheTub));
        tub.map(|cue| cue.at.since_ms(START) / 1_000).collect()
    };
    let first = asked(&run, 0, 365);
    assert_eq!(first.len(), 1, "{first:?}");
    let then = asked(&out, 365, 900);
    assert!(then.first().is_some_and(|then| then - first[0] >= 180), "{first:?} {then:?}");
}
