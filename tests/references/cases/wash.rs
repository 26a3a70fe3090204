//! Washing.

use process_model::wash::{Left, Washing, half_time_s};
use serde_json::{Value, json};

use super::Computed;
use super::value::{Case, number, results, why};

fn washing(case: Case<'_>, carried_l: f64) -> Result<Washing, String> {
    Ok(Washing {
        gelatin_l: case.number("gelatin_l")?,
        carried_l,
        half_time_s: case.number("half_time_s")?,
    })
}

pub(super) fn fill_and_dump(case: Case<'_>) -> Computed {
    let before = Left { gelatin: case.number("c0")?, water: case.number("carry_c0")? };
    let washing = washing(case, case.number("carry_l")?)?;
    let after =
        washing.fills(case.number("fill_l")?, &case.numbers("soaks_s")?, before).map_err(why)?;
    let after: Value = after.iter().map(|left| json!([left.gelatin, left.water])).collect();
    Ok(results([("after", after)]))
}

pub(super) fn changes_needed(case: Case<'_>) -> Computed {
    let (fill, soak) = (case.number("fill_l")?, case.number("soak_s")?);
    let washing = washing(case, case.number("carry_l")?)?;
    let changes = washing.changes(fill, soak, case.number("limit")?).map_err(why)?;
    let changes = f64::from(changes.ok_or("sixty fills do not")?);
    Ok(results([
        ("changes", number(changes)),
        ("water_l", number(changes * fill)),
        ("time_s", number(changes * soak)),
    ]))
}

pub(super) fn running_water(case: Case<'_>) -> Computed {
    let before = Left { gelatin: case.number("c0")?, water: case.number("cw0")? };
    let (tank, flow) = (case.number("tank_l")?, case.number("flow_l_s")?);
    let left =
        washing(case, 0.0)?.running(tank, flow, case.number("time_s")?, before).map_err(why)?;
    Ok(results([("gelatin", number(left.gelatin)), ("water", number(left.water))]))
}

pub(super) fn half_time_temperature(case: Case<'_>) -> Computed {
    let half = half_time_s(case.number("half_time_20c_s")?, case.number("temp_c")?).map_err(why)?;
    Ok(results([("half_time_s", number(half))]))
}
