//! How far a developer has come: time, temperature, and when to pour it back.
//!
//! A developer runs faster when warmer, by the law of Arrhenius. What has been done is counted in
//! seconds at the sheet's own temperature. Only pairs of one data set stand on one curve.

mod poured;
mod tank;

pub use poured::{Course, InTheTank, Poured};
pub use tank::{ColdTank, Duty, Pouring, Tank, chill_share};

use crate::refused::{Refused, above_nought, water_c, within};

/// The gas constant, in joules per mole and kelvin. CODATA 2018, exact.
const GAS_J_MOL_K: f64 = 8.314_462_618_153_24;
/// Zero Celsius in kelvins.
const ZERO_C_K: f64 = 273.15;

/// How steeply a colour developer follows temperature, where a leaflet gives no second time: 80 ± 15
/// kJ/mol, which is 9.9 % per °C at 38.9 °C. From memory; no published table was found.
pub const TYPICAL_COLOUR: Slope = Slope { mean_j_mol: 80_000.0, sd_j_mol: 15_000.0 };

/// An activation energy and how sure it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// In joules per mole.
    pub mean_j_mol: f64,
    /// Its standard deviation.
    pub sd_j_mol: f64,
}

/// A temperature and the time printed for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The temperature.
    pub celsius: f64,
    /// The time.
    pub seconds: f64,
}

/// A curve through the pairs of one data set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curve {
    /// Its slope.
    pub slope: Slope,
    /// Inverse absolute temperature around which it was fitted.
    centre: f64,
    /// Logarithm of the time there.
    ln_time: f64,
}

impl Curve {
    /// Fits a curve to pairs of one data set, printed to the nearest `rounding_s`.
    ///
    /// # Errors
    ///
    /// [`Refused::None`] without pairs, [`Refused::OnePair`] if all pairs have one temperature and no
    /// `typical` slope helps out, and [`Refused::Number`] for numbers that cannot be.
    pub fn fit(pairs: &[Pair], rounding_s: f64, typical: Option<Slope>) -> Result<Self, Refused> {
        within("a rounding", rounding_s, 0.0, 3_600.0)?;
        if pairs.is_empty() {
            return Err(Refused::None { what: "time of the developer" });
        }
        let mut rows = Vec::with_capacity(pairs.len());
        for pair in pairs {
            water_c("a temperature", pair.celsius)?;
            above_nought("a time", pair.seconds)?;
            // A printed time is never surer than one per cent; a rounded one less.
            let sd = f64::max(0.01, rounding_s / (pair.seconds * 12.0_f64.sqrt()));
            rows.push((1.0 / (sd * sd), 1.0 / kelvins(pair.celsius), libm::log(pair.seconds)));
        }
        let weight: f64 = rows.iter().map(|row| row.0).sum();
        let mean = |of: fn(&(f64, f64, f64)) -> f64| {
            rows.iter().map(|row| row.0 * of(row)).sum::<f64>() / weight
        };
        let (centre, ln_time) = (mean(|row| row.1), mean(|row| row.2));
        let mut spread: f64 =
            rows.iter().map(|row| row.0 * (row.1 - centre) * (row.1 - centre)).sum();
        let mut together: f64 =
            rows.iter().map(|row| row.0 * (row.1 - centre) * (row.2 - ln_time)).sum();
        if let Some(typical) = typical {
            above_nought("a slope's standard deviation", typical.sd_j_mol)?;
            within("a slope", typical.mean_j_mol, 0.0, 1e6)?;
            let sure = GAS_J_MOL_K / typical.sd_j_mol;
            spread += sure * sure;
            together += sure * sure * typical.mean_j_mol / GAS_J_MOL_K;
        }
        // Two pairs closer than a tenth of a degree say nothing either.
        if spread < weight * 1e-14 {
            return Err(Refused::OnePair);
        }
        let slope = Slope {
            mean_j_mol: together / spread * GAS_J_MOL_K,
            sd_j_mol: GAS_J_MOL_K / spread.sqrt(),
        };
        Ok(Self { slope, centre, ln_time })
    }

    /// The time at a temperature by the curve.
    ///
    /// # Errors
    ///
    /// [`Refused`] for a temperature that is none of water.
    pub fn seconds(&self, celsius: f64) -> Result<f64, Refused> {
        water_c("a temperature", celsius)?;
        let steep = self.slope.mean_j_mol / GAS_J_MOL_K;
        Ok(libm::exp(self.ln_time + steep * (1.0 / kelvins(celsius) - self.centre)))
    }
}

/// A time between printed ones, and whether it is one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between {
    /// The time.
    pub seconds: f64,
    /// Whether it lies outside the printed temperatures: then it is an estimate and must say so.
    pub is_estimate: bool,
}

/// The time at a temperature between the printed ones of one data set: linear in temperature and
/// the logarithm of time; outside them along the nearest two, as an estimate.
///
/// # Errors
///
/// [`Refused`] if there are fewer than two temperatures, and for numbers that cannot be.
pub fn between(pairs: &[Pair], celsius: f64) -> Result<Between, Refused> {
    water_c("a temperature", celsius)?;
    let mut sorted: Vec<Pair> = Vec::with_capacity(pairs.len());
    for pair in pairs {
        water_c("a temperature", pair.celsius)?;
        above_nought("a time", pair.seconds)?;
        let place = sorted.iter().rposition(|other| other.celsius < pair.celsius);
        let place = place.map_or(0, |place| place + 1);
        // Of two pairs at one temperature the first counts.
        if sorted.get(place).is_none_or(|other| other.celsius > pair.celsius) {
            sorted.insert(place, *pair);
        }
    }
    let above = sorted.iter().position(|pair| pair.celsius >= celsius);
    let above = above.unwrap_or(sorted.len().saturating_sub(1)).max(1);
    let (Some(low), Some(high)) = (sorted.get(above - 1), sorted.get(above)) else {
        return Err(if sorted.is_empty() {
            Refused::None { what: "time of the developer" }
        } else {
            Refused::OnePair
        });
    };
    let share = (celsius - low.celsius) / (high.celsius - low.celsius);
    let (first, last) = (libm::log(low.seconds), libm::log(high.seconds));
    let seconds = libm::exp(first + share * (last - first));
    Ok(Between { seconds, is_estimate: !(0.0..=1.0).contains(&share) })
}

/// How much faster a developer runs than at its nominal temperature.
pub fn rate(energy_j_mol: f64, celsius: f64, nominal_c: f64) -> f64 {
    let colder = 1.0 / kelvins(celsius) - 1.0 / kelvins(nominal_c);
    libm::exp(-energy_j_mol / GAS_J_MOL_K * colder)
}

/// How a small error shows in development.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sensitivity {
    /// The rate against the nominal one.
    pub rate: f64,
    /// Its relative growth for each kelvin.
    pub per_kelvin: f64,
    /// The standard deviation of its logarithm, from slope and thermometer.
    pub sd_ln: f64,
}

/// What uncertainty of slope and thermometer does to development.
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn sensitivity(
    slope: Slope,
    nominal_c: f64,
    celsius: f64,
    sd_k: f64,
) -> Result<Sensitivity, Refused> {
    water_c("a temperature", nominal_c)?;
    water_c("a temperature", celsius)?;
    within("a slope", slope.mean_j_mol, 0.0, 1e6)?;
    within("a standard deviation", slope.sd_j_mol, 0.0, 1e6)?;
    within("a standard deviation", sd_k, 0.0, 100.0)?;
    let warm = kelvins(celsius);
    let per_kelvin = slope.mean_j_mol / (GAS_J_MOL_K * warm * warm);
    let by_slope = (1.0 / warm - 1.0 / kelvins(nominal_c)) / GAS_J_MOL_K * slope.sd_j_mol;
    let by_warmth = per_kelvin * sd_k;
    Ok(Sensitivity {
        rate: rate(slope.mean_j_mol, celsius, nominal_c),
        per_kelvin,
        sd_ln: (by_slope * by_slope + by_warmth * by_warmth).sqrt(),
    })
}

/// What a temperature over time amounts to, in seconds at the nominal temperature.
///
/// `knots_s` are instants at which the temperature bends; between them it is smooth.
pub fn dose(
    celsius: &dyn Fn(f64) -> f64,
    energy_j_mol: f64,
    nominal_c: f64,
    (from_s, until_s): (f64, f64),
    knots_s: &[f64],
) -> f64 {
    let inside = knots_s.iter().copied().filter(|knot| from_s < *knot && *knot < until_s);
    let mut sum = 0.0;
    let mut begin = from_s;
    for end in inside.chain([until_s]) {
        let pieces = ((end - begin) / LONGEST_PIECE_S).ceil().max(1.0);
        let width = (end - begin) / pieces;
        let mut piece = 0.0;
        while piece < pieces {
            let start = begin + width * piece;
            sum += gauss(&|at| rate(energy_j_mol, celsius(at), nominal_c), start, start + width);
            piece += 1.0;
        }
        begin = end;
    }
    sum
}

/// No piece of an integral is longer, in seconds.
const LONGEST_PIECE_S: f64 = 60.0;

/// Gauss-Legendre quadrature with eight points: exact for polynomials of degree fifteen.
fn gauss(f: &dyn Fn(f64) -> f64, from: f64, until: f64) -> f64 {
    const POINTS: [(f64, f64); 4] = [
        (0.183_434_642_495_649_8, 0.362_683_783_378_362),
        (0.525_532_409_916_329, 0.313_706_645_877_887_3),
        (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
        (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
    ];
    let (centre, half) = (f64::midpoint(from, until), (until - from) / 2.0);
    half * POINTS
        .iter()
        .map(|(x, weight)| weight * (f(centre + half * x) + f(centre - half * x)))
        .sum::<f64>()
}

/// The instant at which a temperature over time amounts to `nominal_s`; nothing if it does not
/// within four times that.
pub fn pour_off_s(
    celsius: &dyn Fn(f64) -> f64,
    energy_j_mol: f64,
    nominal_c: f64,
    nominal_s: f64,
    knots_s: &[f64],
) -> Option<f64> {
    let done = |until: f64| dose(celsius, energy_j_mol, nominal_c, (0.0, until), knots_s);
    let (mut least, mut most) = (0.0, 4.0 * nominal_s);
    if !done(most).is_finite() || done(most) < nominal_s {
        return None;
    }
    let mut time = nominal_s;
    for _ in 0..60 {
        let over = done(time) - nominal_s;
        if over.abs() < 1e-9 {
            break;
        }
        if over > 0.0 {
            most = time;
        } else {
            least = time;
        }
        let newton = time - over / rate(energy_j_mol, celsius(time), nominal_c);
        let inside = least < newton && newton < most;
        time = if inside { newton } else { f64::midpoint(least, most) };
    }
    Some(time)
}

/// A course of temperatures, straight between its points and level beyond them.
pub fn straight(points: &[(f64, f64)], at_s: f64) -> f64 {
    let after = points.iter().position(|(time, _)| at_s <= *time);
    match after {
        None => points.last().map_or(0.0, |(_, celsius)| *celsius),
        Some(0) => points.first().map_or(0.0, |(_, celsius)| *celsius),
        Some(place) => {
            let ((from, low), (until, high)) = (points[place - 1], points[place]);
            low + (high - low) * (at_s - from) / (until - from)
        }
    }
}

/// What is advised about the time of a developer that has been poured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Advice {
    /// The planned time, within what is known.
    OnCourse,
    /// The planned time or another: two equal choices.
    Choice {
        /// The other, in seconds.
        seconds: f64,
    },
    /// As far as time can go; the rest is the temperature's.
    Bound {
        /// The bound, in seconds.
        seconds: f64,
    },
}

/// What to offer for a planned time and an advised one with its 80 % interval.
///
/// Within half the interval nothing is offered. Within the sheet's own bounds, never narrower than
/// ten per cent either way, it is a choice. Beyond them the nearer bound is offered: refusing there
/// left 16 % error where the bound left 8 (computed).
///
/// # Errors
///
/// [`Refused`] for numbers that cannot be.
pub fn advise(
    planned_s: f64,
    advised_s: f64,
    half_width_s: f64,
    (least_s, nominal_s, most_s): (f64, f64, f64),
) -> Result<Advice, Refused> {
    for (what, value) in [
        ("a planned time", planned_s),
        ("an advised time", advised_s),
        ("a sheet's time", nominal_s),
    ] {
        above_nought(what, value)?;
    }
    within("half an interval", half_width_s, 0.0, 1e6)?;
    within("a sheet's shortest time", least_s, 0.0, nominal_s)?;
    within("a sheet's longest time", most_s, nominal_s, 1e6)?;
    let rounded = (advised_s / 5.0).round() * 5.0;
    if (rounded - planned_s).abs() <= half_width_s {
        return Ok(Advice::OnCourse);
    }
    let shortest = (planned_s * least_s / nominal_s).min(planned_s * 0.9);
    let longest = (planned_s * most_s / nominal_s).max(planned_s * 1.1);
    Ok(if (shortest..=longest).contains(&rounded) {
        Advice::Choice { seconds: rounded }
    } else if rounded < shortest {
        Advice::Bound { seconds: shortest }
    } else {
        Advice::Bound { seconds: longest }
    })
}

fn kelvins(celsius: f64) -> f64 {
    celsius + ZERO_C_K
}

#[cfg(test)]
mod tests;
