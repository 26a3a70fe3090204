//! Developer times.

use process_model::development::{
    ColdTank, Curve, Duty, Pair, Slope, Tank, dose, pour_off_s, sensitivity as sensitivity_of,
    straight,
};

use super::Computed;
use super::value::{Case, number, results, why};

pub(super) fn arrhenius_fit(case: Case<'_>) -> Computed {
    let pairs: Vec<Pair> =
        case.rows("pairs")?.iter().map(|row| Pair { celsius: row[0], seconds: row[1] }).collect();
    let prior = case.0["prior_ea_j_mol"].as_array().map(|prior| Slope {
        mean_j_mol: prior[0].as_f64().unwrap_or(f64::NAN),
        sd_j_mol: prior[1].as_f64().unwrap_or(f64::NAN),
    });
    let curve = Curve::fit(&pairs, case.number("time_rounding_s")?, prior).map_err(why)?;
    let seconds = curve.seconds(case.number("query_c")?).map_err(why)?;
    Ok(results([
        ("ea_j_mol", number(curve.slope.mean_j_mol)),
        ("sd_ea_j_mol", number(curve.slope.sd_j_mol)),
        ("time_s", number(seconds)),
    ]))
}

pub(super) fn dose_and_pour_off(case: Case<'_>) -> Computed {
    let points: Vec<(f64, f64)> =
        case.rows("profile")?.iter().map(|row| (row[0], row[1])).collect();
    let knots: Vec<f64> = points.iter().map(|point| point.0).collect();
    let course = |at: f64| straight(&points, at);
    let (energy, nominal) = (case.number("ea_j_mol")?, case.number("nominal_c")?);
    let until = (0.0, case.number("dose_until_s")?);
    let done = dose(&course, energy, nominal, until, &knots);
    let time = pour_off_s(&course, energy, nominal, case.number("nominal_s")?, &knots);
    let time = time.ok_or("never done")?;
    Ok(results([("dose_s", number(done)), ("pour_off_s", number(time))]))
}

pub(super) fn start_temperature(case: Case<'_>) -> Computed {
    let out = case
        .rows("out_of_bath")?
        .iter()
        .map(|row| Duty { at_s: row[0], seconds: row[1] })
        .collect();
    let tank = Tank {
        heat_j_k: case.number("c_total_j_k")?,
        in_tub_w_k: case.number("g_in_bath_w_k")?,
        in_air_w_k: case.number("g_in_air_w_k")?,
        tub_c: case.number("bath_c")?,
        room_c: case.number("room_c")?,
        out,
    };
    let heat_j_k = case.number("c_cold_j_k")?;
    let cold = case.0["cold_c"].as_f64().map(|celsius| ColdTank { heat_j_k, celsius });
    let (energy, nominal) = (case.number("ea_j_mol")?, case.number("nominal_c")?);
    let pouring = tank.pouring(cold, energy, nominal, case.number("nominal_s")?).map_err(why)?;
    Ok(results([
        ("pour_c", number(pouring.pour_c)),
        ("offset_c", number(pouring.above_k)),
        ("end_c", number(pouring.end_c)),
    ]))
}

pub(super) fn sensitivity(case: Case<'_>) -> Computed {
    let slope =
        Slope { mean_j_mol: case.number("ea_j_mol")?, sd_j_mol: case.number("sd_ea_j_mol")? };
    let (nominal, celsius) = (case.number("nominal_c")?, case.number("temp_c")?);
    let found = sensitivity_of(slope, nominal, celsius, case.number("sd_temp_c")?).map_err(why)?;
    Ok(results([
        ("k_rel", number(found.rate)),
        ("dlnk_dt_per_k", number(found.per_kelvin)),
        ("sd_ln_k", number(found.sd_ln)),
    ]))
}
