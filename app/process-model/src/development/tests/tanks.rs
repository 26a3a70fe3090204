//! A tank in the tub and out of it, by the law of Newton.

use super::*;

fn out(at_s: f64, seconds: f64) -> Duty {
    Duty { at_s, seconds }
}

fn tank(out: Vec<Duty>) -> Tank {
    Tank { heat_j_k: 2_400.0, in_tub_w_k: 1.8, in_air_w_k: 1.2, tub_c: 40.0, room_c: 20.0, out }
}

/// A tank that exchanges nothing with what is around it.
fn closed() -> Tank {
    Tank { in_tub_w_k: 0.0, in_air_w_k: 0.0, ..tank(vec![]) }
}

fn in_tub(celsius: f64, seconds: f64) -> f64 {
    40.0 + (celsius - 40.0) * libm::exp(-1.8 / 2_400.0 * seconds)
}

fn in_air(celsius: f64, seconds: f64) -> f64 {
    20.0 + (celsius - 20.0) * libm::exp(-1.2 / 2_400.0 * seconds)
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9, "{found} for {expected}");
}

#[test]
fn a_tank_follows_the_tub_in_it_and_the_room_out_of_it() {
    let lifted = tank(vec![out(0.0, 10.0), out(30.0, 5.0)]);
    near(lifted.celsius(38.0, 0.0), 38.0);
    near(lifted.celsius(38.0, 4.0), in_air(38.0, 4.0));
    let lowered = in_air(38.0, 10.0);
    near(lifted.celsius(38.0, 10.0), lowered);
    near(lifted.celsius(38.0, 22.0), in_tub(lowered, 12.0));
    let again = in_tub(lowered, 20.0);
    near(lifted.celsius(38.0, 33.0), in_air(again, 3.0));
    near(lifted.celsius(38.0, 300.0), in_tub(in_air(again, 5.0), 265.0));
}

#[test]
fn lifts_that_overlap_are_one() {
    let once = tank(vec![out(10.0, 20.0)]);
    let runs_on = tank(vec![out(10.0, 12.0), out(15.0, 15.0)]);
    let holds_one = tank(vec![out(10.0, 20.0), out(12.0, 4.0), out(26.0, 4.0)]);
    for at_s in [5.0, 13.0, 16.0, 24.0, 30.0, 45.0] {
        near(runs_on.celsius(36.0, at_s), once.celsius(36.0, at_s));
        near(holds_one.celsius(36.0, at_s), once.celsius(36.0, at_s));
    }
}

#[test]
fn a_course_bends_where_the_tank_is_lifted_and_where_it_is_put_back() {
    assert_eq!(tank(vec![out(0.0, 10.0), out(30.0, 5.0)]).knots_s(), [0.0, 10.0, 30.0, 35.0]);
}

#[test]
fn plastic_gives_its_cold_slowly_and_least_of_it_in_a_tub() {
    let (tub, air) = (chill_share(false, true), chill_share(false, false));
    assert!(0.0 < tub && tub < air && air < 1.0);
    for is_in_tub in [false, true] {
        near(chill_share(true, is_in_tub), 1.0);
    }
}

#[test]
fn a_closed_tank_is_poured_as_warm_as_it_is_to_be() {
    let found = closed().pouring(None, 80_000.0, 38.0, 210.0).unwrap();
    near(found.pour_c, 38.0);
    near(found.above_k, 0.0);
    near(found.end_c, 38.0);
}

#[test]
fn a_closed_cold_tank_is_made_up_for_in_the_bottle() {
    let cold = ColdTank { heat_j_k: 400.0, celsius: 23.0 };
    let found = closed().pouring(Some(cold), 80_000.0, 38.0, 210.0).unwrap();
    // Fifteen degrees of a sixth of the heat are three of the other five.
    near(found.pour_c, 41.0);
    near(found.above_k, 3.0);
    near(found.end_c, 38.0);
}

#[test]
fn what_would_need_a_pour_far_out_of_reach_is_told_the_bound() {
    // Half the heat is the tank's: the bottle would have to be as far off on the other side.
    let pour = |celsius| {
        let cold = ColdTank { heat_j_k: 1_200.0, celsius };
        closed().pouring(Some(cold), 80_000.0, 38.0, 210.0).unwrap().above_k
    };
    near(pour(33.0), 5.0);
    near(pour(48.0), -10.0);
    assert!(pour(8.0) < 30.0 && pour(60.0) > -22.0);
    near(pour(3.0), pour(8.0));
    near(pour(70.0), pour(60.0));
}

#[test]
fn what_is_poured_as_told_is_done_in_its_time() {
    let lifted = tank(vec![out(0.0, 10.0), out(30.0, 5.0), out(60.0, 40.0)]);
    let found = lifted.pouring(None, 80_000.0, 38.0, 210.0).unwrap();
    let course = |at_s: f64| lifted.celsius(found.pour_c, at_s);
    let done = dose(&course, 80_000.0, 38.0, (0.0, 210.0), &lifted.knots_s());
    assert!((done - 210.0).abs() < 1e-6, "{done}");
    near(found.end_c, lifted.celsius(found.pour_c, 210.0));
}

#[test]
fn the_rate_in_a_tank_is_the_rate_at_its_temperature() {
    let lifted = tank(vec![out(0.0, 10.0)]);
    near(lifted.rate_at(38.0, 10.0, 80_000.0, 38.0), rate(80_000.0, in_air(38.0, 10.0), 38.0));
    assert!(lifted.rate_at(38.0, 10.0, 80_000.0, 38.0) < 1.0);
}

#[test]
fn a_tank_that_cannot_be_is_refused() {
    let pour = |tank: &Tank, cold| tank.pouring(cold, 80_000.0, 38.0, 210.0);
    let lifts = |count: usize| tank(vec![out(10.0, 5.0); count]);
    assert!(pour(&lifts(1_000), None).is_ok());
    let too_many = Refused::TooMany { what: "stretches", count: 1_001, most: 1_000 };
    assert_eq!(pour(&lifts(1_001), None), Err(too_many));
    assert!(pour(&tank(vec![out(-1.0, 5.0)]), None).is_err());
    assert!(pour(&tank(vec![out(1.0, -5.0)]), None).is_err());
    assert!(pour(&Tank { heat_j_k: 0.0, ..tank(vec![]) }, None).is_err());
    let cold = |heat_j_k| Some(ColdTank { heat_j_k, celsius: 20.0 });
    assert!(pour(&tank(vec![]), cold(2_400.0 + 1.0)).is_err(), "part of the tank's heat");
    assert!(tank(vec![]).pouring(None, -1.0, 38.0, 210.0).is_err());
    assert!(tank(vec![]).pouring(None, 80_000.0, 38.0, 0.5).is_err());
}
