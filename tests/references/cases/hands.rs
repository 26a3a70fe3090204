//! Hands and bottles.

use process_model::hands::{
    ClockStarts, HandStep, Pattern, Rhythm, Schedule, Search, Task, earliest, hands_suffice,
};
use serde_json::Value;

use super::Computed;
use super::value::{Case, results, why};

fn steps(case: Case<'_>, key: &str) -> Result<Vec<HandStep>, String> {
    let mut names: Vec<String> = Vec::new();
    let mut step = |step: &Value| -> Result<HandStep, String> {
        let of = |key: &str| -> Result<u32, String> {
            let whole = step[key].as_u64().and_then(|whole| u32::try_from(whole).ok());
            whole.ok_or_else(|| format!("no whole number {key}"))
        };
        let bottle = step["bottle"].as_str().map(|name| {
            let place = names.iter().position(|known| known == name).unwrap_or_else(|| {
                names.push(name.to_owned());
                names.len() - 1
            });
            u8::try_from(place).unwrap_or(u8::MAX)
        });
        let slip_s = of("slip_s")?;
        let rhythm = step["agitation"].as_array().map(|rhythm| {
            let of = |place: usize| {
                rhythm[place].as_u64().and_then(|s| u32::try_from(s).ok()).unwrap_or(0)
            };
            Rhythm { first_s: of(0), every_s: of(1), spell_s: of(2), slip_s }
        });
        Ok(HandStep {
            time_s: of("dur_s")?,
            pour_in_s: of("pour_in_s")?,
            pour_out_s: of("pour_out_s")?,
            bottle,
            rhythm,
            rinse_s: of("rinse_s")?,
            turnaround_s: of("bottle_turnaround_s")?,
        })
    };
    case.list(key)?.iter().map(&mut step).collect()
}

fn pattern(steps: &[HandStep]) -> Result<Pattern, String> {
    Pattern::of(steps, ClockStarts::WhenComplete, 0).map_err(why)
}

fn schedule(tanks: &[&Pattern]) -> Result<Schedule, String> {
    earliest(&Search { tanks: tanks.iter().map(|pattern| vec![*pattern]).collect() }).map_err(why)
}

pub(super) fn two_identical_tanks(case: Case<'_>) -> Computed {
    let pattern = pattern(&steps(case, "steps")?)?;
    let found = schedule(&[&pattern; 2])?;
    Ok(results([
        ("min_offset_s", found.starts_s[1].into()),
        ("makespan_s", found.seconds.into()),
        ("single_s", pattern.seconds.into()),
        ("sequential_s", (2 * pattern.seconds).into()),
    ]))
}

pub(super) fn three_identical_tanks(case: Case<'_>) -> Computed {
    let pattern = pattern(&steps(case, "steps")?)?;
    let found = schedule(&[&pattern; 3])?;
    Ok(results([
        ("starts_s", found.starts_s.into()),
        ("makespan_s", found.seconds.into()),
        ("sequential_s", (3 * pattern.seconds).into()),
    ]))
}

pub(super) fn two_different_tanks(case: Case<'_>) -> Computed {
    let (one, other) = (steps(case, "steps_a")?, steps(case, "steps_b")?);
    let (one, other) = (pattern(&one)?, pattern(&other)?);
    let (first, second) = (schedule(&[&one, &other])?, schedule(&[&other, &one])?);
    Ok(results([
        ("makespan_ab_s", first.seconds.into()),
        ("makespan_ba_s", second.seconds.into()),
        ("offset_ab_s", first.starts_s[1].into()),
        ("offset_ba_s", second.starts_s[1].into()),
    ]))
}

pub(super) fn two_tanks_presoak_extension(case: Case<'_>) -> Computed {
    let steps = steps(case, "steps")?;
    let mut patterns = Vec::new();
    for row in case.rows("extensions_s")? {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "whole seconds"
        )]
        let longer = row[0] as u32;
        patterns.push(Pattern::of(&steps, ClockStarts::WhenComplete, longer).map_err(why)?);
    }
    let choices: Vec<&Pattern> = patterns.iter().collect();
    let found = earliest(&Search { tanks: vec![choices.clone(), choices] }).map_err(why)?;
    Ok(results([("makespan_s", found.seconds.into())]))
}

pub(super) fn hands_feasible(case: Case<'_>) -> Computed {
    let task = |row: &Vec<f64>| {
        #[expect(clippy::cast_possible_truncation, reason = "whole seconds")]
        let [release, latest, seconds] = [0, 1, 2].map(|place: usize| row[place] as i32);
        Task { release, latest, seconds }
    };
    let tasks: Vec<Task> = case.rows("tasks_release_latest_dur")?.iter().map(task).collect();
    Ok(results([("feasible", hands_suffice(&tasks).into())]))
}
