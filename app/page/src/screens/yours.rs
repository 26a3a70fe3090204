//! Yours: one plain list of what you always do.

use leptos::prelude::*;
use process_model::sheet::{Choice, SheetId, Step};
use session::cue::Tone;
use session::habits::{Convention, Ground, Habits, Range, Side, Words};

use super::bench::Bar;
use super::{on_press, store};
use crate::parts::Key;
use crate::route::Route;
use crate::store::Store;
use crate::text;

/// The list.
#[component]
pub fn Yours() -> impl IntoView {
    let store = store();
    let sheet = Memo::new(move |_| store.habits.read().sheet);
    let optional = move || {
        let sheet = sheet.get();
        let steps = sheet.sheet().steps.iter();
        let optional =
            steps.filter(|step| matches!(step.choice, Choice::OptionalOn | Choice::OptionalOff));
        optional.map(|step| view! { <Optional sheet step=*step /> }).collect_view()
    };
    view! {
        <div class="desk">
            <main class="desk__body">
                <header class="head">
                    <h1 class="head__title">"Yours"</h1>
                </header>
                <p class="quiet">"Kept, and frozen into each run as it begins."</p>
                <div class="srows">
                    <Sheets />
                    {optional}
                    <Clock />
                    <Number name="Pouring in" unit="s" range=Habits::FILL read=|habits| habits.fill_s write=|habits, value| habits.fill_s = value />
                    <Number name="Pouring out" unit="s" range=Habits::DRAIN read=|habits| habits.drain_s write=|habits, value| habits.drain_s = value />
                    <Number name="Lead-in to a pour" unit="s" range=Habits::LEAD_IN read=|habits| habits.lead_in_s write=|habits, value| habits.lead_in_s = value />
                    <Number name="Your wash" unit="min" range=Habits::WASH read=|habits| habits.wash_min write=|habits, value| habits.wash_min = value />
                    <Spoken />
                    <Hear />
                    <Sides />
                    <Grounds />
                </div>
            </main>
            <Bar here=Route::Yours />
        </div>
    }
}

/// One row: a name, a line about it, and what can be chosen.
#[component]
fn Row(
    /// What is chosen.
    name: &'static str,
    /// A line about it.
    #[prop(into, optional)]
    about: Signal<String>,
    /// Whether the choices take a line of their own.
    #[prop(optional)]
    wide: bool,
    /// The choices.
    children: Children,
) -> impl IntoView {
    view! {
        <div class="srow" class:srow--wide=wide role="group" aria-label=name>
            <span>{name}<small>{about}</small></span>
            {children()}
        </div>
    }
}

/// Halves, one chosen.
#[component]
fn Switch<T>(
    /// What can be chosen, and its word.
    of: Vec<(T, &'static str)>,
    /// What is chosen.
    chosen: Signal<T>,
    /// What choosing does.
    on_choose: Callback<T>,
) -> impl IntoView
where
    T: Copy + PartialEq + Send + Sync + 'static,
{
    let half = move |(value, word): (T, &'static str)| {
        let so = move || chosen.get() == value;
        let class = move || if so() { "switch__half switch__half--on" } else { "switch__half" };
        let pressed = move || if so() { "true" } else { "false" };
        view! {
            <button type="button" class=class aria-pressed=pressed on:click=move |_| on_choose.run(value)>
                {word}
            </button>
        }
    };
    view! { <span class="switch">{of.into_iter().map(half).collect_view()}</span> }
}

/// Sets one habit.
fn sets<T: 'static>(write: impl Fn(&mut Habits, T) + Send + Sync + 'static) -> Callback<T> {
    let store = store();
    Callback::new(move |value| store.change_habits(|habits| write(habits, value)))
}

#[component]
fn Sheets() -> impl IntoView {
    let store = store();
    let chosen = Signal::derive(move || store.habits.read().sheet);
    let about = Signal::derive(move || text::sheet(chosen.get()).to_owned());
    let of = vec![(SheetId::TwoBath389, "two-bath"), (SheetId::MultiBathC41, "multi-bath")];
    view! {
        <Row name="Sheet" about wide=true>
            <Switch of chosen on_choose=sets(|habits, sheet| habits.sheet = sheet) />
        </Row>
    }
}

#[component]
fn Optional(
    /// Whose step.
    sheet: SheetId,
    /// The step.
    step: Step,
) -> impl IntoView {
    let store = store();
    let chosen = Signal::derive(move || store.habits.read().wants(sheet, &step));
    let about = text::what_it_buys(step.bath).to_owned();
    let on_choose = sets(move |habits, on| habits.switch(sheet, &step, on));
    view! {
        <Row name=text::bath(step.bath) about>
            <Switch of=vec![(true, "with"), (false, "without")] chosen on_choose />
        </Row>
    }
}

#[component]
fn Clock() -> impl IntoView {
    let store = store();
    let chosen = Signal::derive(move || store.habits.read().convention);
    let of =
        vec![(Convention::AsYouBegin, "as you begin"), (Convention::WhenComplete, "when complete")];
    view! {
        <Row name="The clock starts" about="to pour in".to_owned() wide=true>
            <Switch of chosen on_choose=sets(|habits, convention| habits.convention = convention) />
        </Row>
    }
}

/// A whole number, by a key for one less and one more, or typed.
#[component]
fn Number(
    /// What it counts.
    name: &'static str,
    /// Its unit.
    unit: &'static str,
    /// What it may be.
    range: Range,
    /// Reads it.
    read: fn(&Habits) -> u32,
    /// Writes it.
    write: fn(&mut Habits, u32),
) -> impl IntoView {
    let store = store();
    let value = Signal::derive(move || read(&store.habits.read()));
    let hint = RwSignal::new(String::new());
    let set = move |value: u32| store.change_habits(|habits| write(habits, range.nearest(value)));
    let typed = move |event: leptos::ev::Event| {
        let text = event_target_value(&event);
        match text.trim().parse::<u32>() {
            Ok(number) if range.nearest(number) == number => {
                hint.set(String::new());
                set(number);
            }
            _ => hint.set(format!("From {} to {} {unit}.", range.least, range.most)),
        }
    };
    let step = move |by: i32| {
        hint.set(String::new());
        set(value.get_untracked().saturating_add_signed(by));
    };
    view! {
        <Row name about=Signal::derive(move || hint.get())>
            <span class="number">
                <button type="button" class="key" aria-label=format!("{name}, less") on:click=move |_| step(-1)>"−"</button>
                <input
                    class="number__in"
                    type="text"
                    inputmode="numeric"
                    aria-label=format!("{name}, {unit}")
                    prop:value=move || value.get().to_string()
                    on:change=typed
                />
                <span class="number__unit">{unit}</span>
                <button type="button" class="key" aria-label=format!("{name}, more") on:click=move |_| step(1)>"+"</button>
            </span>
        </Row>
    }
}

#[component]
fn Spoken() -> impl IntoView {
    let store = store();
    let chosen = Signal::derive(move || store.habits.read().words);
    let of = vec![(Words::All, "words"), (Words::Few, "few"), (Words::Tones, "tones")];
    view! {
        <Row name="Spoken" about="few: pours and faults".to_owned() wide=true>
            <Switch of chosen on_choose=sets(|habits, words| habits.words = words) />
        </Row>
    }
}

#[component]
fn Hear() -> impl IntoView {
    let tone = |name: &'static str, tone: Tone| {
        let play = on_press(move |store: Store| store.sound_now(&[(50.0, tone)]));
        view! { <Key label=name.to_owned() on_press=play /> }
    };
    view! {
        <Row name="Hear the tones" wide=true>
            <span class="tones">
                {tone("ready", Tone::GetReady)}
                {tone("go", Tone::Go)}
                {tone("rest", Tone::Rest)}
                {tone("alarm", Tone::Alarm)}
            </span>
        </Row>
    }
}

#[component]
fn Sides() -> impl IntoView {
    let store = store();
    let chosen = Signal::derive(move || store.habits.read().keys);
    view! {
        <Row name="Keys at the side" about="phone on its side".to_owned()>
            <Switch
                of=vec![(Side::Left, "left"), (Side::Right, "right")]
                chosen
                on_choose=sets(|habits, keys| habits.keys = keys)
            />
        </Row>
    }
}

#[component]
fn Grounds() -> impl IntoView {
    let store = store();
    let chosen = Signal::derive(move || store.habits.read().ground);
    view! {
        <Row name="Screen" about="no screen is safe for film".to_owned()>
            <Switch
                of=vec![(Ground::Bright, "bright"), (Ground::Dim, "dim")]
                chosen
                on_choose=sets(|habits, ground| habits.ground = ground)
            />
        </Row>
    }
}
