//! How each line of a desk screen looks.

use leptos::prelude::*;

use super::{Act, Field, Line, Press, Typing};
use crate::parts::pic::{Pic, Picture};
use crate::screens::store;

pub(super) fn draw(line: Line) -> AnyView {
    match line {
        Line::Lead(text) => view! { <p class="lead">{text}</p> }.into_any(),
        Line::Quiet(text) => view! { <p class="quiet">{text}</p> }.into_any(),
        Line::Said(text) => view! { <p class="note" role="alert">{text}</p> }.into_any(),
        Line::Heading(text) => view! { <h2 class="label">{text}</h2> }.into_any(),
        Line::Row { label, value, more, act } => row(label, value, more, act),
        Line::Tick { label, value, so, act } => tick(label, value, so, act),
        Line::Choice { name, about, of } => choice(name, about, of),
        Line::Field(field) => draw_field(field),
        Line::Keys(of) => {
            view! { <div class="pair">{of.into_iter().map(key).collect::<Vec<AnyView>>()}</div> }
                .into_any()
        }
        Line::Table(head, rows) => table(head, rows),
        Line::Folded(text) => view! {
            <details>
                <summary>"Show it"</summary>
                <pre class="raw" tabindex="0">{text}</pre>
            </details>
        }
        .into_any(),
        Line::Raw(text) => view! { <pre class="raw" tabindex="0">{text}</pre> }.into_any(),
    }
}

fn press(act: Act) -> impl Fn(leptos::ev::MouseEvent) + Send + 'static {
    let store = store();
    move |_| {
        if store.accepts_press() {
            act(store);
        }
    }
}

fn row(label: String, value: String, more: String, act: Act) -> AnyView {
    view! {
        <button type="button" class="ledger__row" on:click=press(act)>
            <span class="label">{label}</span>
            <span class="ledger__value">{value}<small>{more}</small></span>
            <Picture pic=Pic::Go class="pic--go" />
        </button>
    }
    .into_any()
}

fn tick(label: String, value: String, so: bool, act: Act) -> AnyView {
    let mark = if so { "mark mark--so" } else { "mark" };
    view! {
        <button type="button" class="ready__row ready__row--words" aria-pressed=so.to_string() on:click=press(act)>
            <span>{label}</span>
            <span class="ready__value"><span class="quiet">{value}</span><i class=mark></i></span>
        </button>
    }
    .into_any()
}

fn choice(name: String, about: String, of: Vec<Press>) -> AnyView {
    let letters: usize = of.iter().map(|half| half.says.chars().count()).sum();
    let class = if of.len() > 2 || letters > 16 { "srow srow--wide" } else { "srow" };
    let switch = if of.len() > 4 { "switch switch--many" } else { "switch" };
    let half = |Press { says, so, act, .. }: Press| {
        let class = if so { "switch__half switch__half--on" } else { "switch__half" };
        view! {
            <button type="button" class=class aria-pressed=so.to_string() on:click=press(act)>
                {says}
            </button>
        }
        .into_any()
    };
    let label = name.clone();
    view! {
        <div class=class role="group" aria-label=label>
            <span>{name}<small>{about}</small></span>
            <span class=switch>{of.into_iter().map(half).collect::<Vec<AnyView>>()}</span>
        </div>
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
    let typed = move |event: leptos::ev::Event| {
        let said = write(store, &event_target_value(&event)).err().unwrap_or_default();
        store.hint.set((asked.clone(), said));
    };
    let input = match typing {
        Typing::Long => view! {
            <textarea class="field__in field__in--long" rows="3" aria-label=label prop:value=value on:change=typed></textarea>
        }
        .into_any(),
        Typing::Words => view! {
            <input class="field__in" type="text" autocomplete="off" aria-label=label prop:value=value on:change=typed />
        }
        .into_any(),
        Typing::Number => view! {
            <input class="number__in" type="text" inputmode="decimal" autocomplete="off" aria-label=label prop:value=value on:change=typed />
        }
        .into_any(),
    };
    if typing != Typing::Number {
        return view! {
            <div class="field">
                <span>{name}<small>{about}</small></span>
                {input}
            </div>
        }
        .into_any();
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
        act.map(|act| {
            view! {
                <button type="button" class="key" aria-label=name on:click=press(act)>{sign}</button>
            }
            .into_any()
        })
    };
    let class = if steps.is_some() { "number" } else { "number number--plain" };
    let (less, more) = steps.unzip();
    let (less, more) = (around("−", "less", less), around("+", "more", more));
    let label = name.clone();
    view! {
        <div class="srow" role="group" aria-label=label>
            <span>{name}<small>{about}</small></span>
            <span class=class>{less}{input}<span class="number__unit">{unit}</span>{more}</span>
        </div>
    }
    .into_any()
}

fn key(Press { says, more, so, act }: Press) -> AnyView {
    let class = if so { "key key--next" } else { "key" };
    let more = Some(more).filter(|more| !more.is_empty());
    let more = more.map(|more| view! { <span class="key__more">{more}</span> });
    view! {
        <button type="button" class=class on:click=press(act)><span>{says}</span>{more}</button>
    }
    .into_any()
}

fn table(head: Vec<String>, rows: Vec<Vec<String>>) -> AnyView {
    let head = head.into_iter().map(|cell| view! { <th scope="col">{cell}</th> }.into_any());
    let rows = rows.into_iter().map(|row| {
        let cells = row.into_iter().enumerate().map(|(index, cell)| match index {
            0 => view! { <th scope="row">{cell}</th> }.into_any(),
            _ => view! { <td>{cell}</td> }.into_any(),
        });
        view! { <tr>{cells.collect::<Vec<AnyView>>()}</tr> }.into_any()
    });
    view! {
        <table class="table">
            <thead><tr>{head.collect::<Vec<AnyView>>()}</tr></thead>
            <tbody>{rows.collect::<Vec<AnyView>>()}</tbody>
        </table>
    }
    .into_any()
}
