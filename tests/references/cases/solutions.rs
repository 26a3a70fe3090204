//! Wear, blending, ageing.

use process_model::solution::{self, Ageing, Solution, steady_load_m2_l};

use super::Computed;
use super::value::{Case, number, results, why};

pub(super) fn process_rolls(case: Case<'_>) -> Computed {
    let (carried_in, carried_out) = (case.number("carry_in_l")?, case.number("carry_out_l")?);
    let mut bath = Solution::fresh(case.number("volume_l")?);
    let mut loads = Vec::new();
    for area in case.numbers("areas_m2")? {
        bath = bath.after_film(area, carried_in, carried_out).map_err(why)?;
        loads.push(bath.load_m2_l);
    }
    Ok(results([
        ("load_m2_l", number(bath.load_m2_l)),
        ("activity", number(bath.freshness)),
        ("volume_end_l", number(bath.litres)),
        ("loads", loads.into()),
    ]))
}

pub(super) fn blend(case: Case<'_>) -> Computed {
    let (litres, loads, fresh) =
        (case.numbers("v_l")?, case.numbers("load_m2_l")?, case.numbers("activity")?);
    let bath = |place: usize| Solution {
        litres: litres[place],
        load_m2_l: loads[place],
        freshness: fresh[place],
    };
    let mut whole = bath(0);
    for place in 1..litres.len() {
        whole = whole.with(bath(place)).map_err(why)?;
    }
    Ok(results([
        ("v_l", number(whole.litres)),
        ("load_m2_l", number(whole.load_m2_l)),
        ("activity", number(whole.freshness)),
    ]))
}

pub(super) fn ageing(case: Case<'_>) -> Computed {
    let bath = Solution {
        litres: case.number("volume_l")?,
        load_m2_l: 0.0,
        freshness: case.number("activity")?,
    };
    let ageing = Ageing {
        bottle_l: case.number("bottle_l")?,
        per_day: case.number("k0_per_day")?,
        per_day_of_air: case.number("k1_per_day")?,
        half_full: case.number("ref_fill")?,
    };
    let aged = bath.after_days(case.number("days")?, ageing).map_err(why)?;
    Ok(results([("activity", number(aged.freshness))]))
}

pub(super) fn exchange_before_next_roll(case: Case<'_>) -> Computed {
    let bath = Solution {
        litres: case.number("volume_l")?,
        load_m2_l: case.number("load_now_m2_l")?,
        freshness: 1.0,
    };
    let (area, limit) = (case.number("next_area_m2")?, case.number("load_limit_m2_l")?);
    let exchange = bath.to_exchange(area, limit).map_err(why)?;
    let litres = number(exchange.litres);
    Ok(results([("swap_l", litres), ("possible", exchange.is_possible.into())]))
}

pub(super) fn time_factor(case: Case<'_>) -> Computed {
    let bath = Solution {
        litres: 1.0,
        load_m2_l: case.number("load_m2_l")?,
        freshness: case.number("activity")?,
    };
    let (slope, gamma) = (case.number("slope_per_m2_l")?, case.number("gamma")?);
    let factor = solution::time_factor(bath, slope, gamma).map_err(why)?;
    let time = factor * case.number("nominal_s")?;
    Ok(results([("factor", number(factor)), ("time_s", number(time))]))
}

pub(super) fn top_up_history(case: Case<'_>) -> Computed {
    let (litres, area, top_up) =
        (case.number("volume_l")?, case.number("area_m2")?, case.number("top_up_l_per_roll")?);
    let mut bath = Solution::fresh(litres);
    let mut discarded = 0.0;
    for _ in 0..case.whole("rolls")? {
        bath = bath.after_film(area, 0.0, 0.0).map_err(why)?;
        discarded += bath.load_m2_l * top_up;
        bath = bath.topped_up(top_up).map_err(why)?;
    }
    let steady = steady_load_m2_l(litres, area, top_up).map_err(why)?;
    Ok(results([
        ("load_m2_l", number(bath.load_m2_l)),
        ("area_discarded_m2", number(discarded)),
        ("steady_load_m2_l", number(steady)),
    ]))
}
