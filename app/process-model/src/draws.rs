//! Draws from a normal distribution that are the same on every machine.
//!
//! Halton points (bases 2, 3, 5, … from index 1) turned by Acklam's inverse normal.

use crate::linear::Lower;

const PRIMES: [u32; 16] = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53];

/// The `index`-th point between 0 and 1 to this base.
fn halton(index: u32, base: u32) -> f64 {
    let (mut scale, mut point, mut rest) = (1.0, 0.0, index);
    while rest > 0 {
        scale /= f64::from(base);
        point += scale * f64::from(rest % base);
        rest /= base;
    }
    point
}

const A: [f64; 6] = [
    -3.969_683_028_665_376e1,
    2.209_460_984_245_205e2,
    -2.759_285_104_469_687e2,
    1.383_577_518_672_69e2,
    -3.066_479_806_614_716e1,
    2.506_628_277_459_239,
];
const B: [f64; 6] = [
    -5.447_609_879_822_406e1,
    1.615_858_368_580_409e2,
    -1.556_989_798_598_866e2,
    6.680_131_188_771_972e1,
    -1.328_068_155_288_572e1,
    1.0,
];
const C: [f64; 6] = [
    -7.784_894_002_430_293e-3,
    -3.223_964_580_411_365e-1,
    -2.400_758_277_161_838,
    -2.549_732_539_343_734,
    4.374_664_141_464_968,
    2.938_163_982_698_783,
];
const D: [f64; 5] = [
    7.784_695_709_041_462e-3,
    3.224_671_290_700_398e-1,
    2.445_134_137_142_996,
    3.754_408_661_907_416,
    1.0,
];

fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().fold(0.0, |sum, coefficient| sum * x + coefficient)
}

/// The standard normal deviate below which a share `p` lies, for 0 < p < 1.
///
/// # Source
///
/// P. J. Acklam's rational approximation, relative error 1.15e-9 (from memory); held against an
/// independent library by `tests/references`.
pub fn inverse_normal(p: f64) -> f64 {
    const TAIL: f64 = 0.024_25;
    if p > 0.5 {
        return -inverse_normal(1.0 - p);
    }
    if p < TAIL {
        let q = (-2.0 * libm::log(p)).sqrt();
        return polynomial(&C, q) / polynomial(&D, q);
    }
    let q = p - 0.5;
    let r = q * q;
    polynomial(&A, r) * q / polynomial(&B, r)
}

/// `count` draws around `mean` with the covariance `cov`, given row by row.
///
/// Nothing if `cov` is no covariance, or of more dimensions than there are bases.
pub fn draws(mean: &[f64], cov: &[f64], count: u32) -> Option<Vec<Vec<f64>>> {
    let n = mean.len();
    let lower = Lower::of(cov, n)?;
    if n > PRIMES.len() {
        return None;
    }
    let one = |index: u32| {
        let z: Vec<f64> =
            PRIMES.iter().take(n).map(|base| inverse_normal(halton(index, *base))).collect();
        let moved = |row: usize| (0..=row).map(|k| lower.at(row, k) * z[k]).sum::<f64>();
        (0..n).map(|row| mean[row] + moved(row)).collect()
    };
    Some((1..=count).map(one).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_inverse_normal_is_the_tables() {
        for (p, z) in
            [(0.5, 0.0), (0.9, 1.281_551_566), (0.025, -1.959_963_985), (0.001, -3.090_232_306)]
        {
            assert!((inverse_normal(p) - z).abs() < 1e-7, "{p}");
        }
    }

    #[test]
    fn draws_have_the_mean_and_the_spread_that_were_asked_for() {
        let drawn = draws(&[2.0], &[9.0], 512).unwrap();
        let mean = drawn.iter().map(|draw| draw[0]).sum::<f64>() / 512.0;
        let spread =
            drawn.iter().map(|draw| (draw[0] - mean) * (draw[0] - mean)).sum::<f64>() / 512.0;
        assert!((mean - 2.0).abs() < 0.05 && (spread - 9.0).abs() < 0.3, "{mean} {spread}");
    }
}
