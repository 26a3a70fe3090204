//! Vessels: bottles, tub, tank and thermometer, set up once; and what has been learned of them.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::sheet::Bath;
use session::habits::Scale;
use session::notebook::{Kind, Value};
use session::vessels::{CIRCULATOR, Vessels as Known};

use super::desk::{Act, Desk, Field, Line, Press, Typing, act};
use crate::route::Route;
use crate::store::Store;
use crate::text;
use crate::typed;

/// What bottles are made of, and how that is called in files.
const MATERIALS: [(&str, &str); 4] =
    [("hdpe", "plastic"), ("pet", "clear plastic"), ("glass", "glass"), ("steel", "steel")];

/// The list.
#[component]
pub fn Vessels() -> impl IntoView {
    let back = Some(("Settings", Route::Settings));
    view! { <Desk title="Vessels" here=Route::Settings back lines=Arc::new(lines) /> }
}

fn lines(store: Store) -> Vec<Line> {
    let known = store.vessels();
    let mut lines = vec![Line::Quiet(
        "Set up once. How fast each warms is computed from this, then learned: estimates."
            .to_owned(),
    )];
    let habits = store.habits.get();
    let plan = session::plan::Plan::new(&habits, &store.sheet(&habits.sheet), 0);
    for bath in session::evening::baths(&plan) {
        lines.extend(bottle(&known, bath));
    }
    lines.extend(tub(&known));
    lines.extend(tank(&known));
    lines.extend(thermometer(store, &known));
    lines.push(Line::Heading("Learned".to_owned()));
    lines.push(Line::Quiet(learned(&known)));
    lines.push(Line::Keys(vec![
        Press::new("FORGET IT", act(Store::forget_learned)).more("vessels stay"),
    ]));
    lines
}

/// A number that goes into a vessel's record.
fn number(
    name: String,
    unit: &'static str,
    value: f64,
    (least, most): (f64, f64),
    take: impl Fn(Store, f64) + Send + Sync + 'static,
) -> Line {
    Line::Field(Field {
        name,
        about: String::new(),
        unit,
        typing: Typing::Number,
        value: text::number(value),
        write: Arc::new(move |store, typed| match typed::signed(typed) {
            Some(value) if (least..=most).contains(&value) => {
                take(store, value);
                Ok(())
            }
            _ => Err(format!("From {} to {} {unit}.", text::number(least), text::number(most))),
        }),
        steps: None,
    })
}

/// A temperature as it is shown on this scale, and back to °C.
fn warmth(
    name: &str,
    celsius: f64,
    (least, most): (f64, f64),
    take: impl Fn(Store, f64) + Send + Sync + 'static,
) -> Line {
    let is_fahrenheit = text::scale() == Scale::Fahrenheit;
    let shown = move |celsius: f64| if is_fahrenheit { celsius * 1.8 + 32.0 } else { celsius };
    let kept = move |shown: f64| if is_fahrenheit { (shown - 32.0) / 1.8 } else { shown };
    let range = (shown(least), shown(most));
    number(name.to_owned(), text::unit(), shown(celsius), range, move |store, value| {
        take(store, kept(value));
    })
}

fn bottle(known: &Known, bath: Bath) -> Vec<Line> {
    let bottle = known.bottle(bath);
    let made = |(name, word): (&'static str, &str)| {
        let is_it = session::vessels::MATERIALS
            .iter()
            .any(|(known, material)| *known == name && *material == bottle.material);
        let choose = act(move |store: Store| {
            store.change_vessel("bottle", Some(bath), vec![("material", name.into())]);
        });
        Press::new(word, choose).so(is_it)
    };
    vec![
        Line::Heading(format!("{} bottle", text::bath(bath))),
        number(
            "Holds".to_owned(),
            "mL",
            bottle.litres * 1000.0,
            (50.0, 20_000.0),
            move |store, ml| {
                store.change_vessel("bottle", Some(bath), vec![("volume_ml", ml.into())]);
            },
        ),
        choice(("Made of", ""), MATERIALS.map(made).into()),
    ]
}

/// A circulator is electrical: the usual caution.
const CIRCULATED: (&str, &str) = ("Kept warm", "circulator: mains near water; its manual decides");

fn choice((name, about): (&str, &str), of: Vec<Press>) -> Line {
    Line::Choice { name: name.to_owned(), about: about.to_owned(), of }
}

fn tub(known: &Known) -> Vec<Line> {
    let set = |field: &'static str| {
        move |store: Store, value: f64| {
            store.change_vessel("tub", None, vec![(field, value.into())]);
        }
    };
    let kind = |word: &str, so: bool, fields: Vec<(&'static str, Value)>| {
        let choose: Act = act(move |store| store.change_vessel("tub", None, fields.clone()));
        Press::new(word, choose).so(so)
    };
    let is_tub = known.tub_l >= 0.5;
    let litres = if is_tub { known.tub_l } else { session::vessels::USUAL_L.1 } * 1000.0;
    let litres: Value = litres.into();
    let plain = is_tub && !known.has_circulator;
    let kept_warm = vec![
        kind("by hand", plain, vec![("volume_ml", litres.clone()), ("material", "".into())]),
        kind(
            CIRCULATOR,
            is_tub && known.has_circulator,
            vec![("volume_ml", litres), ("material", CIRCULATOR.into())],
        ),
        kind("no tub", !is_tub, vec![("volume_ml", 0.0.into())]),
    ];
    let mut lines = vec![Line::Heading("Tub".to_owned()), choice(CIRCULATED, kept_warm)];
    if is_tub {
        let take = set("volume_ml");
        lines.push(number(
            "Holds".to_owned(),
            "L",
            known.tub_l,
            (0.5, 100.0),
            move |store, litres| {
                take(store, litres * 1000.0);
            },
        ));
    }
    lines.push(warmth("Hot tap", known.hot_c, (20.0, 95.0), set("hot_celsius")));
    if known.hot_c > 49.0 {
        lines.push(Line::Said("This water can burn. Cold first, then hot.".to_owned()));
    }
    lines.push(warmth("Cold tap", known.cold_c, (0.0, 40.0), set("cold_celsius")));
    lines.push(warmth("Room", known.room_c, (-5.0, 45.0), set("room_celsius")));
    lines
}

fn tank(known: &Known) -> Vec<Line> {
    let kind = |word: &str, name: &'static str, so: bool| {
        let choose = act(move |store: Store| {
            store.change_vessel("tank", None, vec![("material", name.into())]);
        });
        Press::new(word, choose).so(so)
    };
    vec![
        Line::Heading("Tank".to_owned()),
        number("Holds".to_owned(), "mL", known.tank_l * 1000.0, (100.0, 10_000.0), |store, ml| {
            store.change_vessel("tank", None, vec![("volume_ml", ml.into())]);
        }),
        number(
            "Covers the reels".to_owned(),
            "mL",
            known.covers_l.unwrap_or_default() * 1000.0,
            (10.0, 10_000.0),
            |store, ml| store.change_vessel("tank", None, vec![("least_ml", ml.into())]),
        ),
        number(
            "Stays in it, each roll".to_owned(),
            "mL",
            known.carry_over_ml,
            (0.0, 200.0),
            |store, ml| store.change_vessel("tank", None, vec![("carry_over_ml", ml.into())]),
        ),
        choice(
            ("Made of", ""),
            vec![
                kind("plastic", "plastic", !known.is_steel),
                kind("steel", "steel", known.is_steel),
            ],
        ),
    ]
}

/// Ice water, or a thermometer that is trusted: the difference is taken off every reading.
fn thermometer(store: Store, known: &Known) -> Vec<Line> {
    let check = |name: &str, about: &str, method: &'static str, typed_is_true: bool| {
        Line::Field(Field {
            name: name.to_owned(),
            about: about.to_owned(),
            unit: if typed_is_true { "" } else { text::unit() },
            typing: Typing::Number,
            value: String::new(),
            write: Arc::new(move |store, typed| {
                let offset_k = if typed_is_true { compared(typed) } else { ice(typed) };
                let Some(offset_k) = offset_k else {
                    return if typed.trim().is_empty() {
                        Ok(())
                    } else if typed_is_true {
                        Err("Two readings, yours first, such as 39.2 38.9.".to_owned())
                    } else {
                        Err("What it shows in ice water, such as −0.3. Beyond 5 °C off, use another.".to_owned())
                    };
                };
                store.change_thermometer(vec![
                    ("offset_kelvins", ((offset_k * 100.0).round() / 100.0).into()),
                    ("checked_at", store.wall_now().to_iso().into()),
                    ("method", method.into()),
                ]);
                Ok(())
            }),
            steps: None,
        })
    };
    let checked = store.records_of(Kind::Thermometer).into_iter().next();
    let when = checked.map(|record| record.text("checked_at").chars().take(10).collect::<String>());
    let so_far = match when.filter(|when| !when.is_empty()) {
        None => "Not checked: readings are taken as they are.".to_owned(),
        Some(day) => {
            let off = text::off(known.offset_k).unwrap_or_else(|| "true".to_owned());
            format!("Checked {day}: reads {off}; every judgement and estimate allows for that.")
        }
    };
    vec![
        Line::Heading("Thermometer".to_owned()),
        Line::Quiet(so_far),
        check("In ice water it shows", "crushed ice, water, two minutes", "ice_point", false),
        check("Beside one you trust", "at working warmth; yours, then that", "comparison", true),
    ]
}

/// How far off a thermometer is that shows this in ice water, in kelvins.
fn ice(typed: &str) -> Option<f64> {
    let shown = typed::signed(typed)?;
    let celsius = if text::scale() == Scale::Fahrenheit { (shown - 32.0) / 1.8 } else { shown };
    (celsius.abs() <= 5.0).then_some(celsius)
}

/// How far off it is beside another: two readings, its own first.
fn compared(typed: &str) -> Option<f64> {
    let mut both = typed.split_whitespace().map(typed::signed);
    let (Some(Some(own)), Some(Some(other)), None) = (both.next(), both.next(), both.next()) else {
        return None;
    };
    let kelvins = own - other;
    let kelvins = if text::scale() == Scale::Fahrenheit { kelvins / 1.8 } else { kelvins };
    (kelvins.abs() <= 5.0).then_some(kelvins)
}

/// What has been learned, in plain words.
fn learned(known: &Known) -> String {
    let bottles = known.bottles.iter().filter_map(|bottle| {
        let minutes = process_model::advice::minutes(bottle.ln_tau10?.mean);
        Some(format!(
            "{} gets two thirds of the way in about {} min",
            text::bath(bottle.bath),
            text::decimal(minutes, 0)
        ))
    });
    let words: Vec<String> = bottles.collect();
    if words.is_empty() {
        return "Nothing yet: the first evening goes by computed values.".to_owned();
    }
    format!("{}.", words.join("; "))
}
