use process_model::quantity::{Celsius, Seconds};

use super::*;
use crate::habits::Habits;
use crate::plan::Plan;

fn now() -> Timestamp {
    Timestamp::from_milliseconds(1_795_000_000_000)
}

fn confirmed(what: &[&str]) -> crate::notebook::Value {
    what.iter().copied().map(crate::notebook::Value::from).collect()
}

fn kept(known: &Known) -> Record {
    shapes::fields(known, None, now()).into_iter().fold(
        Record::new(Kind::Sheet, &known.sheet.key, "phone", now()),
        |record, (field, value)| record.with(field, value),
    )
}

#[test]
fn a_copy_of_a_sheet_reads_back_as_the_persons_own() {
    for id in SheetId::ALL {
        let mut copy = copy_of(&Known::shipped(id), "0a");
        copy.addition = Some(Addition { seconds: 15.0, per_ml: 1_000.0 });
        copy.sheet.pairs = vec![(Celsius::new(30.0), Seconds::whole(480))].into();
        let found = find(&[kept(&copy)], "0a");
        assert!(found.is_own() && found.can_start());
        assert_eq!(found.sheet.steps, copy.sheet.steps);
        assert_eq!(found.sheet.pairs, copy.sheet.pairs);
        assert_eq!(
            (found.addition, found.drain, found.method),
            (copy.addition, copy.drain, copy.method)
        );
    }
}

#[test]
fn only_two_sheets_start_before_a_leaflet_was_compared() {
    let can: Vec<_> = all(&[]).into_iter().map(|known| known.can_start()).collect();
    assert_eq!(can, [true, true, false, false, false, false, false, false, false]);
}

#[test]
fn a_sheet_starts_after_one_tap_and_one_more_for_each_doubtful_step() {
    let key = SheetId::TwoBath378.key();
    let asked = find(&[], &key).unconfirmed();
    assert_eq!(asked, ["sheet", "bleachfix"]);
    let said = Record::new(Kind::Sheet, "0a", "phone", now()).with("of", key.clone());
    let half = said.clone().with("confirmed", confirmed(&["sheet"]));
    assert!(!find(&[half], &key).can_start());
    let whole = said.with("confirmed", confirmed(&["sheet", "bleachfix"]));
    assert!(find(&[whole], &key).can_start());
}

#[test]
fn a_change_of_steps_keeps_the_steps_of_before() {
    let first = copy_of(&Known::shipped(SheetId::TwoBath389), "0a");
    let record = kept(&first);
    let first = find(std::slice::from_ref(&record), "0a");
    let mut second = first.clone();
    second.sheet.steps.to_mut()[1].time.nominal = Seconds::whole(225);
    let record =
        record.edited("phone", now().plus_ms(1), shapes::fields(&second, Some(&first), now()));
    let found = find(&[record], "0a");
    assert_eq!((found.rev, found.versions.len()), (2, 1));
    assert_eq!(found.versions[0].2[1].time.nominal, Seconds::whole(210));
    assert_eq!(found.sheet.steps[1].time.nominal, Seconds::whole(225));
}

#[test]
fn a_drain_outside_the_time_comes_on_top() {
    let mut known = Known::shipped(SheetId::TwoBath389);
    known.drain = Drain::Outside;
    known.convention = Some(Convention::WhenComplete);
    let plan = Plan::new(&Habits { drain_s: 12, ..Habits::default() }, &known, 0);
    assert_eq!(plan.steps[1].time_ms, 222_000);
    assert_eq!(plan.convention, Convention::WhenComplete);
}

#[test]
fn the_shipped_sheets_have_no_faults() {
    for known in all(&[]) {
        assert_eq!(known.faults(), [], "{}", known.sheet.key);
    }
}

#[test]
fn impossible_values_are_named() {
    let mut known = copy_of(&Known::shipped(SheetId::TwoBath389), "0a");
    let step = &mut known.sheet.steps.to_mut()[1];
    step.time.nominal = Seconds::whole(0);
    step.band.least = Celsius::new(40.0);
    step.agitation = process_model::agitation::Agitation::Repeated {
        first: Seconds::whole(10),
        repeat: Seconds::whole(35),
        interval: Seconds::whole(30),
    };
    let said: Vec<_> = known.faults().into_iter().map(|(at, says)| (at, says.len())).collect();
    assert_eq!(said.len(), 6, "{:?}", known.faults());
    assert!(said.iter().all(|(at, _)| *at == Some(1)));
}

#[test]
fn a_new_step_gets_a_name_of_its_own() {
    let steps = SheetId::TwoBath389.sheet().steps;
    assert_eq!(step_id(&steps, Bath::Fixer), "fixer");
    assert_eq!(step_id(&steps, Bath::Wash), "wash_2");
}
