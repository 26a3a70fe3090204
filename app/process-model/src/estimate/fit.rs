//! Least squares by Levenberg-Marquardt, with the prior guesses among the rows.

use super::Evidence;
use crate::linear::Lower;

/// More rounds than any reference case needs; each has been seen to end after 5 to 8.
const MOST_ROUNDS: usize = 60;
/// A derivative is taken over this share of a guess's standard deviation.
const NUDGE: f64 = 1e-4;
/// The search ends when no value moves by more of its standard deviation.
const SMALL: f64 = 1e-7;

/// The most likely values and their covariance; nothing if there are none.
pub(super) fn fit(evidence: &Evidence) -> Option<(Vec<f64>, Vec<f64>)> {
    let mut values = evidence.means();
    let scale: Vec<f64> = evidence.guesses().iter().map(|guess| guess.sd).collect();
    let mut off = rows(evidence, &values);
    let mut cost = sum_of_squares(&off);
    let mut damping = 1e-3;
    if !cost.is_finite() {
        return None;
    }
    for _ in 0..MOST_ROUNDS {
        let (normal, gradient) = normal_equations(evidence, &values, &scale, &off);
        let (step, moved, moved_off, moved_cost) = loop {
            let step = damped_step(&normal, &gradient, damping);
            if let Some(step) = step {
                let moved: Vec<f64> =
                    values.iter().zip(&step).map(|(value, step)| value + step).collect();
                let moved_off = rows(evidence, &moved);
                let moved_cost = sum_of_squares(&moved_off);
                if moved_cost <= cost {
                    break (step, moved, moved_off, moved_cost);
                }
            }
            damping *= 10.0;
            if damping > 1e12 {
                break (vec![0.0; values.len()], values.clone(), off.clone(), cost);
            }
        };
        (values, off, cost) = (moved, moved_off, moved_cost);
        damping = (damping / 10.0).max(1e-9);
        let largest = step.iter().zip(&scale).map(|(step, sd)| (step / sd).abs());
        if largest.fold(0.0, f64::max) < SMALL {
            break;
        }
    }
    let (normal, _) = normal_equations(evidence, &values, &scale, &off);
    let covariance = Lower::of(&normal, values.len())?.inverse();
    Some((values, covariance))
}

/// How far each guess and then each reading is off, in its own standard deviations.
fn rows(evidence: &Evidence, values: &[f64]) -> Vec<f64> {
    let guesses = evidence.guesses();
    let guesses = guesses.iter().zip(values).map(|(guess, value)| (value - guess.mean) / guess.sd);
    guesses.chain(readings_off(evidence, values)).collect()
}

/// How far the course by `values` is from each reading, in its standard deviation.
pub(super) fn readings_off(evidence: &Evidence, values: &[f64]) -> Vec<f64> {
    let times: Vec<f64> = evidence.readings.iter().map(|reading| reading.at_s).collect();
    let course = evidence.course(values, &times);
    let off = |(reading, warm): (&super::Reading, &Vec<f64>)| {
        let warm = warm.get(reading.node).copied().unwrap_or_default();
        (warm - reading.celsius) / reading.sd_k
    };
    evidence.readings.iter().zip(&course).map(off).collect()
}

/// The matrix and the right side of the linear problem around `values`.
fn normal_equations(
    evidence: &Evidence,
    values: &[f64],
    scale: &[f64],
    off: &[f64],
) -> (Vec<f64>, Vec<f64>) {
    let n = values.len();
    let slope = |place: usize| -> Vec<f64> {
        let h = NUDGE * scale[place];
        let nudged = |by: f64| {
            let mut nudged = values.to_vec();
            nudged[place] += by;
            rows(evidence, &nudged)
        };
        let (more, less) = (nudged(h), nudged(-h));
        more.iter().zip(&less).map(|(more, less)| (more - less) / (2.0 * h)).collect()
    };
    let slopes: Vec<Vec<f64>> = (0..n).map(slope).collect();
    let dot = |one: &[f64], other: &[f64]| one.iter().zip(other).map(|(a, b)| a * b).sum::<f64>();
    let mut normal = vec![0.0; n * n];
    for row in 0..n {
        for column in 0..=row {
            let value = dot(&slopes[row], &slopes[column]);
            normal[row * n + column] = value;
            normal[column * n + row] = value;
        }
    }
    (normal, slopes.iter().map(|slope| -dot(slope, off)).collect())
}

fn damped_step(normal: &[f64], gradient: &[f64], damping: f64) -> Option<Vec<f64>> {
    let n = gradient.len();
    let mut damped = normal.to_vec();
    for place in 0..n {
        damped[place * n + place] *= 1.0 + damping;
    }
    Some(Lower::of(&damped, n)?.solve(gradient))
}

fn sum_of_squares(off: &[f64]) -> f64 {
    off.iter().map(|off| off * off).sum()
}
