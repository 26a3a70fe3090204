//! Our line pictures, in the colour of the text. Never alone on a control.

use leptos::prelude::*;
use leptos::svg;

use super::el::fixed;

/// A picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pic {
    /// A tank with its lid.
    Tank,
    /// A bottle.
    Bottle,
    /// A thermometer.
    Thermometer,
    /// A funnel.
    Funnel,
    /// A measuring cylinder.
    Cylinder,
    /// A reel.
    Reel,
    /// A tub of water.
    Tub,
    /// Film on a line.
    Hanger,
    /// A glove.
    Glove,
    /// A towel over its rail.
    Towel,
    /// Scissors.
    Scissors,
    /// Film in its cassette.
    Film,
    /// A page of sleeves.
    Sleeves,
    /// The column of a tank.
    Column,
    /// Onward; or steady.
    Go,
    /// Warming.
    Rising,
    /// Cooling.
    Falling,
}

const TANK: &[&str] = &[
    "M20 10V5.5h8V10M13 17l3-7h16l3 7",
    "M10 17h28v4.5H10z",
    "M12.5 21.5V40a3 3 0 0 0 3 3h17a3 3 0 0 0 3-3V21.5",
];
const BOTTLE: &[&str] = &[
    "M19.5 4.5h9v5h-9zM21 9.5v4.5c0 3.5-6.5 4.5-6.5 10V40a3.5 3.5 0 0 0 3.5 3.5h12a3.5 3.5 0 0 0 \
     3.5-3.5V24c0-5.5-6.5-6.5-6.5-10V9.5",
    "M14.5 28.5h19",
];
const THERMOMETER: &[&str] = &[
    "M19 29V8.5a4.5 4.5 0 0 1 9 0V29a8 8 0 1 1-9 0z",
    "M23.5 35.5V18M33.5 10h5M33.5 17h3.5M33.5 24h5",
];
const FUNNEL: &[&str] = &["M6 8.5h36v4L28.5 27v13l-9 4V27L6 12.5z"];
const CYLINDER: &[&str] = &[
    "M15.5 4.5h17M17 4.5V40M31 4.5V40M11 43.5h26M17 40h14l4 3.5M17 40l-4 3.5",
    "M24 13h7M26.5 19h4.5M24 25h7M26.5 31h4.5",
];
const TUB: &[&str] = &[
    "M3.5 15.5h41M6.5 15.5l4 24a3.5 3.5 0 0 0 3.5 3h20a3.5 3.5 0 0 0 3.5-3l4-24",
    "M8.5 25c2.6-2 5.2-2 7.75 0s5.2 2 7.75 0 5.2-2 7.75 0 5.2 2 7.75 0",
];
const HANGER: &[&str] = &[
    "M3.5 9.5c14 2.5 27 2.5 41 0",
    "M14.5 7v8h5V7zM28.5 7v8h5V7z",
    "M12 15h10v28.5H12zM26 15h10v22.5H26z",
    "M12 22h10M12 29h10M12 36h10M26 22h10M26 29h10",
];
const REEL: &[&str] = &["M8 8h32M8 40h32", "M14 8v32M34 8v32", "M20 14h8v20h-8z"];
const GLOVE: &[&str] = &[
    "M15 44V27l-5.5-7.5a3 3 0 0 1 4.8-3.6L18 21V9a2.7 2.7 0 0 1 5.4 0v10V7a2.7 2.7 0 0 1 5.4 0v12V9a2.7 \
     2.7 0 0 1 5.4 0v18l-3 8v9zM15 38h16",
];
const TOWEL: &[&str] = &["M6 9h36M11 9v31h18V9M29 9v23h8V9M11 34h18"];
const SCISSORS: &[&str] = &[
    "M19 37a5.5 5.5 0 1 1-11 0a5.5 5.5 0 1 1 11 0M40 37a5.5 5.5 0 1 1-11 0a5.5 5.5 0 1 1 11 0M17 33 32 \
     6M31 33 16 6",
];
const FILM: &[&str] =
    &["M7 12h15v27H7zM11 12V8h7v4M22 16h20v19H22M28 21h1M36 21h1M28 30h1M36 30h1"];
const SLEEVES: &[&str] = &["M8 6h32v36H8zM8 18h32M8 30h32"];
const COLUMN: &[&str] = &["M20 6h8v32h-8zM12 38h24v4H12z"];
const GO: &[&str] = &["M17 8l16 16-16 16"];
const RISING: &[&str] = &["M10 38 38 10M17 10h21v21"];
const FALLING: &[&str] = &["M10 10l28 28M38 17v21H17"];

impl Pic {
    const fn paths(self) -> &'static [&'static str] {
        match self {
            Self::Tank => TANK,
            Self::Bottle => BOTTLE,
            Self::Thermometer => THERMOMETER,
            Self::Funnel => FUNNEL,
            Self::Cylinder => CYLINDER,
            Self::Tub => TUB,
            Self::Hanger => HANGER,
            Self::Reel => REEL,
            Self::Glove => GLOVE,
            Self::Towel => TOWEL,
            Self::Scissors => SCISSORS,
            Self::Film => FILM,
            Self::Sleeves => SLEEVES,
            Self::Column => COLUMN,
            Self::Go => GO,
            Self::Rising => RISING,
            Self::Falling => FALLING,
        }
    }
}

/// Draws a picture with its classes beyond `pic`. Screen readers pass it by: the words beside it
/// say the same.
pub fn picture(pic: Pic, class: &'static str) -> AnyView {
    let paths = pic.paths().iter().map(|path| line("", (*path).to_owned())).collect();
    drawing(format!("pic {class}"), "0 0 48 48", "xMidYMid", paths)
}

/// A line of a drawing.
#[inline(never)]
pub fn line(class: &'static str, path: String) -> AnyView {
    svg::path().attr("class", fixed(class)).attr("d", Signal::stored(path)).into_any()
}

/// A drawing of lines.
#[inline(never)]
pub fn drawing(
    class: String,
    size: &'static str,
    fits: &'static str,
    lines: Vec<AnyView>,
) -> AnyView {
    svg::svg()
        .attr("class", Signal::stored(class))
        .attr("viewBox", fixed(size))
        .attr("preserveAspectRatio", fixed(fits))
        .attr("aria-hidden", fixed("true"))
        .child(lines)
        .into_any()
}
