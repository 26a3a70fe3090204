//! The fields of a roll. None is required; each is kept as soon as it is left.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::film::Format;
use session::film::{ROLLS, format_of};
use session::notebook::{Record, Value};
use session::rolls::{PUSHES, pushed};

use super::desk::{Desk, Field, Line, Press, Typing, Write, act, field, to, write};
use super::rolls::title;
use crate::browser::events;
use crate::route::Route;
use crate::store::Store;
use crate::text;
use crate::typed;

/// How dense negatives come out, as a roll has it.
pub const DENSITIES: [&str; 3] = ["thin", "right", "dense"];

/// The fields.
#[component]
pub fn RollEdit(
    /// The roll's id. A roll of that id need not be there yet.
    id: String,
) -> impl IntoView {
    let lines = Arc::new(move |store| lines(store, &id));
    view! { <Desk title="Roll" here=Route::Rolls back=Some(("All rolls", Route::Rolls)) lines /> }
}

fn lines(store: Store, id: &str) -> Vec<Line> {
    let roll = store.record(id);
    let shown = roll.as_ref().map_or_else(|| "A new roll".to_owned(), title);
    let words = |name: &str, about: &str, field: &'static str, typing: Typing| {
        let value = roll.as_ref().map(|roll| roll.text(field).to_owned()).unwrap_or_default();
        let id = id.to_owned();
        Line::Field(Field {
            name: name.to_owned(),
            about: about.to_owned(),
            unit: "",
            typing,
            value,
            write: write(move |store, typed| {
                let typed = Some(typed.trim()).filter(|typed| !typed.is_empty());
                store.write_roll(&id, vec![(field, typed.into())]);
            }),
            steps: None,
        })
    };
    let number = |name: &str, key: &'static str| {
        let value = roll.as_ref().and_then(|roll| roll.number(key));
        let value = value.map(|value| text::decimal(value, 0)).unwrap_or_default();
        field(name, "", Typing::Number, &value, whole(id, key))
    };
    let mut lines = vec![
        Line::Lead(shown),
        Line::Quiet("Nothing is required. What you write is kept as you leave a field.".to_owned()),
        words("Film", "as its box names it", "stock", Typing::Words),
        format(id, roll.as_ref().map_or("", |roll| roll.text("format"))),
    ];
    lines.extend(own_format(id, roll.as_ref()));
    lines.extend([
        number("Box speed, ISO", "box_iso"),
        number("Rated, ISO", "rated_iso"),
        push(id, roll.as_ref().map_or("", pushed)),
        words("Camera", "", "camera", Typing::Words),
        words("Lens", "", "lens", Typing::Words),
        number("Frames", "frames"),
        words("On it", "", "note", Typing::Long),
        exposed(id, roll.as_ref().map_or("", |roll| roll.text("exposed_on"))),
        today(id),
        number("Number", "number"),
        density(id, roll.as_ref().map_or("", |roll| roll.text("density"))),
        words("How it came out", "", "judgement", Typing::Long),
        words("Anything to change next time?", "", "next_time", Typing::Long),
        words("Filed as", "sleeve, page or folder", "filed_as", Typing::Words),
        Line::Keys(vec![Press::new("DONE", to(Route::Roll(id.to_owned()))).so(true)]),
    ]);
    lines
}

/// A whole number, or nothing.
fn whole(id: &str, field: &'static str) -> Write {
    let id = id.to_owned();
    Arc::new(move |store, typed| {
        let typed = typed.trim();
        let value = match typed.parse::<u32>() {
            Ok(value) if (1..=1_000_000).contains(&value) => Value::from(value),
            Err(_) if typed.is_empty() => Value::Null,
            Ok(_) | Err(_) => return Err("A whole number, such as 400, or nothing.".to_owned()),
        };
        store.write_roll(&id, vec![(field, value)]);
        Ok(())
    })
}

fn format(id: &str, chosen: &str) -> Line {
    let half = |format: Format| {
        let (id, name) = (id.to_owned(), text::format(format));
        let choose = act(move |store| store.write_roll(&id, vec![("format", name.into())]));
        Press::new(name, choose).so(name == chosen)
    };
    Line::Choice {
        name: "Format".to_owned(),
        about: String::new(),
        of: Format::ALL.into_iter().map(half).collect(),
    }
}

/// A format that no box names, in the person's words, and how much film that is.
fn own_format(id: &str, roll: Option<&Record>) -> Vec<Line> {
    let own = roll.filter(|roll| format_of(roll).is_none());
    let value = own.map_or("", |roll| roll.text("format"));
    let of = id.to_owned();
    let keep = write(move |store, typed| {
        let typed = Some(typed.trim()).filter(|typed| !typed.is_empty());
        store.write_roll(&of, vec![("format", typed.into())]);
    });
    let about = "in your own words, such as half a sheet of 4 × 5";
    let mut lines = vec![field("Another format", about, Typing::Words, value, keep)];
    if let Some(own) = own.filter(|_| !value.is_empty()) {
        let value = own.number("counts_as_rolls").map(|rolls| text::decimal(rolls, 2));
        let id = id.to_owned();
        let keep: Write = Arc::new(move |store, typed| {
            let rolls = typed::number(typed)?;
            if rolls.is_some_and(|rolls| !(ROLLS.0..=ROLLS.1).contains(&rolls)) {
                return Err("0.01 to 20 rolls, or nothing.".to_owned());
            }
            store.write_roll(&id, vec![("counts_as_rolls", rolls.into())]);
            Ok(())
        });
        let about = "rolls of 135-36, each 516 cm² or four sheets of 4 × 5; 1 until you say";
        let value = value.unwrap_or_default();
        lines.push(field("It counts as", about, Typing::Number, &value, keep));
    }
    lines
}

/// How far it is to be pushed or pulled.
fn push(id: &str, chosen: &str) -> Line {
    let half = |(stops, name): (f64, &'static str)| {
        let id = id.to_owned();
        let is_normal = stops == 0.0;
        let value = if is_normal { Value::Null } else { Value::from(stops) };
        let choose = act(move |store| store.write_roll(&id, vec![("push_stops", value.clone())]));
        Press::new(name, choose).so(name == chosen || is_normal && chosen.is_empty())
    };
    Line::Choice {
        name: "Push or pull".to_owned(),
        about: "stops; the developer's time stays as it is".to_owned(),
        of: PUSHES.into_iter().map(half).collect(),
    }
}

/// How dense its negatives came out; the chosen half again takes it away.
fn density(id: &str, chosen: &str) -> Line {
    let half = |says: &'static str| {
        let (id, so) = (id.to_owned(), says == chosen);
        let value = if so { Value::Null } else { says.into() };
        let choose = act(move |store| store.write_roll(&id, vec![("density", value.clone())]));
        Press::new(says, choose).so(so)
    };
    Line::Choice {
        name: "Negatives".to_owned(),
        about: "by your own eye".to_owned(),
        of: DENSITIES.into_iter().map(half).collect(),
    }
}

/// The day a roll came out of the camera.
fn exposed(id: &str, value: &str) -> Line {
    let id = id.to_owned();
    let take = move |store: Store, day: Option<&str>| {
        store.write_roll(&id, vec![("exposed_on", day.into())]);
    };
    day("Out of the camera", value, Arc::new(take))
}

/// The same day without a word typed, for a roll that has just come out.
fn today(id: &str) -> Line {
    let id = id.to_owned();
    let out = act(move |store: Store| {
        let day = events::iso_day(store.wall_now());
        store.write_roll(&id, vec![("exposed_on", day.into())]);
    });
    Line::Keys(vec![Press::new("TODAY", out).more("out of the camera")])
}

/// What is done with a day that was typed; nothing if the field was emptied.
type TakeDay = Arc<dyn Fn(Store, Option<&str>) + Send + Sync>;

/// A day that has been.
pub fn day(name: &str, value: &str, take: TakeDay) -> Line {
    Line::Field(Field {
        name: name.to_owned(),
        about: "a day, such as 2026-03-14".to_owned(),
        unit: "",
        typing: Typing::Words,
        value: value.to_owned(),
        write: Arc::new(move |store, typed| {
            let typed = typed.trim();
            if !typed.is_empty() && events::days_since(typed).is_none() {
                return Err("A day that has been, such as 2026-03-14, or nothing.".to_owned());
            }
            take(store, Some(typed).filter(|typed| !typed.is_empty()));
            Ok(())
        }),
        steps: None,
    })
}
