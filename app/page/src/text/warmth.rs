//! Temperatures and other numbers as they are read.

use std::cell::Cell;

use process_model::mixing::ML_PER_US_FL_OZ;
use process_model::quantity::{Celsius, Kelvins};
use session::habits::{Scale, Volumes};

thread_local! {
    /// The scale on which temperatures are shown. Changed on one screen only, on which none stands.
    static SCALE: Cell<Scale> = const { Cell::new(Scale::Celsius) };
    /// In what volumes are shown, likewise.
    static VOLUMES: Cell<Volumes> = const { Cell::new(Volumes::Millilitres) };
}

/// Shows temperatures on this scale, and volumes in these, from now on.
pub fn set_units(scale: Scale, volumes: Volumes) {
    SCALE.set(scale);
    VOLUMES.set(volumes);
}

/// A volume with its unit: millilitres to the tenth where there is one, or US fluid ounces to what a
/// small cylinder shows.
pub fn volume(ml: f64) -> String {
    match VOLUMES.get() {
        Volumes::Millilitres => number(ml) + " mL",
        Volumes::FluidOunces => {
            let ounces = ml / ML_PER_US_FL_OZ;
            decimal(ounces, if ounces < 10.0 { 2 } else { 1 }) + " fl oz"
        }
    }
}

/// The scale on which temperatures are shown.
pub fn scale() -> Scale {
    SCALE.get()
}

/// The unit of temperatures.
pub fn unit() -> &'static str {
    match scale() {
        Scale::Celsius => "°C",
        Scale::Fahrenheit => "°F",
    }
}

/// A temperature without its unit: Celsius to the tenth, Fahrenheit to the degree, and to the half
/// where somebody has read one.
pub fn degrees(celsius: Celsius) -> String {
    match scale() {
        Scale::Celsius => decimal(celsius.get(), 1),
        Scale::Fahrenheit => {
            let degrees = celsius.fahrenheit();
            let is_half = ((degrees - degrees.floor()) - 0.5).abs() < 0.01;
            decimal(degrees, u32::from(is_half))
        }
    }
}

/// The name of a sheet, with the temperature that stands in it by the scale that is shown.
pub fn sheet_name(name: &str) -> String {
    let parts = name.split_once(" °C").and_then(|(before, after)| {
        let (words, number) = before.rsplit_once(' ')?;
        Some((words, crate::typed::signed(number)?, after))
    });
    match (scale(), parts) {
        (Scale::Fahrenheit, Some((words, celsius, after))) => {
            [words, " ", &degrees(Celsius::new(celsius)), " °F", after].concat()
        }
        (Scale::Fahrenheit | Scale::Celsius, _) => name.to_owned(),
    }
}

/// A temperature to the degree.
pub fn nearest_degree(celsius: Celsius) -> String {
    match scale() {
        Scale::Celsius => decimal(celsius.get(), 0),
        Scale::Fahrenheit => decimal(celsius.fahrenheit(), 0),
    }
}

/// A difference of temperatures without its unit.
pub fn difference(kelvins: Kelvins) -> String {
    match scale() {
        Scale::Celsius => decimal(kelvins.get(), 1),
        Scale::Fahrenheit => decimal(kelvins.get() * 1.8, 0),
    }
}

/// By how much a thermometer shows too little or too much, and which; nothing if it is right.
pub fn off(offset_k: f64) -> Option<String> {
    let way = if offset_k < 0.0 { "low" } else { "high" };
    let by = difference(Kelvins::new(offset_k.abs()));
    (offset_k.abs() >= 0.05).then(|| format!("{by} {way}"))
}

/// A number to so many decimals, with a minus sign as print has it.
///
/// By whole numbers: writing floating point brings eleven kilobytes along.
pub fn decimal(value: f64, places: u32) -> String {
    let scale = 10_i64.pow(places);
    #[expect(clippy::cast_precision_loss, reason = "a power of ten of a few places")]
    #[expect(clippy::cast_possible_truncation, reason = "held at the ends")]
    let parts = (value * scale as f64).round() as i64;
    let sign = if parts < 0 { "−" } else { "" };
    let (whole, part) = (parts.abs() / scale, parts.abs() % scale);
    if places == 0 {
        return format!("{sign}{whole}");
    }
    let part = format!("{:0>width$}", part, width = places as usize);
    format!("{sign}{whole}.{part}")
}

/// So many of something.
pub fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

/// A number of days.
pub fn in_days(days: i64) -> String {
    counted(usize::try_from(days).unwrap_or_default(), "day")
}

/// A number, to the tenth where there is one.
pub fn number(value: f64) -> String {
    whole_or_tenth(decimal(value, 1))
}

fn whole_or_tenth(text: String) -> String {
    // Trimming would look for it again and again, and searches backwards are not small.
    text.strip_suffix(".0").map(str::to_owned).unwrap_or(text)
}

/// A temperature, a whole one without its tenth.
pub fn short_degrees(celsius: Celsius) -> String {
    whole_or_tenth(degrees(celsius))
}

/// A range of temperatures; one number where both ends are the same.
pub fn range(least: Celsius, most: Celsius) -> String {
    if least == most {
        short_degrees(least)
    } else {
        format!("{}–{}", short_degrees(least), short_degrees(most))
    }
}
