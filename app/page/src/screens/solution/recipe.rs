//! How a solution is mixed: what is copied from its kit's leaflet.

use std::sync::Arc;

use process_model::mixing::{self, Kit};
use session::notebook::Record;
use session::notebook::solutions::{Done, kit, value_of_parts};
use session::shelf;

use super::{Number, field};
use crate::route::Route;
use crate::screens::desk::{Field, Line, Press, Typing, act, to};
use crate::store::Store;
use crate::text::{self, shelf as told};
use crate::typed;

const CONCENTRATE: Number = Number {
    name: "One concentrate: 1 +",
    about: "parts of water to one",
    unit: "water",
    field: "water_parts",
    most: 1000.0,
};

const KIT: [Number; 3] = [
    Number { name: "The kit makes", about: "", unit: "mL", field: "kit_ml", most: 100_000.0 },
    Number {
        name: "Water first",
        about: "else 7 parts in 10",
        unit: "mL",
        field: "first_ml",
        most: 100_000.0,
    },
    Number {
        name: "Stir each part",
        about: "sounds when it is over",
        unit: "s",
        field: "stir_s",
        most: 3600.0,
    },
];

/// How it is mixed: copied from the kit's leaflet once, scaled to what is made.
pub fn recipe(store: Store, solution: &Record) -> Vec<Line> {
    let id = solution.id().to_owned();
    let makes =
        Number { name: "I make", about: "", unit: "mL", field: "volume_ml", most: 100_000.0 };
    let mut lines = vec![
        Line::Heading("How it is mixed".to_owned()),
        field(solution, &makes),
        field(solution, &CONCENTRATE),
    ];
    let parts_of = solution.number("water_parts");
    if let Some(parts) = parts_of {
        lines.extend(one_in(solution, parts));
    } else {
        lines.extend(KIT.iter().map(|number| field(solution, number)));
        lines.push(parts(solution));
    }
    lines.push(water(solution));
    let whole_ml = ml_of(solution);
    match kit(solution).map(|kit| kit.recipe(whole_ml)) {
        Some(Ok(recipe)) => {
            if recipe.splits_powder {
                lines.push(Line::Said(SPLIT.to_owned()));
            }
            let guide =
                Press::new("MIX IT", to(Route::Mixing(id.clone(), 0))).more("one part a screen");
            lines.push(Line::Keys(vec![guide.so(true), mixed(store, &id, whole_ml)]));
        }
        Some(Err(_)) => {
            lines.push(Line::Said("The parts and the water are more than the whole.".to_owned()));
        }
        None => lines.push(Line::Keys(vec![mixed(store, &id, whole_ml)])),
    }
    lines
}

/// What a partial powder kit is told.
const SPLIT: &str =
    "Part of a powder is not part of what is in it: grains separate. Mix the whole kit.";

/// How much of a solution is made.
pub fn ml_of(solution: &Record) -> f64 {
    solution.number("volume_ml").unwrap_or(session::vessels::USUAL_L.0 * 1000.0)
}

fn mixed(_: Store, id: &str, ml: f64) -> Press {
    let id = id.to_owned();
    let note = act(move |store| store.note_done(&id, Done::Mixed, Some(ml)));
    Press::new("IT IS MIXED", note).more("its day and rolls come next")
}

/// A dilution in millilitres, and what it would be if the leaflet meant one part in so many.
fn one_in(solution: &Record, parts: f64) -> Option<Line> {
    let whole_ml = ml_of(solution);
    let plus = mixing::one_plus(whole_ml, parts).ok()?;
    let of = |dilution: mixing::Dilution| {
        format!(
            "{} and {} of water",
            told::ml(to_the_mark(dilution.concentrate)),
            told::ml(to_the_mark(dilution.water))
        )
    };
    let misread = mixing::one_in(whole_ml, parts).ok().map(|within| {
        format!(
            " Written 1:{}, some mean one part in so many: {}.",
            text::number(parts),
            of(within)
        )
    });
    let said = format!("1+{}: {}.", text::number(parts), of(plus));
    Some(Line::Quiet(said + &misread.unwrap_or_default()))
}

/// As finely as a cylinder shows it.
fn to_the_mark(ml: f64) -> f64 {
    let step = mixing::graduation(ml);
    (ml / step).round() * step
}

fn parts(solution: &Record) -> Line {
    let id = solution.id().to_owned();
    let part = |part: &mixing::Part| {
        let unit = if part.is_powder { " g" } else { "" };
        format!("{} {}{unit}", part.name, text::number(part.amount))
    };
    let shown: Vec<String> = known_parts(solution).iter().map(part).collect();
    Line::Field(Field {
        name: "Its parts, in order".to_owned(),
        about: "mL, and g for a powder: A 142.5, B 47, C 20 g".to_owned(),
        unit: "",
        typing: Typing::Words,
        value: shown.join(", "),
        write: Arc::new(move |store, typed| {
            let parts = shelf::parts(typed, typed::signed)?;
            store.change_record(&id, vec![("parts", value_of_parts(&parts))]);
            Ok(())
        }),
        steps: None,
    })
}

fn known_parts(solution: &Record) -> Vec<mixing::Part> {
    // What the kit makes may not be written down yet.
    let kit: Option<Kit> = kit(&solution.clone().with("kit_ml", 1000.0));
    kit.map(|kit| kit.parts).unwrap_or_default()
}

/// How warm the water is.
fn water(solution: &Record) -> Line {
    let id = solution.id().to_owned();
    let celsius = solution.number("mix_celsius").map(process_model::quantity::Celsius::new);
    Line::Field(Field {
        name: "Water at".to_owned(),
        about: String::new(),
        unit: text::unit(),
        typing: Typing::Number,
        value: celsius.map(text::degrees).unwrap_or_default(),
        write: Arc::new(move |store, typed| {
            let celsius = if typed.trim().is_empty() {
                None
            } else {
                Some(typed::pasted(typed, text::scale())?.get())
            };
            store.change_record(&id, vec![("mix_celsius", celsius.into())]);
            Ok(())
        }),
        steps: None,
    })
}
