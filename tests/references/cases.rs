//! Cases from independent libraries, run against the model.
//!
//! A file holds `cases`, each with an `id`, a `kind`, what goes `in`, what comes `out`, and how far
//! off it may be: `|found − out| ≤ abs + rel·|out|`, element by element. Keys without a tolerance are
//! not compared. An `error` in `out` means that any value is wrong. An unknown kind is a failure.
//! In these files *bath* is the tub, and *blix* bleach-fix.

mod correlations;
mod development;
mod estimation;
mod hands;
mod solutions;
mod tempering;
mod value;
mod wash;

use serde_json::{Map, Value};

use value::Case;

/// What a case's kind is computed by: named results, or why there are none.
type Computed = Result<Map<String, Value>, String>;

/// What came of a file.
#[derive(Debug, Default)]
pub struct Outcome {
    /// How many cases came out right.
    pub passed: usize,
    /// Each that did not: its id, what was expected and what was found.
    pub failed: Vec<String>,
}

/// Runs every case in the text of a file.
pub fn run(text: &str) -> Outcome {
    let mut outcome = Outcome::default();
    let file: Value = match serde_json::from_str(text) {
        Ok(file) => file,
        Err(error) => {
            outcome.failed.push(format!("not a file of cases: {error}"));
            return outcome;
        }
    };
    let Some(cases) = file["cases"].as_array() else {
        outcome.failed.push("not a file of cases: no `cases`".to_owned());
        return outcome;
    };
    for case in cases {
        let faults = faults(case);
        if faults.is_empty() {
            outcome.passed += 1;
        } else {
            let (id, kind) = (&case["id"], &case["kind"]);
            outcome.failed.push(format!("{id} {kind}: {}", faults.join("; ")));
        }
    }
    outcome
}

fn faults(case: &Value) -> Vec<String> {
    let computed = compute(case["kind"].as_str().unwrap_or_default(), Case(&case["in"]));
    let expected = &case["out"];
    match computed {
        Err(_) if expected.get("error").is_some() => Vec::new(),
        Err(why) => vec![format!("expected {expected}, found no answer: {why}")],
        Ok(found) if expected.get("error").is_some() => {
            vec![format!("expected a refusal, found {}", Value::Object(found))]
        }
        Ok(found) => compare(&found, expected, &case["tol"]),
    }
}

fn compute(kind: &str, case: Case<'_>) -> Computed {
    match kind {
        "tub_run" => tempering::tub_run(case),
        "linear_network" => tempering::linear_network(case),
        "mix_water" => tempering::mix_water(case),
        "pour_into_tank" => tempering::pour_into_tank(case),
        "unit_temp" => tempering::unit_temp(case),
        "unit_volume" => tempering::unit_volume(case),
        "map_fit" => estimation::map_fit(case),
        "reading_flags" => estimation::reading_flags(case),
        "advise_add_water" => estimation::advise_add_water(case),
        "leave_temperature" => estimation::leave_temperature(case),
        "bath_needed_linear" => estimation::tub_needed_linear(case),
        "next_session_prior" => estimation::next_session_prior(case),
        "arrhenius_fit" | "arrhenius_single_no_prior" => development::arrhenius_fit(case),
        "dose_and_pour_off" => development::dose_and_pour_off(case),
        "start_temperature" => development::start_temperature(case),
        "sensitivity" => development::sensitivity(case),
        "process_rolls" => solutions::process_rolls(case),
        "blend" => solutions::blend(case),
        "ageing" => solutions::ageing(case),
        "replenish_before_next_roll" => solutions::exchange_before_next_roll(case),
        "time_factor" => solutions::time_factor(case),
        "top_up_history" => solutions::top_up_history(case),
        "fill_and_dump" => wash::fill_and_dump(case),
        "changes_needed" => wash::changes_needed(case),
        "running_water" => wash::running_water(case),
        "half_time_temperature" => wash::half_time_temperature(case),
        "two_identical_tanks" => hands::two_identical_tanks(case),
        "three_identical_tanks" => hands::three_identical_tanks(case),
        "two_different_tanks" => hands::two_different_tanks(case),
        "two_tanks_presoak_extension" => hands::two_tanks_presoak_extension(case),
        "hands_feasible" => hands::hands_feasible(case),
        "water_properties" => correlations::water_properties(case),
        "nusselt_vertical_churchill_chu" => correlations::nusselt(case),
        "bottle_overall_u" => correlations::bottle_overall_u(case),
        "evaporation_shah" => correlations::evaporation_shah(case),
        "tub_loss" => correlations::tub_loss(case),
        _ => Err("unknown kind".to_owned()),
    }
}

fn compare(found: &Map<String, Value>, expected: &Value, tolerances: &Value) -> Vec<String> {
    let Some(tolerances) = tolerances.as_object() else {
        return vec!["no tolerances".to_owned()];
    };
    let mut faults = Vec::new();
    for (key, tolerance) in tolerances {
        let of = |name: &str| tolerance.get(name).and_then(Value::as_f64).unwrap_or_default();
        let (expected, found) = (&expected[key], found.get(key).unwrap_or(&Value::Null));
        if !is_near(found, expected, of("abs"), of("rel")) {
            faults.push(format!("{key}: expected {expected}, found {found}"));
        }
    }
    faults
}

/// Whether two values are the same within a tolerance, element by element.
fn is_near(found: &Value, expected: &Value, abs: f64, rel: f64) -> bool {
    match (found, expected) {
        (Value::Array(found), Value::Array(expected)) => {
            found.len() == expected.len()
                && found.iter().zip(expected).all(|(one, other)| is_near(one, other, abs, rel))
        }
        (Value::Number(found), Value::Number(expected)) => {
            let number = |number: &serde_json::Number| number.as_f64().unwrap_or(f64::NAN);
            let (found, expected) = (number(found), number(expected));
            // Written so that not-a-number is never near.
            (found - expected).abs() <= abs + rel * expected.abs()
        }
        (found, expected) => found == expected,
    }
}
