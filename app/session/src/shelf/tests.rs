//! What went through a solution, what was done with it, and what follows.

use proptest::prelude::*;

use super::*;
use crate::entry::{Entry, Event};
use crate::habits::Habits;
use crate::notebook::Value;
use crate::notebook::solutions::events_with;
use crate::plan::PlannedStep;

fn at(hours: i64) -> Timestamp {
    Timestamp::from_milliseconds(hours * 3_600_000)
}

fn bottle(id: &str, bath: Bath) -> Record {
    let solution = Record::new(Kind::Solution, id, "d", Timestamp::default());
    solution.with("name", id).with("bath", bath.file_name())
}

fn done(solution: Record, hours: i64, done: Done, ml: Option<f64>) -> Record {
    let events = events_with(Some(&solution), &Deed { ml, ..Deed::new(at(hours), done) });
    solution.with("events", events)
}

fn developer() -> Record {
    done(bottle("dev", Bath::Developer), 0, Done::Mixed, Some(1000.0))
}

fn films(hours: &[i64]) -> Vec<Film> {
    hours
        .iter()
        .map(|hours| Film { at: at(*hours), rolls: 1.0, area_cm2: 562.8, lost_ml: LOST_ML })
        .collect()
}

/// A run that poured `solutions`, and the entries of its log at these seconds.
fn run(solutions: &[&str], entries: &[(i64, Event)]) -> (RunRecord, Run) {
    let plan = Plan::shipped(&Habits::default(), 0);
    let mut record = RunRecord::new("run", "d", plan.clone(), Timestamp::default());
    let ids: Value = solutions.iter().map(|id| Value::from(*id)).collect();
    record.record = record.record.with("solutions", ids);
    let entry = |(seq, (at, event)): (usize, &(i64, Event))| Entry {
        seq: u32::try_from(seq).unwrap(),
        at: Timestamp::from_milliseconds(at * 1000),
        event: event.clone(),
    };
    (record, Run::replay(plan, entries.iter().enumerate().map(entry)))
}

#[test]
fn a_solution_is_looked_at_as_it_was_when_a_roll_went_through() {
    let topped = done(developer(), 10, Done::ToppedUp, Some(200.0));
    let films = films(&[1, 2, 3, 11]);
    let before = standing_at(&topped, &films, at(3));
    assert!((before.rolls - 2.0).abs() < 1e-9, "{before:?}");
    assert_eq!(before, standing_at(&developer(), &films, at(3)));
    let mixed_anew = done(topped, 20, Done::Mixed, Some(1000.0));
    assert_eq!(standing_at(&mixed_anew, &films, at(12)).mixed_at, Some(at(0)));
    assert_eq!(standing(&mixed_anew, &films).mixed_at, Some(at(20)));
}

#[test]
fn six_rolls_by_a_leaflets_rule_are_half_a_minute() {
    let standing = standing(&developer(), &films(&[1, 2, 3, 4, 5, 6]));
    assert!((standing.rolls - 6.0).abs() < 1e-9 && (standing.area_cm2 - 3376.8).abs() < 1e-6);
    assert!((standing.left_ml - 910.0).abs() < 1e-9);
    let rule = Addition { seconds: 5.0, per_ml: 1000.0 };
    assert_eq!(standing.next_ms(210_000, Some(rule)), Some(240_000));
    assert_eq!(standing.next_ms(210_000, None), None);
    let small = Addition { seconds: 0.2, ..rule };
    assert_eq!(standing.next_ms(210_000, Some(small)), None, "two seconds are not worth a word");
}

#[test]
fn what_was_mixed_anew_is_fresh_and_what_went_through_before_does_not_count() {
    let anew = done(developer(), 4, Done::Mixed, Some(600.0));
    let standing = standing(&anew, &films(&[1, 2, 5]));
    assert!((standing.rolls - 1.0).abs() < 1e-9 && (standing.mixed_ml - 600.0).abs() < 1e-9);
    assert_eq!(standing.mixed_at, Some(at(4)));
}

#[test]
fn a_top_up_takes_its_share_of_what_went_through() {
    let topped = done(developer(), 3, Done::ToppedUp, Some(970.0));
    let standing = standing(&topped, &films(&[1, 2]));
    // 970 mL were left, and as much fresh was put in: half of the wear in twice as much.
    assert!((standing.left_ml - 1940.0).abs() < 1e-9);
    assert!((standing.worn_rolls / standing.mixed_ml - 1.0 / 1000.0).abs() < 1e-9);
    assert!((standing.rolls - 2.0).abs() < 1e-9);
}

#[test]
fn doubts_looks_clips_and_the_end_are_told() {
    let solution = done(developer(), 1, Done::Suspect, None);
    let solution = done(solution, 2, Done::LookedAt, None);
    let deed = |clears_s| Deed { clears_s: Some(clears_s), ..Deed::new(at(3), Done::LookedAt) };
    let solution = [20.0, 41.0].into_iter().fold(solution, |solution, clears_s| {
        let events = events_with(Some(&solution), &deed(clears_s));
        solution.with("events", events)
    });
    let standing = standing(&solution, &[]);
    assert_eq!(standing.suspect.as_ref().map(|(since, _)| *since), Some(at(1)));
    assert_eq!((standing.looked_at, standing.clears_s), (Some(at(3)), Some((20.0, 41.0))));
    assert!(standing.is_there());
    assert!(!super::standing(&done(solution, 9, Done::Discarded, None), &[]).is_there());
}

#[test]
fn only_a_bath_that_was_poured_counts_and_practice_never_does() {
    let started = (0, Event::Started { anyway: false });
    let emptied = |at| (at, Event::TankEmptied { ago_ms: 0 });
    let (record, whole) = run(&["dev"], &[started.clone(), emptied(65), emptied(300)]);
    let film = film_of(&developer(), &record, &whole, &[], LOST_ML).unwrap();
    assert!((film.rolls - 1.0).abs() < 1e-9, "a run without a roll is one of 36 exposures");
    let (_, short) = run(&["dev"], std::slice::from_ref(&started));
    assert_eq!(film_of(&developer(), &record, &short, &[], LOST_ML), None);
    let (_, left) = run(&["dev"], &[started.clone(), emptied(65), (67, Event::Left)]);
    assert_eq!(
        film_of(&developer(), &record, &left, &[], LOST_ML),
        None,
        "stopped before its tone"
    );
    let other = bottle("other", Bath::Developer);
    assert_eq!(film_of(&other, &record, &whole, &[], LOST_ML), None);
    let mut practice = whole.clone();
    practice.plan.practice = true;
    assert_eq!(film_of(&developer(), &record, &practice, &[], LOST_ML), None);
}

#[test]
fn rolls_count_by_their_formats() {
    let (record, whole) = run(
        &["dev"],
        &[(0, Event::Started { anyway: false }), (65, Event::TankEmptied { ago_ms: 0 })],
    );
    let roll = |format: &str| {
        Record::new(Kind::Roll, format, "d", at(0)).with("run", "run").with("format", format)
    };
    let rolls = [roll("135-36"), roll("120"), roll("220"), roll("my own")];
    let film = film_of(&developer(), &record, &whole, &rolls, LOST_ML).unwrap();
    assert!((film.rolls - 5.0).abs() < 1e-9, "{film:?}");
    let needs = |rolls: &[Record], tank| least_ml(rolls.iter(), tank);
    assert_eq!(needs(&rolls[..3], Tank::Plastic), Some(1290.0));
    assert_eq!(needs(&rolls[..2], Tank::Steel), Some(720.0));
    assert_eq!(needs(&rolls[..2], Tank::Rotary), Some(400.0));
    assert_eq!(needs(&rolls, Tank::Plastic), None, "of a film of one's own nobody knows it");
    assert_eq!(needs(&[], Tank::Plastic), None);
}

#[test]
fn the_one_that_was_picked_is_poured_then_a_sound_one_then_the_latest() {
    let old = developer();
    let new = done(bottle("new", Bath::Developer), 5, Done::Mixed, None);
    let all = [old.clone(), new.clone(), bottle("recipe", Bath::Developer)];
    let used = |all: &[Record], picked: &[String]| {
        in_use(all, Bath::Developer, picked, |_| 0).map(|one| one.id().to_owned())
    };
    assert_eq!(used(&all, &[]).as_deref(), Some("new"));
    assert_eq!(used(&all, &["dev".to_owned()]).as_deref(), Some("dev"));
    let ruined = [old.clone(), done(new.clone(), 6, Done::Blocked, None)];
    assert_eq!(used(&ruined, &[]).as_deref(), Some("dev"));
    let gone = [old, done(new, 6, Done::Discarded, None)];
    assert_eq!(used(&gone, &[]).as_deref(), Some("dev"));
    assert_eq!(in_use(&all, Bath::BleachFix, &[], |_| 0), None);
}

#[test]
fn a_bottle_of_the_same_process_is_poured_before_one_that_was_mixed_later() {
    let black_and_white = done(bottle("bw", Bath::Developer), 5, Done::Mixed, None);
    let all = [developer(), black_and_white];
    let used = |all: &[Record], picked: &[String]| {
        let suits = |one: &Record| u8::from(one.id() == "dev");
        in_use(all, Bath::Developer, picked, suits).map(|one| one.id().to_owned())
    };
    assert_eq!(used(&all, &[]).as_deref(), Some("dev"));
    assert_eq!(used(&all, &["bw".to_owned()]).as_deref(), Some("bw"), "what was picked goes first");
    let [colour, black_and_white] = all;
    let ruined = [done(colour, 6, Done::Blocked, None), black_and_white];
    assert_eq!(used(&ruined, &[]).as_deref(), Some("bw"));
}

#[test]
fn a_roll_that_was_put_aside_went_through_all_the_same() {
    let (record, whole) = run(
        &["dev"],
        &[(0, Event::Started { anyway: false }), (65, Event::TankEmptied { ago_ms: 0 })],
    );
    let roll = |id: &str| Record::new(Kind::Roll, id, "d", at(0)).with("run", "run");
    let both = [roll("one").with("format", "120"), roll("other").with("deleted", true)];
    let film = film_of(&developer(), &record, &whole, &both, LOST_ML).unwrap();
    assert!((film.rolls - 2.0).abs() < 1e-9, "{film:?}");
}

#[test]
fn a_bottle_that_was_in_use_before_is_as_worn_as_its_owner_says() {
    let mixed = Deed { rolls: Some(6.0), ml: Some(1000.0), ..Deed::new(at(0), Done::Mixed) };
    let solution = bottle("dev", Bath::Developer);
    let events = events_with(Some(&solution), &mixed);
    let solution = solution.with("events", events);
    let before = standing(&solution, &[]);
    assert!(
        (before.rolls - 6.0).abs() < 1e-9
            && (before.area_cm2 - 6.0 * TRADE_ROLL.get()).abs() < 1e-6
    );
    let rule = Addition { seconds: 5.0, per_ml: 1000.0 };
    assert_eq!(before.next_ms(210_000, Some(rule)), Some(240_000));
    let after = standing(&solution, &films(&[1]));
    assert!((after.worn_rolls - 7.0).abs() < 1e-9);
    // Mixed anew, it is fresh again.
    assert!(standing(&done(solution, 2, Done::Mixed, None), &films(&[1])).rolls.abs() < 1e-9);
}

#[test]
fn part_of_a_kit_is_good_for_that_part_of_its_rolls_and_wears_as_much_faster() {
    let leaflet = |solution: Record| {
        solution.with("capacity_rolls", 16).with("add_s", 4.0).with("kit_ml", 1000.0)
    };
    let part = leaflet(done(bottle("dev", Bath::Developer), 0, Done::Mixed, Some(600.0)));
    let films = films(&[1, 2, 3]);
    let standing_of = |solution: &Record| standing(solution, &films);
    let of_part = standing_of(&part);
    assert_eq!(capacity(&part, &of_part), Some(9.6));
    let rule = rule_of(&part, &of_part, None);
    assert_eq!(rule, Some(Addition { seconds: 4.0, per_ml: 1000.0 }));
    // Three rolls in 600 mL wear it as five in the whole litre: twenty seconds.
    assert_eq!(of_part.next_ms(210_000, rule), Some(230_000));
    let whole = leaflet(developer());
    assert_eq!(capacity(&whole, &standing_of(&whole)), Some(16.0));
    // What is added does not change what the leaflet's figure is about, kit or no kit.
    for solution in [developer().with("add_s", 4.0), whole] {
        let topped = done(solution, 10, Done::ToppedUp, Some(1000.0));
        let rule = rule_of(&topped, &standing_of(&topped), None);
        assert_eq!(rule.map(|rule| rule.per_ml), Some(1000.0));
    }
    // Of a concentrate the leaflet speaks of what was mixed.
    let diluted = part.with("water_parts", 9.0);
    assert_eq!(capacity(&diluted, &standing_of(&diluted)), Some(16.0));
}

#[test]
fn the_addition_of_a_sheet_is_about_its_developer_and_no_other_bath() {
    let sheet = Some(Addition { seconds: 4.0, per_ml: 1000.0 });
    let of = |bath| {
        let solution = done(bottle("one", bath), 0, Done::Mixed, None);
        rule_of(&solution, &standing(&solution, &[]), sheet)
    };
    assert_eq!(of(Bath::Developer), sheet);
    assert_eq!(of(Bath::BleachFix), None);
    assert_eq!(of(Bath::Stabiliser), None);
}

#[test]
fn what_is_left_is_what_somebody_found_and_a_doubt_ends_when_it_is_settled() {
    let found = done(developer(), 5, Done::LookedAt, Some(640.0));
    let standing_of = |solution: &Record| standing(solution, &films(&[1, 6]));
    assert!((standing_of(&found).left_ml - (640.0 - LOST_ML)).abs() < 1e-9);
    let doubted = done(found, 7, Done::Suspect, None);
    let fine = Deed { fine: true, ..Deed::new(at(8), Done::LookedAt) };
    let events = events_with(Some(&doubted), &fine);
    let settled = doubted.clone().with("events", events);
    assert!(standing_of(&doubted).suspect.is_some());
    assert_eq!(standing_of(&settled).suspect, None);
    assert!((standing_of(&settled).rolls - 2.0).abs() < 1e-9, "it is no fresher for that");
    let again = done(settled, 9, Done::Suspect, None);
    assert_eq!(standing_of(&again).suspect.map(|(since, _)| since), Some(at(9)));
}

#[test]
fn developer_in_the_bleach_fix_is_a_fifth_after_eight_rolls_and_a_hundredth_with_a_rinse() {
    let solution = done(bottle("bf", Bath::BleachFix), 0, Done::Mixed, Some(500.0));
    let standing = standing(&solution, &films(&[1, 2, 3, 4, 5, 6, 7, 8]));
    assert!((standing.of_the_bath_before(false) - 0.21).abs() < 0.01);
    assert!((standing.of_the_bath_before(true) - 0.01).abs() < 0.01);
    assert!(standing.covers(380.0) && !standing.covers(390.0));
}

#[test]
fn developer_is_carried_into_the_bleach_fix_past_no_water_or_past_a_stop_bath() {
    let plan = Plan::shipped(&Habits::default(), 0);
    assert_eq!(carried_into(&plan, Bath::BleachFix), Some((Bath::Developer, false)));
    assert_eq!(carried_into(&plan, Bath::Developer), None, "the pre-soak is water");
    assert_eq!(carried_into(&plan, Bath::Fixer), None);
    let mut stopped = plan;
    let place = stopped.steps.iter().position(|step| step.bath == Bath::BleachFix).unwrap();
    let stop = PlannedStep { bath: Bath::StopBath, ..stopped.steps[place].clone() };
    stopped.steps.insert(place, stop);
    assert_eq!(carried_into(&stopped, Bath::BleachFix), Some((Bath::Developer, true)));
}

#[test]
fn the_parts_of_a_kit_are_read_as_they_are_typed() {
    let number = |text: &str| text.parse().ok();
    let read = parts("A 142.5, B 47 mL,, powder C 20 g", number).unwrap();
    let told: Vec<_> =
        read.iter().map(|part| (part.name.as_str(), part.amount, part.is_powder)).collect();
    assert_eq!(told, [("A", 142.5, false), ("B", 47.0, false), ("powder C", 20.0, true)]);
    for nonsense in ["A", "A much", "12", "A -3", "A 0", "A 1e9", " 12"] {
        assert!(parts(nonsense, number).is_err(), "{nonsense}");
    }
    assert_eq!(parts(" , ", number), Ok(Vec::new()));
}

proptest! {
    #[test]
    fn more_film_never_shortens_the_next_time_and_a_top_up_never_lengthens_it(
        hours in proptest::collection::vec(1_i64..100, 0..12), ml in 0.0..2000.0_f64,
    ) {
        let rule = Some(Addition { seconds: 8.0, per_ml: 1000.0 });
        let next = |solution: &Record, films: &[Film]| {
            standing(solution, films).next_ms(210_000, rule).unwrap_or(210_000)
        };
        let some = films(&hours);
        let more: Vec<Film> = some.iter().copied().chain(films(&[50])).collect();
        prop_assert!(next(&developer(), &more) >= next(&developer(), &some));
        let topped = done(developer(), 101, Done::ToppedUp, Some(ml));
        prop_assert!(next(&topped, &some) <= next(&developer(), &some));
    }

    #[test]
    fn film_counts_once_in_whatever_order_runs_are_listed(
        hours in proptest::collection::vec(1_i64..100, 0..12),
    ) {
        let looked = done(developer(), 40, Done::LookedAt, None);
        let mut reversed = films(&hours);
        reversed.reverse();
        let (one, other) = (standing(&looked, &films(&hours)), standing(&looked, &reversed));
        prop_assert!((one.rolls - other.rolls).abs() < 1e-9);
        #[expect(clippy::cast_precision_loss, reason = "a dozen")]
        let count = hours.len() as f64;
        prop_assert!((one.rolls - count).abs() < 1e-9);
    }

    #[test]
    fn no_text_of_parts_makes_it_panic(text in ".*") {
        let _ = parts(&text, |text| text.parse().ok()).is_ok();
    }
}
