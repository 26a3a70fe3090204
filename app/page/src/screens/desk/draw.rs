//! How each line of a desk screen looks.

use std::sync::Arc;

use leptos::prelude::*;

use super::{Act, Field, Line, Press, Typing};
use crate::parts::pic::{Pic, picture};
use crate::parts::{el, made, mark, plain, words};
use crate::screens::{on_press, store};

pub(super) fn draw(line: Line) -> AnyView {
    match line {
        Line::Lead(text) => el("p", "lead", vec![made(text)]),
        Line::Quiet(text) => el("p", "quiet", vec![made(text)]),
        Line::Said(text) => note("alert", text),
        Line::Count(text) => note("status", text),
        Line::Heading(text) => el("h2", "label", vec![made(text)]),
        Line::Row { label, value, more, act } => row(label, value, more, act),
        Line::Tick { label, value, so, act } => tick(label, value, so, act),
        Line::Choice { name, about, of } => choice(name, about, of),
        Line::Field(field) => draw_field(field),
        Line::Keys(of) => el("div", "pair", of.into_iter().map(key).collect()),
        Line::Table(head, rows) => table(head, rows),
        Line::Folded(text) => el("details", "", vec![words("summary", "", "Show it"), raw(text)]),
        Line::Raw(text) => raw(text),
        Line::View(view) => view(),
    }
}

/// Something that readers of screens are told at once, or when they are done with a sentence.
fn note(role: &'static str, text: String) -> AnyView {
    view! { <p class="note" role=role>{made(text)}</p> }.into_any()
}

/// A text as it is, to be marked or read.
fn raw(text: String) -> AnyView {
    view! { <pre class="raw" tabindex="0">{made(text)}</pre> }.into_any()
}

/// What is pressed does, unless the press comes too soon after another.
fn pressed(act: Act) -> Callback<()> {
    on_press(move |store| act(store))
}

fn row(label: String, value: String, more: String, act: Act) -> AnyView {
    let value = vec![made(value), el("small", "", vec![made(more)])];
    let all = vec![
        el("span", "label", vec![made(label)]),
        el("span", "ledger__value", value),
        picture(Pic::Go, "pic--go"),
    ];
    press("ledger__row", None, None, all, pressed(act))
}

fn tick(label: String, value: String, so: bool, act: Act) -> AnyView {
    let value = vec![el("span", "quiet", vec![made(value)]), mark(Signal::stored(so))];
    let all = vec![el("span", "", vec![made(label)]), el("span", "ready__value", value)];
    press("ready__row ready__row--words", Some(so), None, all, pressed(act))
}

fn choice(name: String, about: String, of: Vec<Press>) -> AnyView {
    let letters: usize = of.iter().map(|half| half.says.chars().count()).sum();
    let class = if of.len() > 2 || letters > 16 { "srow srow--wide" } else { "srow" };
    let switch = if of.len() > 4 { "switch switch--many" } else { "switch" };
    let half = |Press { says, so, act, .. }: Press| {
        let class = if so { "switch__half switch__half--on" } else { "switch__half" };
        press(class, Some(so), None, vec![made(says)], pressed(act))
    };
    let label = name.clone();
    let name = vec![made(name), el("small", "", vec![made(about)])];
    let all = vec![el("span", "", name), el("span", switch, of.into_iter().map(half).collect())];
    group(class, label, all)
}

/// Things that belong together, by name.
fn group(class: &'static str, name: String, all: Vec<AnyView>) -> AnyView {
    view! { <div class=class role="group" aria-label=name>{all}</div> }.into_any()
}

/// A button with its class, whether it is pressed, and its name where that is not what it says.
fn press(
    class: &'static str,
    so: Option<bool>,
    name: Option<String>,
    all: Vec<AnyView>,
    on_press: Callback<()>,
) -> AnyView {
    let so = so.map(|so| so.to_string());
    view! {
        <button type="button" class=class aria-pressed=so aria-label=name on:click=move |_| on_press.run(())>
            {all}
        </button>
    }
    .into_any()
}

fn draw_field(field: Field) -> AnyView {
    let store = store();
    let Field { name, about, unit, typing, value, write, steps } = field;
    let (hinted, hint) = store.hint.get();
    let about = if hinted == name { hint } else { about };
    let label = if unit.is_empty() { name.clone() } else { format!("{name}, {unit}") };
    let asked = name.clone();
    let typed = Arc::new(move |event: leptos::ev::Event| {
        let said = write(store, &event_target_value(&event)).err().unwrap_or_default();
        // What follows every key draws itself; the rest of the screen stays as it is.
        if typing != Typing::Find {
            store.hint.set((asked.clone(), said));
        }
    });
    let input = input(typing, label, value, typed);
    if typing != Typing::Number {
        let name = vec![made(name), el("small", "", vec![made(about)])];
        return el("div", "field", vec![el("span", "", name), input]);
    }
    number(name, about, unit, input, steps)
}

/// Where a text is typed: it is told when it is left, or with every key where it is looked for.
fn input(
    typing: Typing,
    label: String,
    value: String,
    typed: Arc<dyn Fn(leptos::ev::Event)>,
) -> AnyView {
    let keyed = Arc::clone(&typed);
    if typing == Typing::Long {
        return view! {
            <textarea class="field__in field__in--long" rows="3" aria-label=label prop:value=value on:change=move |event| typed(event)></textarea>
        }
        .into_any();
    }
    let is_number = typing == Typing::Number;
    let class = if is_number { "number__in" } else { "field__in" };
    let mode = is_number.then_some("decimal");
    let left = move |event| {
        if typing != Typing::Find {
            typed(event);
        }
    };
    let keyed = move |event| {
        if typing == Typing::Find {
            keyed(event);
        }
    };
    view! {
        <input class=class type="text" inputmode=mode autocomplete="off" aria-label=label prop:value=value on:change=left on:input=keyed />
    }
    .into_any()
}

/// A number, and keys for one less and one more.
fn number(
    name: String,
    about: String,
    unit: &'static str,
    input: AnyView,
    steps: Option<(Act, Act)>,
) -> AnyView {
    let around = |sign: &'static str, word: &str, act: Option<Act>| {
        let name = format!("{name}, {word}");
        act.map(|act| press("key", None, Some(name), vec![plain(sign)], pressed(act)))
    };
    let class = if steps.is_some() { "number" } else { "number number--plain" };
    let (less, more) = steps.unzip();
    let (less, more) = (around("−", "less", less), around("+", "more", more));
    let label = name.clone();
    let unit = words("span", "number__unit", unit);
    let number = less.into_iter().chain([input, unit]).chain(more).collect();
    let name = vec![made(name), el("small", "", vec![made(about)])];
    group("srow", label, vec![el("span", "", name), el("span", class, number)])
}

fn key(Press { says, more, so, act }: Press) -> AnyView {
    let class = if so { "key key--next" } else { "key" };
    let mut all = vec![el("span", "", vec![made(says)])];
    if !more.is_empty() {
        all.push(el("span", "key__more", vec![made(more)]));
    }
    press(class, None, None, all, pressed(act))
}

fn table(head: Vec<String>, rows: Vec<Vec<String>>) -> AnyView {
    let head = head.into_iter().map(|cell| view! { <th scope="col">{made(cell)}</th> }.into_any());
    let rows = rows.into_iter().map(|row| {
        let cells = row.into_iter().enumerate().map(|(index, cell)| match index {
            0 => view! { <th scope="row">{made(cell)}</th> }.into_any(),
            _ => el("td", "", vec![made(cell)]),
        });
        el("tr", "", cells.collect())
    });
    let head = el("thead", "", vec![el("tr", "", head.collect())]);
    el("table", "table", vec![head, el("tbody", "", rows.collect())])
}
