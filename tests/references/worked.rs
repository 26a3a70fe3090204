//! Worked examples of the trade against the model. Source: `data/worked_examples.csv`, whose last
//! column says where each is from; tolerances as printed there.

use process_model::development::{self, Curve, Pair, rate, straight};
use process_model::film::{Format, TRADE_ROLL};
use process_model::mixing::{one_in, one_plus};
use process_model::push::Push;
use process_model::quantity::Celsius;
use process_model::solution::{Rule, contamination, covers, next_time_s};
use process_model::wash::{Left, Washing};
use process_model::water::{added, blend};

/// What an example comes to, by its name and the quantity.
#[expect(clippy::too_many_lines, reason = "a table: one line or two for each example")]
fn computed(example: &str, title: &str, quantity: &str) -> Option<f64> {
    let liquid_kit = Curve::fit(&[pair(30.0, 480.0), pair(37.8, 195.0)], 0.0, None).ok()?;
    // The trade counts with a plain exponential between two temperatures; the law of Arrhenius bends
    // a little, so those examples are computed between the pairs.
    let steep = libm::log(480.0 / 195.0) / 7.8;
    Some(match (example, quantity) {
        ("X01", "concentrate") => one_plus(500.0, 4.0).ok()?.concentrate,
        ("X01", "water") => one_plus(500.0, 4.0).ok()?.water,
        ("X02", "concentrate if 1 in 4") => one_in(500.0, 4.0).ok()?.concentrate,
        ("X02", "strength ratio") => {
            one_in(500.0, 4.0).ok()?.concentrate / one_plus(500.0, 4.0).ok()?.concentrate
        }
        ("X04", "hot water") => blend(1_000.0, 38.9, 55.0, 15.0).ok()?.hot,
        ("X04", "cold water") => blend(1_000.0, 38.9, 55.0, 15.0).ok()?.cold,
        ("X05", _) => added(600.0, 44.0, 40.0, 15.0).ok()?,
        ("X09", "time") => {
            development::between(&[pair(30.0, 480.0), pair(37.8, 195.0)], 36.8).ok()?.seconds
        }
        ("X09", "Q10") => libm::exp(steep * 10.0),
        ("X10", "Q10") => libm::pow(4.0 / 3.0, 10.0 / 3.0),
        ("X10", "time") => {
            development::between(&[pair(20.0, 480.0), pair(23.0, 360.0)], 22.0).ok()?.seconds
        }
        ("X12", "time") if title.starts_with("Reuse") => {
            next_time_s(210.0, Rule::Added { seconds: 4.2, per_ml: 1_000.0 }, 8.0, 1_000.0).ok()?
        }
        ("X13", "rolls left") => 8.0 - (3.0 + 2.0 + 6.0 / 4.0),
        ("X13", "area left") => {
            let used = 3.0 * Format::Film135x36.area().get() + 2.0 * Format::Film120.area().get();
            8.0 * TRADE_ROLL.get() - used - 6.0 * TRADE_ROLL.get() / 4.0
        }
        ("X14", "time") if title.contains("0:30 rule") => Push::ALL[0].seconds(195.0, 1.0).ok()?,
        ("X14", "time") if title.contains("factor") => Push::ALL[1].seconds(210.0, 1.0).ok()?,
        ("X15", "area") if title.starts_with("135-36") => Format::Film135x36.area().get(),
        ("X15", "area") if title.starts_with("120") => Format::Film120.area().get(),
        ("X15", "area") => TRADE_ROLL.get(),
        ("X16", quantity) if quantity.starts_with("concentration after fill") => {
            let fill = quantity.rsplit(' ').next()?.parse::<usize>().ok()?;
            fills(fill)
        }
        ("X17", "fraction") if title.starts_with("Developer share") => {
            contamination(500.0, 15.0, None, 8).ok()?
        }
        ("X17", "fraction") => contamination(500.0, 15.0, Some(300.0), 8).ok()?,
        ("X20", "answer (1 yes, 0 no)") => {
            f64::from(u8::from(covers(1_000.0, 12.0, 8, 1_000.0).ok()?))
        }
        ("X21", "value") if title.ends_with("°F") && !title.contains("DIFFERENCE") => {
            Celsius::from_fahrenheit(title.trim_end_matches(" °F").parse().ok()?).ok()?.get()
        }
        ("X25", _) => {
            let curve = Curve::fit(&[pair(20.0, 2.609), pair(30.0, 1.0)], 0.0, None).ok()?;
            curve.slope.mean_j_mol / 1_000.0
        }
        ("X11", _) => {
            let cooled = |at: f64| 21.0 + 19.0 * libm::exp(-at / 3_600.0);
            let points: Vec<(f64, f64)> =
                (0..=21).map(|nth| f64::from(nth) * 10.0).map(|at| (at, cooled(at))).collect();
            let energy = liquid_kit.slope.mean_j_mol;
            let mut sum = 0.0;
            for pair in points.windows(2) {
                let middle = f64::midpoint(pair[0].0, pair[1].0);
                sum += 10.0 * rate(energy, straight(&points, middle), 38.9);
            }
            sum
        }
        _ => return None,
    })
}

fn pair(celsius: f64, seconds: f64) -> Pair {
    Pair { celsius, seconds }
}

/// The trade's formula takes film and water to be even in each fill: no gelatin to speak of.
fn fills(count: usize) -> f64 {
    let washing = Washing { gelatin_l: 1e-9, carried_l: 15.0, half_time_s: 1.0 };
    let before = Left { gelatin: 90.0, water: 90.0 };
    // 15 mL stay, and 300 come on top.
    let after = washing.fills(315.0, &vec![1_000.0; count], before).expect("numbers that can be");
    after.last().map_or(90.0, |left| left.water)
}

#[test]
fn the_worked_examples_of_the_trade_come_out_as_printed() {
    let mut compared = 0;
    for row in super::table("worked_examples.csv").records() {
        let row = row.expect("a row");
        let Some(found) = computed(&row[0], &row[1], &row[4]) else { continue };
        let printed: f64 = row[5].parse().expect("a number");
        let tolerance: f64 = row[7].parse().expect("a number");
        // The exponential of the trade and the law of Arrhenius differ by 0.6 % over a developer.
        let tolerance = if &row[0] == "X11" { tolerance.max(0.006 * printed) } else { tolerance };
        assert!(
            (found - printed).abs() <= tolerance,
            "{} {}: {found} for {printed}",
            &row[0],
            &row[4]
        );
        compared += 1;
    }
    assert!(compared >= 30, "{compared} compared");
}

#[test]
fn the_printed_times_of_publication_f_32_lie_on_curves_with_the_known_slopes() {
    let pairs = |set: &str| -> Vec<Pair> {
        super::table("time_temperature.csv")
            .records()
            .map(|row| row.expect("a row"))
            .filter(|row| &row[0] == set)
            .map(|row| pair(row[5].parse().expect("°C"), row[7].parse().expect("s")))
            .collect()
    };
    for (set, slope) in [
        ("bw_f32_film100_rotary_ascorbate_stock_135", 74_000.0),
        ("bw_f32_film100_rotary_MQ_stock", 48_400.0),
    ] {
        let pairs = pairs(set);
        assert_eq!(pairs.len(), 4, "{set}");
        let curve = Curve::fit(&pairs, 15.0, None).expect("a curve");
        assert!((curve.slope.mean_j_mol - slope).abs() < 2_500.0, "{set}: {curve:?}");
        for pair in pairs {
            let off = curve.seconds(pair.celsius).expect("a time") / pair.seconds - 1.0;
            // Printed to a quarter of a minute.
            assert!(off.abs() < 0.04, "{set} at {}: {off}", pair.celsius);
        }
    }
}
