//! Times between and beyond the printed ones, and how far they may be changed.

use super::*;

#[test]
fn half_way_between_two_temperatures_is_the_geometric_mean_of_their_times() {
    // Three pairs that do not lie on one line, so that the nearest two can be told from the others.
    let pairs = [pair(20.0, 900.0), pair(30.0, 400.0), pair(40.0, 100.0)];
    let check = |celsius: f64, seconds: f64, is_estimate: bool| {
        let found = between(&pairs, celsius).unwrap();
        assert!((found.seconds - seconds).abs() < 1e-9, "{celsius}: {found:?}");
        assert_eq!(found.is_estimate, is_estimate, "{celsius}");
    };
    check(25.0, 600.0, false);
    check(35.0, 200.0, false);
    check(20.0, 900.0, false);
    check(30.0, 400.0, false);
    check(40.0, 100.0, false);
    // Ten degrees further along the nearest two.
    check(10.0, 900.0 * 900.0 / 400.0, true);
    check(50.0, 100.0 * 100.0 / 400.0, true);
}

#[test]
fn pairs_may_stand_in_any_order() {
    let pairs = [pair(20.0, 900.0), pair(30.0, 400.0), pair(40.0, 100.0)];
    for order in [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]] {
        let ordered = order.map(|place| pairs[place]);
        for celsius in [15.0, 22.0, 37.0, 45.0] {
            assert_eq!(between(&ordered, celsius), between(&pairs, celsius), "{order:?}");
        }
    }
}

#[test]
fn of_two_pairs_at_one_temperature_the_first_counts() {
    let once = [pair(20.0, 900.0), pair(40.0, 100.0)];
    let twice = [once[0], pair(20.0, 500.0), once[1], pair(40.0, 50.0)];
    for celsius in [15.0, 20.0, 30.0, 40.0, 45.0] {
        assert_eq!(between(&twice, celsius), between(&once, celsius), "{celsius}");
    }
}

#[test]
fn a_pushed_developer_keeps_the_proportions_of_its_sheet() {
    // The sheet allows three quarters to one and a half times its time.
    let bounds = |advised| advise(240.0, advised, 6.0, (150.0, 200.0, 300.0)).unwrap();
    assert_eq!(bounds(100.0), Advice::Bound { seconds: 180.0 });
    assert_eq!(bounds(180.0), Advice::Choice { seconds: 180.0 });
    assert_eq!(bounds(360.0), Advice::Choice { seconds: 360.0 });
    assert_eq!(bounds(500.0), Advice::Bound { seconds: 360.0 });
}

#[test]
fn a_narrow_sheet_leaves_a_tenth_either_way() {
    let bound = |advised| match advise(200.0, advised, 6.0, (195.0, 200.0, 205.0)).unwrap() {
        Advice::Bound { seconds } => seconds,
        other @ (Advice::OnCourse | Advice::Choice { .. }) => panic!("{other:?}"),
    };
    assert!((bound(100.0) - 180.0).abs() < 1e-9);
    assert!((bound(400.0) - 220.0).abs() < 1e-9);
}
