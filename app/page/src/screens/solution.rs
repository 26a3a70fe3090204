//! One solution: how it stands, what its leaflet says, how it is mixed, and what was done with it.

mod recipe;

pub use recipe::ml_of;

use std::sync::Arc;

use leptos::prelude::*;
use process_model::mixing;
use process_model::sheet::Bath;
use session::notebook::solutions::{Deed, Done, deeds, events_with_mixing, last_mixed};
use session::notebook::{Named, Record, Value};
use session::timestamp::Timestamp;

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
        about: "the whole kit; often 8 to 16 a litre",
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
        about: "in the whole kit; often 2 % in a litre",
        unit: "s",
        field: "add_s",
        most: 600.0,
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
        lines.push(left(id));
        lines.push(looked(id));
        lines.extend(before(&solution));
    }
    lines.push(Line::Heading("As its leaflet says".to_owned()));
    lines.push(name(id, solution.text("name")));
    lines.extend(LEAFLET.iter().map(|number| field(&solution, number)));
    lines.extend(recipe::recipe(store, &solution));
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
    if is_mixed && matches!(bath, Some(Bath::Fixer | Bath::BleachFix)) {
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
    amount(id, "Top up", "fresh solution added", Done::ToppedUp)
}

/// How much somebody found in the bottle, where that is not what was reckoned.
fn left(id: &str) -> Line {
    amount(id, "Left in it", "as you find it, if it is less", Done::LookedAt)
}

/// Something that was done with so many millilitres.
fn amount(id: &str, name: &'static str, about: &'static str, done: Done) -> Line {
    let id = id.to_owned();
    let take: Write = Arc::new(move |store, typed| {
        if let Some(ml) = typed::number(typed)?.filter(|ml| *ml > 0.0 && *ml <= 1e5) {
            store.note_done(&id, done, Some(ml));
        }
        Ok(())
    });
    typed_number(&Number { name, about, unit: "mL", field: "", most: 1e5 }, None, take)
}

/// When it was mixed, and what went through it before anything was written down here.
fn before(solution: &Record) -> Vec<Line> {
    let Some(mixed) = last_mixed(solution) else { return Vec::new() };
    let id = solution.id().to_owned();
    let change = move |store: Store, change: &dyn Fn(&mut Deed)| {
        if let Some(known) = store.record_untracked(&id) {
            store.change_record(&id, vec![("events", events_with_mixing(&known, change))]);
        }
    };
    let day = change.clone();
    let day = super::roll_edit::day(
        "Mixed on",
        &events::iso_day(mixed.at),
        Arc::new(move |store, typed: Option<&str>| {
            let at = typed.and_then(|day| Timestamp::from_iso(&format!("{day}T12:00:00Z")));
            day(store, &|deed| deed.at = at.unwrap_or(deed.at));
        }),
    );
    let number = Number {
        name: "Rolls before",
        about: "through it, before it stood here",
        unit: "rolls",
        field: "",
        most: 1000.0,
    };
    let take: Write = Arc::new(move |store, typed| {
        let rolls = typed::number(typed)?.filter(|rolls| (0.0..=1000.0).contains(rolls));
        change(store, &|deed| deed.rolls = rolls);
        Ok(())
    });
    vec![day, typed_number(&number, mixed.rolls.map(text::number), take)]
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
        let rolls = deed
            .rolls
            .map_or_else(String::new, |rolls| format!(", {} rolls before", text::number(rolls)));
        let fine = if deed.fine { ", fine" } else { "" };
        let note = if deed.note.is_empty() { "" } else { ", " };
        let day = events::date(deed.at.milliseconds());
        Line::Quiet(format!("{day}: {what}{ml}{rolls}{clip}{fine}{note}{}", deed.note))
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
