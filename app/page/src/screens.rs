//! One module for each place the person can be: reads the store, arranges parts.

pub mod ask;
pub mod bench;
pub mod compare;
pub mod dark;
pub mod desk;
pub mod fault;
pub mod gap;
pub mod hang;
pub mod last_check;
pub mod lay_out;
mod learned;
pub mod mix;
mod paper;
mod photos;
pub mod practise;
pub mod primer;
pub mod put_aside;
pub mod roll;
pub mod roll_edit;
pub mod rolls;
pub mod run;
pub mod run_chart;
pub mod seen;
pub mod settings;
pub mod sheet_edit;
pub mod sheets;
pub mod shelf;
pub mod solution;
pub mod temp;
pub mod tempering;
pub mod times;
pub mod trials;
pub mod vessels;
pub mod wash;
pub mod water;
pub mod write_up;

use leptos::prelude::*;
use session::view::Scene;

use crate::browser::events;
use crate::keys;
use crate::parts::{anew, changing, el_with, fixed, said};
use crate::route::Route;
use crate::store::{Held, Overlay, Store};

/// The store of this page.
pub fn store() -> Store {
    expect_context::<Store>()
}

/// Does something on a press, unless the press comes too soon after another.
pub fn on_press(action: impl Fn(Store) + Send + Sync + 'static) -> Callback<()> {
    let store = store();
    Callback::new(move |()| {
        if store.accepts_press() {
            action(store);
        }
    })
}

/// Another screen is seen from its top, wherever the last one was.
fn at_its_top(route: Route) -> Route {
    events::to_top();
    route
}

/// The page: the screen of the address.
#[component]
pub fn App() -> impl IntoView {
    let store = store();
    keys::connect(store);
    let looking_on = Memo::new(move |_| store.held.get() == Held::Elsewhere);
    view! {
        // The one voice of the page for screen readers: every sentence, spoken or not.
        {el_with("p", fixed("unseen"), vec![("role", fixed("status"))], vec![changing(said(move || store.said.get()))])}
        {anew(move || screen(at_its_top(store.route.get()), looking_on))}
    }
}

/// The screen of an address; of a run that another window has, what can be seen of it.
fn screen(route: Route, looking_on: Memo<bool>) -> AnyView {
    match route {
        Route::Bench => bench::Bench().into_any(),
        Route::Settings => settings::Settings().into_any(),
        Route::Same => bench::same(),
        Route::Paper => paper::paper(),
        Route::Practise => practise::Practise().into_any(),
        Route::Primer(part, from) => primer::primer(&part, &from),
        Route::WriteUp(id) => view! { <write_up::WriteUp id /> }.into_any(),
        Route::RollEdit(id) => view! { <roll_edit::RollEdit id /> }.into_any(),
        Route::Sheets => sheets::Sheets().into_any(),
        Route::Sheet(key) => view! { <sheets::Sheet key /> }.into_any(),
        Route::SheetEdit(key) => view! { <sheet_edit::SheetEdit key /> }.into_any(),
        Route::LayOut(group) => view! { <lay_out::LayOut group /> }.into_any(),
        Route::Tempering
        | Route::ToTheDark
        | Route::Dark
        | Route::LastCheck
        | Route::Run
        | Route::Hang
            if looking_on.get() =>
        {
            run::LookingOn().into_any()
        }
        Route::Tempering => tempering::Tempering().into_any(),
        Route::ToTheDark => dark::ToTheDark().into_any(),
        Route::Dark => dark::Dark().into_any(),
        Route::Vessels => vessels::Vessels().into_any(),
        Route::LastCheck => last_check::LastCheck().into_any(),
        Route::Run => InTheRun().into_any(),
        Route::Hang => hang::Hang().into_any(),
        Route::Shelf => shelf::shelf(),
        Route::Solution(id) => solution::solution(id),
        Route::Label(id) => solution::label(id),
        Route::Mix => mix::mix(),
        Route::Mixing(id, nth) => mix::mixing(id, nth),
        Route::Clip(id) => mix::clip(id),
        Route::Rolls => rolls::Rolls().into_any(),
        Route::Roll(id) => view! { <roll::Roll id /> }.into_any(),
        Route::RollFaults(id) => seen::seen(id),
        Route::Compare(id, other) => compare::compare(id, other),
        Route::PutAside => put_aside::put_aside(),
        Route::Learned => learned::learned(),
        Route::Trials => trials::Trials().into_any(),
        Route::Trial(id) => view! { <trials::Trial id /> }.into_any(),
    }
}

/// The run: what is in the tank, or what lies over it.
#[component]
fn InTheRun() -> impl IntoView {
    let store = store();
    let view = store.still;
    let place = Memo::new(move |_| match (store.overlay.get(), &*view.read()) {
        (_, None) => Place::Nowhere,
        (Overlay::Temp, _) => Place::Temp,
        (Overlay::Fault, _) => Place::Fault,
        (Overlay::Late, _) => Place::Late,
        (Overlay::Answer(fault), _) => Place::Answer(fault),
        (Overlay::Times(time_ms), _) => Place::Times(time_ms),
        (Overlay::TubDone, _) => Place::TubDone,
        (Overlay::Gap(step), _) => Place::Gap(step),
        (Overlay::None | Overlay::Water(_) | Overlay::Bottle(_), Some(view)) => match view.scene {
            Scene::Washing(_) => Place::Wash,
            Scene::Asking { .. } => Place::Ask,
            Scene::Ready
            | Scene::LeadIn { .. }
            | Scene::PourIn { .. }
            | Scene::Agitate { .. }
            | Scene::Rest { .. }
            | Scene::PourBack { .. }
            | Scene::Over { .. }
            | Scene::Waiting { .. }
            | Scene::Done { .. }
            | Scene::Left { .. } => Place::Step,
        },
    });
    view! {
        {anew(move || match place.get() {
            Place::Nowhere => untrack(bench::no_run),
            Place::Temp => untrack(temp::temp),
            Place::Fault => untrack(fault::faults),
            Place::Late => untrack(fault::late),
            Place::Answer(fault) => untrack(|| fault::answer(fault)),
            Place::Times(time_ms) => untrack(|| times::times(time_ms)),
            Place::TubDone => untrack(times::tub_done),
            Place::Gap(None) => untrack(gap::what_is_in),
            Place::Gap(Some(step)) => untrack(|| gap::since_when(step)),
            Place::Wash => wash::Wash().into_any(),
            Place::Ask => ask::Ask().into_any(),
            Place::Step => run::Step().into_any(),
        })}
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Place {
    Nowhere,
    Temp,
    Fault,
    Late,
    Answer(session::entry::Fault),
    Times(i64),
    TubDone,
    Gap(Option<u32>),
    Wash,
    Ask,
    Step,
}
