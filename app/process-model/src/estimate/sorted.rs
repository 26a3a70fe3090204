//! Readings and draws in order.

use super::Reading;

/// Readings by their instants; those of one instant as they stand.
pub(super) fn by_time(readings: &[Reading]) -> Vec<Reading> {
    let mut ordered: Vec<Reading> = Vec::with_capacity(readings.len());
    for reading in readings {
        let place = ordered.iter().rposition(|other| other.at_s <= reading.at_s);
        ordered.insert(place.map_or(0, |place| place + 1), *reading);
    }
    ordered
}

/// Instants from `now` to the horizon.
pub(super) fn grid_of(now: f64, horizon: f64, grid: f64) -> Vec<f64> {
    let last = (horizon / grid).round();
    let mut times = Vec::new();
    let mut step = 0.0;
    while step <= last {
        times.push(now + grid * step);
        step += 1.0;
    }
    times
}

/// From the least to the greatest.
pub(super) fn sort(values: &mut [f64]) {
    for end in 1..values.len() {
        let mut place = end;
        while place > 0 && values[place] < values[place - 1] {
            values.swap(place, place - 1);
            place -= 1;
        }
    }
}

/// The value below which a share of sorted values lies.
pub(super) fn quantile(sorted: &[f64], share: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a few hundred values")]
    let place = (share * sorted.len() as f64).ceil().max(1.0) - 1.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 on")]
    let place = place as usize;
    sorted.get(place).or(sorted.last()).copied().unwrap_or(f64::INFINITY)
}

#[expect(clippy::cast_precision_loss, reason = "a few hundred values")]
pub(super) fn share(part: usize, whole: usize) -> f64 {
    if whole == 0 { 0.0 } else { part as f64 / whole as f64 }
}
