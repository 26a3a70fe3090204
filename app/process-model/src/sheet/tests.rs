use super::*;

fn developer(id: SheetId) -> Step {
    let sheet = id.sheet();
    sheet.steps.iter().find(|step| step.is_developer()).cloned().unwrap()
}

#[test]
fn a_developer_is_poured_a_little_warmer_than_its_aim() {
    let found = developer(SheetId::TwoBath389).developer_temperatures().unwrap();
    assert_eq!(found.aim, Celsius::new(38.9));
    assert_eq!(found.pour, Celsius::new(40.0));
    assert_eq!(found.fine, (Celsius::new(38.9), Celsius::new(40.5)));
    assert_eq!(found.hard, (Celsius::new(35.9), Celsius::new(41.9)));
}

#[test]
fn a_cool_developer_is_poured_at_its_aim() {
    let mut cool = developer(SheetId::TwoBath389);
    cool.band =
        Band { aim: Some(Celsius::new(20.0)), least: Celsius::new(15.0), most: Celsius::new(21.0) };
    let found = cool.developer_temperatures().unwrap();
    assert_eq!(found.pour, Celsius::new(20.0));
    assert_eq!(found.fine, (Celsius::new(19.5), Celsius::new(20.5)));
    assert_eq!(found.hard, (Celsius::new(15.0), Celsius::new(23.0)));
}

#[test]
fn only_a_developer_has_pour_and_hard_limits() {
    let with: Vec<_> = SheetId::TwoBath389
        .sheet()
        .steps
        .iter()
        .filter(|step| step.developer_temperatures().is_some())
        .map(|step| step.id.to_string())
        .collect();
    assert_eq!(with, ["developer"]);
}

#[test]
fn every_step_allows_its_own_time_and_temperature() {
    for step in SheetId::ALL.iter().flat_map(|id| id.sheet().steps.into_owned()) {
        let Time { nominal, least, most } = step.time;
        assert!(least <= nominal && nominal <= most, "{}", step.id);
        assert!(step.band.aim.is_none_or(|aim| step.band.holds(aim)), "{}", step.id);
    }
}

#[test]
fn a_sheet_is_found_by_its_key() {
    for id in SheetId::ALL {
        assert_eq!(SheetId::from_key(&id.key()), Some(id));
    }
    assert_eq!(SheetId::from_key("something else"), None);
}

#[test]
fn the_lid_stays_on_until_no_later_step_needs_it() {
    for id in SheetId::ALL {
        let lids: Vec<_> = id.sheet().steps.iter().map(|step| step.light).collect();
        let off = lids.iter().position(|light| *light == Light::LidMayComeOff).unwrap();
        assert!(lids[off..].iter().all(|light| *light == Light::LidMayComeOff));
    }
}
