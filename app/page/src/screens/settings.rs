//! Settings: what the person always does, how the page looks and sounds, the notebook's file.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::sheet::{Choice, Sheet, Step};
use session::cue::Tone;
use session::habits::{Convention, Ground, Habits, Pace, Range, Scale, Side, Volumes, Words};
use session::notebook::file::Preview;
use session::notebook::photos::Photos;

use super::desk::{Act, Desk, Field, Line, Press, Typing, act, to};
use super::primer;
use crate::browser::events;
use crate::route::Route;
use crate::store::photos::Photos as Known;
use crate::store::{Backup, Store};
use crate::text;

/// The list.
#[component]
pub fn Settings() -> impl IntoView {
    super::store().ask_for_truth();
    view! { <Desk title="Settings" here=Route::Settings back=None lines=Arc::new(lines) /> }
}

fn lines(store: Store) -> Vec<Line> {
    let habits = store.habits.get();
    let known = store.sheet(&habits.sheet);
    let mut lines = vec![Line::Quiet("A run goes by what stands here as it begins.".to_owned())];
    lines.push(Line::Row {
        is_here: false,
        label: "Sheet".to_owned(),
        value: text::sheet_name(&known.sheet.name),
        more: String::new(),
        act: to(Route::Sheets),
    });
    lines.extend(optional(&habits, &known.sheet));
    lines.push(Line::Row {
        is_here: false,
        label: "Vessels".to_owned(),
        value: "bottles, tub, tank, thermometer".to_owned(),
        more: String::new(),
        act: to(Route::Vessels),
    });
    lines.extend(yours(&habits));
    lines.extend(heard(store, &habits));
    lines.extend(seen(&habits));
    lines.extend(file(store));
    lines.extend(kept(store));
    lines.push(Line::Heading("To read".to_owned()));
    lines.extend(primer::rows(&Route::Settings));
    lines
}

/// One of a few values of a habit.
fn choose<T: Copy + PartialEq + Send + Sync + 'static>(
    name: &str,
    about: &str,
    chosen: T,
    of: &[(T, &str)],
    set: fn(&mut Habits, T),
) -> Line {
    let half = |(value, word): &(T, &str)| {
        let value = *value;
        let choose = act(move |store| store.change_habits(|habits| set(habits, value)));
        Press::new(*word, choose).so(value == chosen)
    };
    Line::Choice {
        name: name.to_owned(),
        about: about.to_owned(),
        of: of.iter().map(half).collect(),
    }
}

/// A whole number of a habit, by a key for one less and one more, or typed.
fn number(
    name: &'static str,
    unit: &'static str,
    range: Range,
    value: u32,
    set: fn(&mut Habits, u32),
) -> Line {
    let step = move |by: i32| -> Act {
        act(move |store| {
            let value = range.nearest(value.saturating_add_signed(by));
            store.change_habits(|habits| set(habits, value));
            store.hint.set((String::new(), String::new()));
        })
    };
    Line::Field(Field {
        name: name.to_owned(),
        about: String::new(),
        unit,
        typing: Typing::Number,
        value: value.to_string(),
        write: Arc::new(move |store, typed| match typed.trim().parse::<u32>() {
            Ok(value) if range.nearest(value) == value => {
                store.change_habits(|habits| set(habits, value));
                Ok(())
            }
            _ => Err(format!("From {} to {} {unit}.", range.least, range.most)),
        }),
        steps: Some((step(-1), step(1))),
    })
}

fn optional(habits: &Habits, sheet: &Sheet) -> Vec<Line> {
    let is_optional =
        |step: &&Step| matches!(step.choice, Choice::OptionalOn | Choice::OptionalOff);
    let line = |step: &Step| {
        let wanted = habits.wants(&sheet.key, step);
        let half = |word: &str, on: bool| {
            let (key, step) = (sheet.key.to_string(), step.clone());
            let switch =
                act(move |store| store.change_habits(|habits| habits.switch(&key, &step, on)));
            Press::new(word, switch).so(wanted == on)
        };
        Line::Choice {
            name: text::bath(step.bath).to_owned(),
            about: text::what_it_buys(step.bath).to_owned(),
            of: vec![half("with", true), half("without", false)],
        }
    };
    sheet.steps.iter().filter(is_optional).map(line).collect()
}

fn yours(habits: &Habits) -> Vec<Line> {
    vec![
        Line::Heading("Habits".to_owned()),
        choose(
            "The clock starts",
            "pouring in; the sheet goes first",
            habits.convention,
            &[
                (Convention::AsYouBegin, "as you begin"),
                (Convention::WhenComplete, "when complete"),
            ],
            |habits, value| habits.convention = value,
        ),
        number("Pouring in", "s", Habits::FILL, habits.fill_s, |habits, value| {
            habits.fill_s = value;
        }),
        number("Pouring out", "s", Habits::DRAIN, habits.drain_s, |habits, value| {
            habits.drain_s = value;
        }),
        number("Lead-in to a pour", "s", Habits::LEAD_IN, habits.lead_in_s, |habits, value| {
            habits.lead_in_s = value;
        }),
        number("Your wash", "min", Habits::WASH, habits.wash_min, |habits, value| {
            habits.wash_min = value;
        }),
        number("In the dark", "min", Habits::DARK, habits.dark_min, |habits, value| {
            habits.dark_min = value;
        }),
    ]
}

fn heard(store: Store, habits: &Habits) -> Vec<Line> {
    let tone = |name: &str, tone: Tone| {
        Press::new(name, act(move |store| store.sound_now(&[(50.0, tone)])))
    };
    let mut lines = vec![
        Line::Heading("Heard".to_owned()),
        choose(
            "Spoken",
            "few: pours and faults",
            habits.words,
            &[(Words::All, "words"), (Words::Few, "few"), (Words::Tones, "tones")],
            |habits, value| habits.words = value,
        ),
        choose(
            "Pace",
            "of the voice",
            habits.pace,
            &[(Pace::Slow, "slow"), (Pace::Normal, "normal"), (Pace::Quick, "quick")],
            |habits, value| habits.pace = value,
        ),
    ];
    lines.extend(voices(store, &habits.voice));
    lines.push(Line::Keys(vec![tone("ready", Tone::GetReady), tone("go", Tone::Go)]));
    lines.push(Line::Keys(vec![tone("rest", Tone::Rest), tone("alarm", Tone::Alarm)]));
    lines
}

/// The voices of this phone, one of which can be chosen.
fn voices(store: Store, chosen: &str) -> Vec<Line> {
    let mut names = store.voices();
    if names.len() < 2 {
        let none = if names.is_empty() { "This phone has no voice; tones only." } else { "" };
        return Some(none)
            .filter(|none| !none.is_empty())
            .map(|none| Line::Quiet(none.to_owned()))
            .into_iter()
            .collect();
    }
    names.truncate(12);
    let is_first = !names.iter().any(|name| name == chosen);
    let line = |(index, name): (usize, String)| {
        let so = name == chosen || (is_first && index == 0);
        let voice = name.clone();
        let choose = act(move |store| {
            store.change_habits(|habits| habits.voice.clone_from(&voice));
            store.say("Agitate in five.", true);
        });
        Line::Tick { label: name, value: String::new(), so, act: choose }
    };
    std::iter::once(Line::Quiet("Voices on this phone:".to_owned()))
        .chain(names.into_iter().enumerate().map(line))
        .collect()
}

fn seen(habits: &Habits) -> Vec<Line> {
    vec![
        Line::Heading("Seen and touched".to_owned()),
        choose(
            "Temperatures",
            "kept in °C, whatever is shown",
            habits.scale,
            &[(Scale::Celsius, "°C"), (Scale::Fahrenheit, "°F")],
            |habits, value| habits.scale = value,
        ),
        choose(
            "Volumes",
            "kept in mL, whatever is shown",
            habits.volumes,
            &[(Volumes::Millilitres, "mL"), (Volumes::FluidOunces, "US fl oz")],
            |habits, value| habits.volumes = value,
        ),
        choose(
            "Any key is the big button",
            "keyboard, pedal or remote",
            habits.any_key,
            &[(true, "yes"), (false, "no")],
            |habits, value| habits.any_key = value,
        ),
        choose(
            "Keys at the side",
            "phone on its side",
            habits.keys,
            &[(Side::Left, "left"), (Side::Right, "right")],
            |habits, value| habits.keys = value,
        ),
        choose(
            "Screen",
            "no screen is safe for film",
            habits.ground,
            &[(Ground::Bright, "bright"), (Ground::Dim, "dim")],
            |habits, value| habits.ground = value,
        ),
    ]
}

/// The notebook's file: out, and in.
fn file(store: Store) -> Vec<Line> {
    let mut lines = vec![
        Line::Heading("The notebook's file".to_owned()),
        Line::Keys(vec![
            Press::new("SAVE A FILE", act(Store::save_notebook)).more("everything in it"),
            Press::new("READ A FILE", act(Store::pick_file)).more("nothing is lost"),
            Press::new("ROLLS AS A TABLE", act(Store::save_rolls_table)).more("CSV"),
            Press::new("ON PAPER", to(Route::Paper)).more("every roll and its run"),
        ]),
        Line::Quiet("Or paste a file's text here, or drop a file on this page.".to_owned()),
    ];
    let (says, more, so) = if events::is_demo() {
        ("LEAVE THE DEMO", "back to your own notebook", false)
    } else {
        ("LOOK AT A DEMO", "invented rolls, kept apart from yours", true)
    };
    let demo = act(move |_| events::show_demo(so));
    lines.push(Line::Keys(vec![Press::new(says, demo).more(more)]));
    lines.extend(photos(store));
    match store.backup.get() {
        Backup::None => {}
        Backup::Said(words) => lines.push(Line::Said(words)),
        Backup::Waits { preview, untouched, photos } => {
            lines.extend(waits(&preview, untouched, &photos));
        }
    }
    lines
}

/// Whether the file takes the photos along, where there are any.
fn photos(store: Store) -> Option<Line> {
    let known = store.photos.get();
    let half = |word: &str, so: bool| {
        let is_so = known.in_files == so;
        let known = Known { in_files: so, ..known.clone() };
        Press::new(word, act(move |store| store.photos.set(known.clone()))).so(is_so)
    };
    let count = store.photo_count();
    (count > 0).then(|| Line::Choice {
        name: text::photos::count(count),
        about: "in the file they make it large".to_owned(),
        of: vec![half("leave out", false), half("put in", true)],
    })
}

/// What reading the file would do.
fn waits(preview: &Preview, untouched: bool, photos: &Photos) -> Vec<Line> {
    let Preview { new, changed, same, conflicts, .. } = preview;
    let mut lines = Vec::new();
    if !untouched {
        lines.push(Line::Said(
            "This file was changed after it was saved. Nothing was changed here.".to_owned(),
        ));
    }
    let row = |what: &str, count: &usize| vec![what.to_owned(), count.to_string()];
    lines.push(Line::Table(
        vec!["In this file".to_owned(), "records".to_owned()],
        vec![
            row("new", new),
            row("changed", changed),
            row("the same", same),
            row("of these in conflict; both versions are kept", conflicts),
        ],
    ));
    for (says, count, more) in [
        ("It holds ", photos.taken.len(), "."),
        ("This file leaves out ", photos.left_out, "."),
        ("In it, ", photos.unusable, " cannot be read in; everything else can."),
    ] {
        if count > 0 {
            lines.push(Line::Quiet([says, &text::photos::count(count), more].concat()));
        }
    }
    let read = if untouched { "READ IT IN" } else { "READ ANYWAY" };
    lines.push(Line::Keys(vec![
        Press::new("LEAVE IT", act(|store| store.backup.set(Backup::None))),
        Press::new(read, act(Store::take_file_in)).so(true),
    ]));
    lines
}

/// Where the notebook is, and how to be rid of it.
fn kept(store: Store) -> Vec<Line> {
    let truth = store.truth.get();
    let durable = match truth.is_durable {
        Some(true) => "The browser keeps it until you clear it.",
        Some(false) => "The browser may clear it when the phone is full: save a file now and then.",
        None => "The browser does not say whether it may clear it: save a file now and then.",
    };
    let used = truth.used_bytes.map(|bytes| {
        format!("About {} MB are used, by the browser's estimate.", text::decimal(bytes / 1e6, 1))
    });
    let saved = store.file_saved.get().map_or_else(
        || "No file has been saved yet.".to_owned(),
        |at| format!("Last file: {}.", events::date(at.milliseconds())),
    );
    let mut lines = vec![
        Line::Heading("Where it is kept".to_owned()),
        Line::Quiet(format!("On this device, in this browser, and nowhere else. {durable}")),
    ];
    lines.extend(used.map(Line::Quiet));
    lines.push(Line::Quiet(saved));
    lines.push(Line::Field(Field {
        name: "Erase everything".to_owned(),
        about: "Type ERASE. There is no way back but a file.".to_owned(),
        unit: "",
        typing: Typing::Words,
        value: String::new(),
        write: Arc::new(|store, typed| match typed.trim() {
            "ERASE" => {
                store.erase_everything();
                Ok(())
            }
            "" => Ok(()),
            _ => Err("Nothing was erased. Only the word ERASE, in capitals, erases.".to_owned()),
        }),
        steps: None,
    }));
    lines
}
