//! Run: one timed step, from its lead-in to its tap.

mod frame;
mod looking_on;
mod moment;

use leptos::prelude::*;
use process_model::sheet::Bath;
use session::plan::PlannedStep;
use session::run::Run;
use session::step_clock::StepClock;
use session::view::{Scene, StateWord, View};

pub use frame::{Offers, head, keys};
pub use looking_on::LookingOn;
pub use moment::moment;

use super::{on_press, store};
use crate::parts::scale::{percent, scale};
use crate::parts::{
    all, anew, changing, either, el, el_as, el_at, el_with, fixed, key_more, live, said, shown,
    timer, whether,
};
use crate::store::Store;
use crate::text;

/// Something about the step that the view is about.
pub fn of_step<T>(
    store: Store,
    view: Option<&View>,
    of: impl Fn(&Run, &PlannedStep, usize) -> T,
) -> Option<T> {
    let open = store.run.read();
    let run = &open.as_ref()?.run;
    let index = view?.step?;
    run.plan.steps.get(index).map(|step| of(run, step, index))
}

/// The state word in lower case, for classes.
fn state_class(view: Option<&View>) -> &'static str {
    match view.and_then(|view| view.scene.state_word()) {
        Some(StateWord::Rest) => "rest",
        Some(StateWord::Agitate) => "agitate",
        Some(StateWord::Pour) => "pour",
        Some(StateWord::Over) => "over",
        Some(StateWord::Wait) | None => "wait",
    }
}

/// A timed step.
#[component]
pub fn Step() -> impl IntoView {
    let store = store();
    let (view, still) = (store.view, store.still);
    let class = said(move || {
        let view = still.read();
        let view = view.as_ref();
        let armed = if is_key_out(view) { " run--armed" } else { "" };
        let ago = if is_ago_offered(view) { " run--ago" } else { "" };
        format!("run run--{}{armed}{ago}", state_class(view))
    });
    let field = vec![head(), moment(), say(view), bar(view), digits(view), act(still)];
    let field = el("section", "run__field", field);
    let flashes = said(move || flash(store.flashes.get()).to_owned());
    el_with("main", class, vec![("data-flashes", flashes)], vec![field, keys()])
}

/// A new value for each alarm that nobody could hear, so that the screen flips again.
fn flash(alarms: u32) -> &'static str {
    match (alarms, alarms % 2) {
        (0, _) => "",
        (_, 0) => "even",
        _ => "odd",
    }
}

/// Whether the tank may have been empty before the tap: while it is over, and after the tap.
fn is_ago_offered(view: Option<&View>) -> bool {
    view.is_some_and(|view| view.back_date || matches!(view.scene, Scene::Over { .. }))
}

/// Whether the big key is in its field.
fn is_key_out(view: Option<&View>) -> bool {
    view.is_some_and(|view| {
        view.armed || view.filling || matches!(view.scene, Scene::LeadIn { .. })
    })
}

/// The state word, and what comes next beside it.
fn say(view: Memo<Option<View>>) -> AnyView {
    let store = store();
    let still = store.still;
    let word = move || {
        let word = still.read().as_ref().and_then(|view| view.scene.state_word());
        word.map_or("", text::state).to_owned()
    };
    let beside = move || {
        let view = view.read();
        let bath = of_step(store, view.as_ref(), |_, step, _| step.bath);
        view.as_ref().map_or((String::new(), String::new()), |view| beside(&view.scene, bath))
    };
    let class = move || {
        let view = still.read();
        match view.as_ref().map(|view| &view.scene) {
            Some(Scene::Over { .. } | Scene::LeadIn { .. }) => "run__beside run__beside--now",
            Some(Scene::Waiting { .. }) => "run__beside run__beside--note",
            _ => "run__beside",
        }
        .to_owned()
    };
    let next = vec![changing(said(move || beside().0 + " ")), live("b", "", move || beside().1)];
    let next = el_as("span", said(class), next);
    el("div", "run__say", vec![live("span", "run__word", word), next])
}

/// Words and digits beside the state word.
fn beside(scene: &Scene, bath: Option<Bath>) -> (String, String) {
    let words = |words: &str, digits: String| (words.to_owned(), digits);
    match scene {
        Scene::LeadIn { .. } => words("Pour on", "the tone".to_owned()),
        Scene::PourIn { .. } => words("", "in".to_owned()),
        Scene::PourBack { .. } => words("", text::pour_way(bath.unwrap_or(Bath::Developer)).into()),
        Scene::Rest { agitate_in: Some(ms), .. } => words("agitate in", text::left(*ms)),
        Scene::Rest { pour_back_in: Some(ms), .. } => words(
            &format!("pour {}", text::pour_way(bath.unwrap_or(Bath::Developer))),
            text::left(*ms),
        ),
        Scene::Rest { left, .. } => words("out in", text::left(*left)),
        Scene::Over { .. } => words("Pour", "back.".to_owned()),
        Scene::Waiting { .. } => words("since", "its end".to_owned()),
        Scene::Agitate { .. }
        | Scene::Ready
        | Scene::Washing(_)
        | Scene::Asking { .. }
        | Scene::Done { .. }
        | Scene::Left { .. } => words("", String::new()),
    }
}

/// The bar: the step line in REST, a block for each second in AGITATE, the draining bar in POUR.
fn bar(view: Memo<Option<View>>) -> AnyView {
    let store = store();
    let grave = moment::grave_notice(store);
    let kind = move || {
        let kind = |view: &View| bar_kind(&view.scene);
        if grave.read().is_empty() {
            store.still.read().as_ref().map_or(BarKind::Empty, kind)
        } else {
            BarKind::Notice
        }
    };
    let clock = Memo::new(move |_| {
        let view = store.still.read();
        of_step(store, view.as_ref(), |run, _, index| run.step_clock(index)).flatten()
    });
    let line = move || {
        let left = view.read().as_ref().and_then(|view| view.scene.left()).unwrap_or(0);
        let clock = clock.read();
        let line = |clock: &StepClock| (fraction(clock.end - left, clock.end), ticks(clock));
        clock.as_ref().map(line).unwrap_or_default()
    };
    let drain = move || view.read().as_ref().map_or(0.0, |view| draining(&view.scene));
    let pour = move || {
        let at = said(move || percent(drain()));
        hidden("run__drain", vec![el_at("i", fixed(""), Vec::new(), at, Vec::new())])
    };
    let bar = vec![
        shown(move || kind() == BarKind::Step, move || scale(line)),
        shown(move || kind() == BarKind::Spell, move || blocks_of(view)),
        shown(move || kind() == BarKind::Pour, pour),
        shown(
            move || kind() == BarKind::Notice,
            move || live("p", "run__notice", move || grave.get()),
        ),
    ];
    el("div", "run__gap", bar)
}

/// What stands in the place of the bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum BarKind {
    /// The step, with its spells.
    Step,
    /// A block for each second of a spell.
    Spell,
    /// What is left of a pour.
    Pour,
    /// What must be seen: the digits beside it say the same as the bar.
    Notice,
    /// Nothing.
    Empty,
}

fn bar_kind(scene: &Scene) -> BarKind {
    match scene {
        Scene::Rest { .. } | Scene::Agitate { continuous: true, .. } => BarKind::Step,
        Scene::Agitate { .. } => BarKind::Spell,
        Scene::PourIn { .. } | Scene::PourBack { .. } => BarKind::Pour,
        Scene::Ready
        | Scene::LeadIn { .. }
        | Scene::Over { .. }
        | Scene::Waiting { .. }
        | Scene::Washing(_)
        | Scene::Asking { .. }
        | Scene::Done { .. }
        | Scene::Left { .. } => BarKind::Empty,
    }
}

#[expect(clippy::cast_precision_loss, reason = "a step is far shorter than 2^53 ms")]
fn fraction(part: i64, whole: i64) -> f64 {
    if whole <= 0 { 0.0 } else { part as f64 / whole as f64 }
}

fn ticks(clock: &StepClock) -> Vec<f64> {
    clock.spells.iter().map(|spell| fraction(spell.start, clock.end)).collect()
}

/// How many seconds a spell has, and how many are gone.
fn blocks(scene: &Scene) -> Option<(i64, i64)> {
    if let Scene::Agitate { done, length, continuous: false, .. } = scene {
        Some(((length + 999) / 1_000, done / 1_000))
    } else {
        None
    }
}

/// How much of a pour is still to come.
fn draining(scene: &Scene) -> f64 {
    if let Scene::PourIn { full_in, fill, .. } = scene {
        fraction(*full_in, *fill)
    } else if let Scene::PourBack { drain, left } = scene {
        fraction(*left, *drain)
    } else {
        0.0
    }
}

/// A block for each second of a spell; those that are gone are spent.
fn blocks_of(view: Memo<Option<View>>) -> AnyView {
    let blocks = move || {
        let view = view.read();
        let (count, gone) = view.as_ref().and_then(|view| blocks(&view.scene)).unwrap_or_default();
        let count = count.min(60);
        // The last block goes first, so that what is left stands at the beginning of the line.
        let block = |nth| {
            let class = if count - 1 - nth < gone { "run__second--gone" } else { "" };
            el("i", class, Vec::new())
        };
        all((0..count).map(block).collect())
    };
    hidden("run__seconds", vec![anew(blocks)])
}

/// What says the same as words beside it, so that screen readers pass it by.
fn hidden(class: &'static str, all: Vec<AnyView>) -> AnyView {
    el_with("div", fixed(class), vec![("aria-hidden", fixed("true"))], all)
}

/// The clock, and in AGITATE the count of seconds above it.
fn digits(view: Memo<Option<View>>) -> AnyView {
    let store = store();
    let digits =
        said(move || view.read().as_ref().map_or(String::new(), |view| strip_time(&view.scene)));
    let count = move || {
        let view = view.read();
        view.as_ref().and_then(|view| blocks(&view.scene)).map(|(all, gone)| all - gone)
    };
    let name = move || {
        let view = store.still.read();
        let bath = of_step(store, view.as_ref(), |_, step, _| text::bath(step.bath));
        let what = view.as_ref().map_or("", |view| frame::timer_name(&view.scene));
        format!("{}, {what}", bath.unwrap_or_default())
    };
    let long = said(move || clock_class(&digits.read()).to_owned());
    let counted = move || {
        let count = said(move || count().unwrap_or_default().to_string());
        hidden("run__count", vec![changing(count)])
    };
    // Read out on request only: the spoken prompts already say what matters.
    let clock = timer("div", long, said(name), digits);
    el("div", "run__time", vec![shown(move || count().is_some(), counted), clock])
}

fn clock_digits(scene: &Scene) -> String {
    match scene {
        Scene::LeadIn { left }
        | Scene::PourIn { left, .. }
        | Scene::Agitate { left, .. }
        | Scene::Rest { left, .. }
        | Scene::PourBack { left, .. } => text::left(*left),
        Scene::Over { by } => format!("+{}", text::passed(*by)),
        Scene::Waiting { by } => text::passed(*by),
        Scene::Ready
        | Scene::Washing(_)
        | Scene::Asking { .. }
        | Scene::Done { .. }
        | Scene::Left { .. } => String::new(),
    }
}

/// The class of the clock: minutes of two digits are set smaller. The plus sign of an over-run is
/// no digit.
pub fn clock_class(digits: &str) -> &'static str {
    if digits.trim_start_matches('+').len() > 4 {
        "run__clock run__clock--long"
    } else {
        "run__clock"
    }
}

/// The clock of a step in few characters, for the head of what lies over it.
pub fn strip_time(scene: &Scene) -> String {
    if let Scene::Washing(wash) = scene { text::passed(wash.elapsed) } else { clock_digits(scene) }
}

/// The action field: when the step ends, or the key that says that it has.
fn act(still: Memo<Option<View>>) -> AnyView {
    let store = store();
    let is_over =
        move || still.read().as_ref().is_some_and(|view| matches!(view.scene, Scene::Over { .. }));
    let label = move || {
        let view = still.read();
        let label = of_step(store, view.as_ref(), |run, step, index| {
            let leading_in =
                view.as_ref().is_some_and(|view| matches!(view.scene, Scene::LeadIn { .. }));
            if view.as_ref().is_some_and(|view| view.filling) {
                ("TANK IS FULL".to_owned(), "touch it when it is".to_owned())
            } else if leading_in {
                ("AGAIN".to_owned(), format!("lead-in of {} s", run.plan.lead_in_to(index) / 1_000))
            } else {
                (text::is_out(step.bath), text::next(run.plan.steps.get(index + 1)))
            }
        });
        label.unwrap_or_default()
    };
    let ends_at = move || ends_at(store, still.read().as_ref());
    let lid = move || {
        let view = still.read();
        let lid = of_step(store, view.as_ref(), |_, step, _| text::lid(step.light));
        lid.unwrap_or_default().to_owned()
    };
    let press = on_press(|store| {
        let _ = store.dispatch(crate::keys::big_key(store));
    });
    let out = move || {
        let (says, more) = (said(move || label().0), said(move || label().1));
        key_more("key--wet key--next run__out", says, more, press)
    };
    let ends = move || {
        el("p", "run__ends", vec![changing(said(ends_at)), live("span", "run__ends-lid", lid)])
    };
    let act = either(move || is_key_out(still.read().as_ref()), out, ends);
    all(vec![
        el("div", "run__act", vec![act]),
        shown(
            move || is_ago_offered(still.read().as_ref()),
            move || frame::ago(whether(move || !is_over())),
        ),
    ])
}

/// When the step ends, in words and by any clock.
fn ends_at(store: Store, view: Option<&View>) -> String {
    let ends = of_step(store, view, |_, step, _| {
        view.map_or_else(String::new, |view| text::ends_at(step, view))
    });
    ends.unwrap_or_default()
}
