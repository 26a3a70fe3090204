//! How each line of a desk screen looks.

use leptos::prelude::*;

use super::{Act, BELOW, Field, Line, Press, Typing};
use crate::parts::pic::{Pic, picture};
use crate::parts::{Typed, alert, button, el, el_with, fixed, input, made, mark, plain, words};
use crate::screens::{on_press, store};

pub(super) fn draw(line: Line) -> AnyView {
    match line {
        Line::Lead(text) => el("p", "lead", vec![made(text)]),
        Line::Quiet(text) => el("p", "quiet", vec![made(text)]),
        Line::Said(text) => alert("note", made(text)),
        Line::Count(text) => {
            el_with("p", fixed("note"), vec![("role", fixed("status"))], vec![made(text)])
        }
        Line::Heading(text) => el("h2", "label", vec![made(text)]),
        Line::Row { is_here, label, value, more, act } => row(is_here, label, value, more, act),
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

/// A text as it is, to be marked or read.
fn raw(text: String) -> AnyView {
    el_with("pre", fixed("raw"), vec![("tabindex", fixed("0"))], vec![made(text)])
}

/// What is pressed does, unless the press comes too soon after another.
fn pressed(act: Act) -> Callback<()> {
    on_press(move |store| act(store))
}

/// A row that leads on, or that has led to where the person is.
fn row(is_here: bool, label: String, value: String, more: String, act: Act) -> AnyView {
    let value = vec![made(value), el("small", "", vec![made(more)])];
    let all = vec![
        el("span", "label", vec![made(label)]),
        el("span", "ledger__value", value),
        picture(Pic::Go, "pic--go"),
    ];
    let here = is_here.then(|| ("aria-current", fixed("true")));
    button(fixed("ledger__row"), here.into_iter().collect(), None, all, pressed(act))
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
    let attributes = vec![("role", fixed("group")), ("aria-label", Signal::stored(name))];
    el_with("div", fixed(class), attributes, all)
}

/// A button with its class, whether it is pressed, and its name where that is not what it says.
fn press(
    class: &'static str,
    so: Option<bool>,
    name: Option<String>,
    all: Vec<AnyView>,
    on_press: Callback<()>,
) -> AnyView {
    let so = so.map(|so| ("aria-pressed", fixed(if so { "true" } else { "false" })));
    let name = name.map(|name| ("aria-label", Signal::stored(name)));
    button(fixed(class), so.into_iter().chain(name).collect(), None, all, on_press)
}

fn draw_field(field: Field) -> AnyView {
    let store = store();
    let Field { name, about, unit, typing, value, write, steps } = field;
    let (hinted, hint) = store.hint.get();
    let about = if hinted == name { hint } else { about };
    let label = if unit.is_empty() { name.clone() } else { format!("{name}, {unit}") };
    let keep = move |typed: String| write(store, &typed).err().unwrap_or_default();
    // What is typed and not yet kept outlives whatever draws the screen anew.
    let value = store.typed_in.with_value(|typed_in| *typed_in != name).then_some(value);
    let (begun, left) = (name.clone(), name.clone());
    let typed = if typing == Typing::Find {
        // What follows every key draws itself; the rest of the screen stays as it is.
        let on_key = Callback::new(move |typed| drop(keep(typed)));
        Typed { value, on_key, on_left: Callback::new(|_| ()) }
    } else {
        let on_key = Callback::new(move |_| store.typed_in.set_value(begun.clone()));
        let on_left = Callback::new(move |typed| {
            let said = keep(typed);
            store.typed_in.set_value(String::new());
            store.hint.set((left.clone(), said));
        });
        Typed { value, on_key, on_left }
    };
    let (tag, class, more) = match typing {
        Typing::Long => ("textarea", "field__in field__in--long", ("rows", "3")),
        Typing::Words | Typing::Find => ("input", "field__in", ("type", "text")),
        Typing::Number => ("input", "number__in", ("inputmode", "decimal")),
    };
    let attributes = vec![
        (more.0, fixed(more.1)),
        ("autocomplete", fixed("off")),
        ("aria-label", Signal::stored(label)),
    ];
    let input = input(tag, class, attributes, typed);
    if typing != Typing::Number {
        let name = vec![made(name), el("small", "", vec![made(about)])];
        return el("div", "field", vec![el("span", "", name), input]);
    }
    number(name, about, unit, input, steps)
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
    let lines = |cell: String| match cell.split_once(BELOW) {
        Some((first, more)) => {
            vec![made(first.to_owned()), el("small", "", vec![made(more.to_owned())])]
        }
        None => vec![made(cell)],
    };
    let th = |scope, cell| el_with("th", fixed(""), vec![("scope", fixed(scope))], lines(cell));
    let head = head.into_iter().map(|cell| th("col", cell));
    let rows = rows.into_iter().map(|row| {
        let cells = row.into_iter().enumerate().map(|(index, cell)| match index {
            0 => th("row", cell),
            _ => el("td", "", lines(cell)),
        });
        el("tr", "", cells.collect())
    });
    let head = el("thead", "", vec![el("tr", "", head.collect())]);
    el("table", "table", vec![head, el("tbody", "", rows.collect())])
}
