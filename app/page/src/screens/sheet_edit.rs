//! The fields of a person's own sheet. Each is kept as it is left; what is impossible is not.

mod step;

use std::sync::Arc;

use leptos::prelude::*;
use process_model::quantity::{Celsius, Seconds};
use session::habits::Convention;
use session::sheets::{Addition, Drain, Known, Method};

use super::desk::{Act, Desk, Field, Line, Press, Typing, Write, act, to};
use crate::route::Route;
use crate::store::Store;
use crate::text;
use crate::typed;

/// The fields.
#[component]
pub fn SheetEdit(
    /// The sheet's id.
    key: String,
) -> impl IntoView {
    let lines = Arc::new(move |store| lines(store, &key));
    view! { <Desk title="Sheet" here=Route::Sheets back=Some(("All sheets", Route::Sheets)) lines /> }
}

fn lines(store: Store, key: &str) -> Vec<Line> {
    let known = store.sheet(key);
    if known.sheet.key != key || !known.is_own() {
        return vec![Line::Lead("There is no sheet of yours here.".to_owned())];
    }
    let edit = Edit { key: key.to_owned() };
    let mut lines = vec![
        Line::Quiet(
            "What you write is kept as you leave a field. Rolls keep the sheet they were run with."
                .to_owned(),
        ),
        edit.words("Name", known.sheet.name.as_ref(), |known, typed| {
            known.sheet.name = typed.to_owned().into();
        }),
        edit.words("Where its values are from", &known.source_note, |known, typed| {
            typed.clone_into(&mut known.source_note);
        }),
    ];
    for index in 0..known.sheet.steps.len() {
        lines.extend(step::lines(&edit, index, &known.sheet.steps[index]));
    }
    lines.push(step::put_in(&edit));
    lines.push(Line::Heading("The whole sheet".to_owned()));
    lines.extend(edit.whole(&known));
    lines.extend(edit.pairs(&known));
    lines.push(Line::Keys(vec![Press::new("DONE", to(Route::Sheet(key.to_owned()))).so(true)]));
    lines
}

/// Changes one sheet.
struct Edit {
    key: String,
}

impl Edit {
    /// A press that changes the sheet.
    fn act(&self, change: impl Fn(&mut Known) + Send + Sync + 'static) -> Act {
        let key = self.key.clone();
        act(move |store| {
            if let Err(why) = store.change_sheet(&key, &change) {
                store.hint.set((String::new(), why));
            }
        })
    }

    /// A field that changes the sheet if what was typed can be read and makes sense.
    fn write<T: 'static>(
        &self,
        read: fn(&str) -> Result<T, String>,
        change: impl Fn(&mut Known, &T) + Send + Sync + 'static,
    ) -> Write {
        let key = self.key.clone();
        Arc::new(move |store, typed| {
            let value = read(typed)?;
            store.change_sheet(&key, &|known: &mut Known| change(known, &value))
        })
    }

    fn words(&self, name: &str, value: &str, change: fn(&mut Known, &str)) -> Line {
        Line::Field(Field {
            name: name.to_owned(),
            about: String::new(),
            unit: "",
            typing: Typing::Words,
            value: value.to_owned(),
            write: self.write(
                |typed| Ok(typed.trim().to_owned()),
                move |known, typed: &String| change(known, typed),
            ),
            steps: None,
        })
    }

    fn time(
        &self,
        name: String,
        value: Option<Seconds>,
        change: impl Fn(&mut Known, Option<Seconds>) + Send + Sync + 'static,
    ) -> Line {
        Line::Field(Field {
            name,
            about: String::new(),
            unit: "min:s",
            typing: Typing::Number,
            value: value.map(|value| text::passed(value.to_milliseconds())).unwrap_or_default(),
            write: self.write(
                |typed| typed::time(typed).map_err(str::to_owned),
                move |known, value: &Option<Seconds>| change(known, *value),
            ),
            steps: None,
        })
    }

    fn celsius(
        &self,
        name: String,
        value: Option<Celsius>,
        change: impl Fn(&mut Known, Option<Celsius>) + Send + Sync + 'static,
    ) -> Line {
        Line::Field(Field {
            name,
            about: String::new(),
            unit: text::unit(),
            typing: Typing::Number,
            value: value.map(text::degrees).unwrap_or_default(),
            write: self.write(
                |typed| {
                    if typed.trim().is_empty() {
                        return Ok(None);
                    }
                    typed::pasted(typed, text::scale()).map(Some).map_err(str::to_owned)
                },
                move |known, value: &Option<Celsius>| change(known, *value),
            ),
            steps: None,
        })
    }

    fn number(
        &self,
        name: String,
        unit: &'static str,
        value: Option<f64>,
        change: impl Fn(&mut Known, Option<f64>) + Send + Sync + 'static,
    ) -> Line {
        Line::Field(Field {
            name,
            about: String::new(),
            unit,
            typing: Typing::Number,
            value: value.map(|value| text::decimal(value, 0)).unwrap_or_default(),
            write: self.write(
                |typed| typed::number(typed).map_err(str::to_owned),
                move |known, value: &Option<f64>| change(known, *value),
            ),
            steps: None,
        })
    }

    fn choose<T: Copy + PartialEq + Send + Sync + 'static>(
        &self,
        name: &str,
        chosen: T,
        of: &[(T, &str)],
        set: fn(&mut Known, T),
    ) -> Line {
        let half = |(value, word): &(T, &str)| {
            let value = *value;
            Press::new(*word, self.act(move |known| set(known, value))).so(value == chosen)
        };
        Line::Choice {
            name: name.to_owned(),
            about: String::new(),
            of: of.iter().map(half).collect(),
        }
    }

    fn whole(&self, known: &Known) -> Vec<Line> {
        let mut lines = vec![
            self.choose(
                "The clock starts",
                known.convention,
                &[
                    (None, "as Settings say"),
                    (Some(Convention::AsYouBegin), "as you begin"),
                    (Some(Convention::WhenComplete), "when complete"),
                ],
                |known, value| known.convention = value,
            ),
            self.choose(
                "Times include pouring out",
                known.drain,
                &[(Drain::Inside, "yes"), (Drain::Outside, "no")],
                |known, value| known.drain = value,
            ),
            self.choose(
                "Agitation",
                known.method,
                &[
                    (Method::Inversion, "inversion"),
                    (Method::Spindle, "spindle"),
                    (Method::Rotary, "rotary"),
                ],
                |known, value| known.method = value,
            ),
        ];
        lines.extend(self.addition(known.addition));
        lines
    }

    /// How the developer's time grows with use.
    fn addition(&self, addition: Option<Addition>) -> [Line; 2] {
        let set = |change: fn(&mut Addition, f64)| {
            move |known: &mut Known, value: Option<f64>| {
                known.addition = value.map(|value| {
                    let usual = Addition { seconds: 0.0, per_ml: 1_000.0 };
                    let mut addition = known.addition.unwrap_or(usual);
                    change(&mut addition, value);
                    addition
                });
            }
        };
        [
            self.number(
                "Add for each roll".to_owned(),
                "s",
                addition.map(|addition| addition.seconds),
                set(|addition, value| addition.seconds = value),
            ),
            self.number(
                "in so much developer".to_owned(),
                "mL",
                addition.map(|addition| addition.per_ml),
                set(|addition, value| addition.per_ml = value),
            ),
        ]
    }

    /// Times of the developer at other temperatures; an empty pair stands ready at the end.
    fn pairs(&self, known: &Known) -> Vec<Line> {
        let mut lines = vec![Line::Heading("The developer at other temperatures".to_owned())];
        let pairs = known.sheet.pairs.to_vec();
        for index in 0..=pairs.len().min(7) {
            let pair = pairs.get(index).copied();
            lines.push(self.celsius(
                format!("Pair {}, at", index + 1),
                pair.map(|pair| pair.0),
                move |known, value| {
                    set_pair(known, index, value, None);
                },
            ));
            if pair.is_some() {
                lines.push(self.time(
                    format!("Pair {}, time", index + 1),
                    pair.map(|pair| pair.1),
                    move |known, value| {
                        set_pair(known, index, None, value);
                    },
                ));
            }
        }
        lines
    }
}

/// Sets one half of a pair. A pair without a temperature is taken away.
fn set_pair(known: &mut Known, index: usize, celsius: Option<Celsius>, time: Option<Seconds>) {
    let developer = known.sheet.steps.iter().find(|step| step.is_developer());
    let usual = developer.map_or(Seconds::whole(210), |step| step.time.nominal);
    let pairs = known.sheet.pairs.to_mut();
    match (pairs.get_mut(index), celsius, time) {
        (Some(pair), Some(celsius), _) => pair.0 = celsius,
        (Some(pair), None, Some(time)) => pair.1 = time,
        (Some(_), None, None) => {
            pairs.remove(index);
        }
        (None, Some(celsius), _) => pairs.push((celsius, usual)),
        (None, None, _) => {}
    }
}
