//! One solution: how it stands, what its leaflet says, how it is mixed, and what was done with it.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::mixing::{self, Kit};
use process_model::sheet::Bath;
use session::notebook::solutions::{Deed, Done, deeds, kit, value_of_parts};
use session::notebook::{Named, Record, Value};
use session::shelf;

use super::desk::{Field, Line, Press, Typing, Write, act, to, write};
use super::shelf::{at_the_shelf, cautions, in_short, keys, wear};
use crate::browser::events;
use crate::route::Route;
use crate::store::Store;
use crate::text::{self, shelf as told};
use crate::typed;

/// A number of a solution.
struct Number {
    name: &'static str,
    about: &'static str,
    unit: &'static str,
    field: &'static str,
    most: f64,
}

/// What its leaflet says. The usual figures are from memory.
const LEAFLET: [Number; 3] = [
    Number {
        name: "Good for",
        about: "often 8 to 16 in a litre",
        unit: "rolls",
        field: "capacity_rolls",
        most: 1000.0,
    },
    Number {
        name: "Keeps",
        about: "often 28 to 56, half that, part full",
        unit: "days",
        field: "shelf_days",
        most: 10_000.0,
    },
    Number {
        name: "Add for each roll",
        about: "often 2 % of the time in a litre",
        unit: "s",
        field: "add_s",
        most: 600.0,
    },
];

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

/// One solution.
pub fn solution(id: String) -> AnyView {
    let lines = Arc::new(move |store| lines(store, &id));
    at_the_shelf("Solution", ("All solutions", Route::Shelf), lines)
}

fn lines(store: Store, id: &str) -> Vec<Line> {
    let Some(solution) = store.record(id) else {
        return vec![Line::Lead("There is no such solution here.".to_owned())];
    };
    let standing = store.standing(&solution);
    let mut lines = vec![Line::Lead(solution.text("name").to_owned())];
    lines.extend(super::roll::conflicts(&solution));
    let is_mixed = !solution.list("events").is_empty();
    if is_mixed {
        let (value, more) = in_short(store, &solution, &standing);
        lines.push(Line::Quiet(format!("{value}. {more}.")));
        lines.extend(wear(&solution, &standing));
        if standing.rolls > 0.0 {
            lines.push(Line::Quiet(format!(
                "{} cm² of film went through: {} rolls of 516 cm². Rolls without a format count as 135-36.",
            text::decimal(standing.area_cm2, 0),
                text::number(standing.area_cm2 / process_model::film::TRADE_ROLL.get())
            )));
        }
        lines.extend(cautions(store, &solution, &standing).into_iter().map(Line::Quiet));
        lines.extend(keys(store, &solution));
        lines.push(top_up(id));
        lines.push(looked(id));
    }
    lines.push(Line::Heading("As its leaflet says".to_owned()));
    lines.push(name(id, solution.text("name")));
    lines.extend(LEAFLET.iter().map(|number| field(&solution, number)));
    lines.extend(recipe(store, &solution));
    lines.push(Line::Keys(doing(&solution, is_mixed)));
    lines.extend(history(&solution));
    lines
}

/// What can be done with it that takes more than a tap.
fn doing(solution: &Record, is_mixed: bool) -> Vec<Press> {
    let id = solution.id();
    let mut doing = Vec::new();
    if is_mixed {
        doing.push(Press::new("LABEL", to(Route::Label(id.to_owned()))).more("copy, print"));
    }
    let bath = Bath::from_file_name(solution.text("bath"));
    if matches!(bath, Some(Bath::Fixer | Bath::BleachFix)) {
        doing.push(Press::new("CLIP TEST", to(Route::Clip(id.to_owned()))).more("does it clear?"));
    }
    if is_mixed {
        let found = session::rolls::found_by(solution);
        let rolls = act(move |store| {
            store.finding.rolls.set(found.clone());
            store.go(Route::Rolls);
        });
        doing.push(Press::new("ITS ROLLS", rolls));
        let blocked = id.to_owned();
        let block = act(move |store: Store| store.note_done(&blocked, Done::Blocked, None));
        doing.push(Press::new("BLOCK", block).more("never poured again"));
    }
    if !is_mixed {
        let gone = id.to_owned();
        let aside = act(move |store: Store| {
            store.change_record(&gone, vec![("deleted", true.into())]);
            store.go(Route::Mix);
        });
        doing.push(Press::new("PUT ASIDE", aside));
    }
    doing
}

fn name(id: &str, value: &str) -> Line {
    let id = id.to_owned();
    let keep = write(move |store, typed| {
        let typed = typed.trim();
        if !typed.is_empty() {
            store.change_record(&id, vec![("name", typed.into())]);
        }
    });
    super::desk::field("Name", "as on the bottle", Typing::Words, value, keep)
}

/// A number, or nothing; more than nought.
fn field(solution: &Record, number: &Number) -> Line {
    let (id, field, most) = (solution.id().to_owned(), number.field, number.most);
    let take: Write = Arc::new(move |store, typed| {
        let value = match typed::number(typed)? {
            Some(value) if value > 0.0 && value <= most => value.into(),
            None => Value::Null,
            Some(_) => {
                return Err(format!("More than 0, at most {}; or nothing.", text::number(most)));
            }
        };
        store.change_record(&id, vec![(field, value)]);
        Ok(())
    });
    typed_number(number, solution.number(field).map(text::number), take)
}

fn typed_number(number: &Number, value: Option<String>, write: Write) -> Line {
    Line::Field(Field {
        name: number.name.to_owned(),
        about: number.about.to_owned(),
        unit: number.unit,
        typing: Typing::Number,
        value: value.unwrap_or_default(),
        write,
        steps: None,
    })
}

/// Fresh solution that is added.
fn top_up(id: &str) -> Line {
    let id = id.to_owned();
    let number =
        Number { name: "Top up", about: "fresh solution added", unit: "mL", field: "", most: 1e5 };
    let take: Write = Arc::new(move |store, typed| {
        if let Some(ml) = typed::number(typed)?.filter(|ml| *ml > 0.0 && *ml <= 1e5) {
            let at = store.wall_now();
            store.note_deed(&id, &Deed { ml: Some(ml), ..Deed::new(at, Done::ToppedUp) });
        }
        Ok(())
    });
    typed_number(&number, None, take)
}

/// What somebody sees or smells of it, in their words.
fn looked(id: &str) -> Line {
    let id = id.to_owned();
    let keep = write(move |store: Store, typed| {
        let note = typed.trim().to_owned();
        if !note.is_empty() {
            store.note_deed(&id, &Deed { note, ..Deed::new(store.wall_now(), Done::LookedAt) });
        }
    });
    super::desk::field("What you saw", "kept with the day", Typing::Words, "", keep)
}

/// How it is mixed: copied from the kit's leaflet once, scaled to what is made.
fn recipe(store: Store, solution: &Record) -> Vec<Line> {
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
    Press::new("IT IS MIXED", note).more("today, without help")
}

/// A dilution in millilitres, and what it would be if the leaflet meant one part in so many.
fn one_in(solution: &Record, parts: f64) -> Option<Line> {
    let whole_ml = ml_of(solution);
    let plus = mixing::one_plus(whole_ml, parts).ok()?;
    let of = |dilution: mixing::Dilution| {
        format!(
            "{} and {} of water",
            told::ml(dilution.concentrate.round()),
            told::ml(dilution.water.round())
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

/// What was done with it, a line each, the latest first.
pub fn done_with(solution: &Record) -> Vec<Line> {
    let line = |deed: Deed| {
        let what = told::done(deed.done);
        let ml = deed.ml.map_or_else(String::new, |ml| format!(", {}", told::ml(ml)));
        let clip = deed.clears_s.map_or_else(String::new, |seconds| {
            format!(
                ", a clip cleared in {}",
                text::nearest(session::evening::milliseconds(seconds))
            )
        });
        let note = if deed.note.is_empty() { "" } else { ", " };
        let day = events::date(deed.at.milliseconds());
        Line::Quiet(format!("{day}: {what}{ml}{clip}{note}{}", deed.note))
    };
    deeds(solution).into_iter().rev().map(line).collect()
}

/// The same under its heading, and the latest of it taken back.
fn history(solution: &Record) -> Vec<Line> {
    let lines = done_with(solution);
    if lines.is_empty() {
        return lines;
    }
    let id = solution.id().to_owned();
    let back = act(move |store: Store| store.take_back(&id));
    let back = Press::new("TAKE BACK", back).more("the latest of these");
    let head = Line::Heading("What was done with it".to_owned());
    std::iter::once(head).chain(lines).chain([Line::Keys(vec![back])]).collect()
}

/// What is written on the bottle.
pub fn label(id: String) -> AnyView {
    let back = ("Solution", Route::Solution(id.clone()));
    let lines = Arc::new(move |store: Store| {
        let Some(solution) = store.record(&id) else { return Vec::new() };
        let standing = store.standing(&solution);
        let day = standing.mixed_at.map(|at| events::date(at.milliseconds()));
        let volume = told::ml(standing.mixed_ml);
        let rolls = text::number(standing.rolls);
        let text = mixing::label(solution.text("name"), &volume, &day.unwrap_or_default(), &rolls);
        let copied = text.clone();
        let mut lines = vec![
            Line::Raw(text),
            Line::Keys(vec![
                Press::new("COPY", act(move |store| store.copy(copied.clone()))).so(true),
                super::desk::print(),
            ]),
            Line::Quiet("Never in a bottle for food or drink.".to_owned()),
        ];
        if !store.copied.get().is_empty() {
            lines.push(Line::Said(store.copied.get().to_owned()));
        }
        lines
    });
    at_the_shelf("Label", back, lines)
}
