//! Film areas. Source: `data/film_area.csv`. Tolerance: 0.05 cm², as printed to one decimal.

use process_model::film::{Format, TRADE_ROLL};

#[test]
fn film_areas_are_the_tables() {
    for (format, name) in [
        (Format::Film135x12, "135-12"),
        (Format::Film135x24, "135-24"),
        (Format::Film135x36, "135-36"),
        (Format::Film120, "120"),
        (Format::Film220, "220"),
        (Format::Film127, "127"),
    ] {
        let printed = value(name, 7);
        assert!((format.area().get() - printed).abs() <= 0.051, "{name}");
        assert!((format.trade_rolls() - value(name, 8)).abs() <= 0.000_6, "{name}");
    }
}

#[test]
fn a_trade_roll_is_eighty_square_inches() {
    assert!((TRADE_ROLL.get() - value("135-36 (trade roll)", 7)).abs() <= 0.05);
    assert!((TRADE_ROLL.get() - 80.0 * 6.4516).abs() < 1e-9);
}

fn value(name: &str, column: usize) -> f64 {
    let mut table = super::table("film_area.csv");
    let rows: Vec<_> = table.records().map(|row| row.expect("a row")).collect();
    let row = rows.iter().find(|row| &row[0] == name).expect("the format is in the table");
    row[column].parse().expect("a number")
}
