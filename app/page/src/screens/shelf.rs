//! Shelf: every solution that is there, and what is done with it in one tap. And what of it is poured
//! next, for Lay out.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::sheet::Bath;
use session::film::amount_of;
use session::notebook::solutions::{Done, deeds};
use session::notebook::{Kind, Named, Record};
use session::shelf::{Standing, capacity, carried_into, least_ml, rule_of};

use super::desk::beside::is_here;
use super::desk::{Desk, Line, Press, act, to};
use super::{on_press, store};
use crate::browser::events;
use crate::parts::pic::{Pic, picture};
use crate::parts::scale::scale;
use crate::parts::{all, anew, el, made, mark, toggle, words};
use crate::route::Route;
use crate::store::Store;
use crate::text::shelf as told;
use crate::text::{self};

/// A screen of the Shelf, drawn by the same code whichever it is.
#[inline(never)]
pub fn at_the_shelf(
    title: &'static str,
    back: (&'static str, Route),
    lines: Arc<dyn Fn(Store) -> Vec<Line> + Send + Sync>,
) -> AnyView {
    view! { <Desk title here=Route::Shelf back=Some(back) lines /> }.into_any()
}

/// The list.
pub fn shelf() -> AnyView {
    at_the_shelf("Shelf", ("Mix", Route::Mix), Arc::new(lines))
}

/// What stands in the list.
pub fn lines(store: Store) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut gone = Vec::new();
    for solution in store.records_of(Kind::Solution) {
        let id = solution.id();
        if solution.list("events").is_empty() {
            continue;
        }
        let standing = store.standing(&solution);
        if let Some(at) = standing.discarded_at.filter(|_| !store.can_take_back(id)) {
            let day = events::date(at.milliseconds());
            gone.push(Line::Row {
                is_here: false,
                label: day,
                value: format!("{} was discarded", solution.text("name")),
                more: String::new(),
                act: to(Route::Solution(id.to_owned())),
            });
            continue;
        }
        let (value, more) = in_short(store, &solution, &standing);
        lines.push(Line::Row {
            is_here: is_here(store, id),
            label: solution.text("name").to_owned(),
            value,
            more,
            act: to(Route::Solution(id.to_owned())),
        });
        lines.extend(wear(&solution, &standing));
        lines.extend(cautions(store, &solution, &standing).into_iter().map(Line::Quiet));
        lines.extend(keys(store, &solution));
    }
    if lines.is_empty() {
        lines.push(Line::Lead("Nothing is on the Shelf.".to_owned()));
        lines.push(Line::Quiet(
            "Mix a solution, or write down one that is mixed: its age, its rolls and the next \
             roll's time are kept here."
                .to_owned(),
        ));
        lines.push(Line::Keys(vec![Press::new("MIX A SOLUTION", to(Route::Mix)).so(true)]));
    }
    lines.extend(gone);
    lines
}

/// A solution in two lines: how much and how old; what went through, and what is next.
pub fn in_short(store: Store, solution: &Record, standing: &Standing) -> (String, String) {
    let plan = store.next_plan();
    let step = plan.steps.iter().find(|step| step.bath.file_name() == solution.text("bath"));
    let rule = rule_of(solution, standing, store.sheet(&plan.sheet).addition);
    let next = step.and_then(|step| standing.next_ms(step.time_ms, rule));
    let age = told::age(standing, store.wall_now());
    let rolls = told::rolls(solution, standing) + &told::next(next);
    (format!("{}, {age}", told::ml(standing.left_ml.round())), rolls)
}

/// How many of the rolls that its leaflet gives have gone through, as a rule.
pub fn wear(solution: &Record, standing: &Standing) -> Option<Line> {
    let most = capacity(solution, standing).filter(|most| *most >= 1.0)?;
    let at = standing.rolls / most;
    let rule = move || {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "few rolls")]
        let rolls = most.min(40.0) as u32;
        (at, (1..rolls).map(|roll| f64::from(roll) / most).collect())
    };
    Some(Line::View(Arc::new(move || scale(rule))))
}

/// What to beware of.
pub fn cautions(store: Store, solution: &Record, standing: &Standing) -> Vec<String> {
    let least_ml = store.vessels().covers_l.map_or(0.0, |litres| litres * 1000.0);
    let bath = Bath::from_file_name(solution.text("bath"));
    let carried = bath.and_then(|bath| carried_into(&store.next_plan(), bath));
    told::cautions(solution, standing, store.wall_now(), least_ml, carried)
}

/// What is done with a solution in one tap; just after it, what takes it back.
pub fn keys(store: Store, solution: &Record) -> Vec<Line> {
    let id = solution.id().to_owned();
    if store.can_take_back(&id) {
        let last = deeds(solution).pop();
        let said = last.map_or_else(String::new, |last| {
            let gone = last.done == Done::Discarded;
            let drain = if gone { told::NOT_DOWN_THE_DRAIN } else { "" };
            format!("Noted: {}. {drain}", told::done(last.done))
        });
        let back = act(move |store| store.take_back(&id));
        return vec![Line::Said(said), Line::Keys(vec![Press::new("UNDO", back).so(true)])];
    }
    let key = |says: &str, done: Done| {
        let id = id.clone();
        Press::new(says, act(move |store| store.note_done(&id, done, None)))
    };
    let standing = store.standing(solution);
    if !standing.is_there() {
        return Vec::new();
    }
    let settled = {
        let id = id.clone();
        act(move |store: Store| store.note_fine(&id))
    };
    let mut settle = Vec::new();
    if standing.blocked.is_some() {
        let mixed = key("MIXED ANEW", Done::Mixed);
        settle.push(mixed.more("its date and rolls begin again").so(true));
        settle.push(Press::new("NOT SO", settled).more("it was noted by mistake"));
    } else if standing.suspect.is_some() {
        settle.push(Press::new("FINE AFTER ALL", settled).more("no doubt is left"));
    }
    let settle = (!settle.is_empty()).then_some(Line::Keys(settle));
    let three = vec![
        key("Looked at", Done::LookedAt),
        key("Suspect", Done::Suspect),
        key("Discarded", Done::Discarded),
    ];
    settle.into_iter().chain([Line::Keys(three)]).collect()
}

/// The solutions that the next run would pour, for the Bench, each with the gravest caution.
pub fn on_the_bench(store: Store) -> Vec<String> {
    let plan = store.next_plan();
    let used = plan.steps.iter().filter_map(|step| store.in_use(step.bath));
    let said = used.map(|solution| {
        let standing = store.standing(&solution);
        let (value, more) = in_short(store, &solution, &standing);
        let caution = cautions(store, &solution, &standing).into_iter().next();
        let caution = caution.map(|caution| [". ", &caution].concat()).unwrap_or_default();
        format!("{} {value}, {more}{caution}", solution.text("name"))
    });
    let mut all: Vec<String> = said.collect();
    all.dedup();
    all
}

/// For Lay out: which solutions are poured, and another time for a worn developer. Nothing if nothing
/// is on the Shelf.
pub fn poured_next() -> AnyView {
    let store = store();
    anew(move || {
        let plan = store.next_plan();
        let (mut rows, mut notes) = (Vec::new(), Vec::new());
        for solution in store.records_of(Kind::Solution) {
            let bath = Bath::from_file_name(solution.text("bath"));
            let bath = bath.filter(|bath| plan.steps.iter().any(|step| step.bath == *bath));
            let used = bath.and_then(|bath| store.in_use(bath));
            let standing = store.standing(&solution);
            let Some(used) =
                used.filter(|_| standing.is_there() && !solution.list("events").is_empty())
            else {
                continue;
            };
            let so = used.id() == solution.id();
            // One that may not be poured is shown only where there is no other.
            if !so && standing.blocked.is_some() {
                continue;
            }
            if so {
                let name = solution.text("name");
                let cautions = cautions(store, &solution, &standing).into_iter();
                notes.extend(cautions.map(|caution| note(format!("{name}: {caution}"))));
            }
            rows.push(row(store, solution, &standing, so));
        }
        if rows.is_empty() {
            return ().into_any();
        }
        if let Some((index, next_ms)) = store.worn(&plan) {
            let kept_ms = plan.steps.get(index).map_or(0, |step| step.time_ms);
            notes.extend(longer(store, kept_ms, next_ms));
        }
        let head = words("h2", "label", "Poured from the Shelf");
        all(vec![head, el("div", "ready", rows), all(notes)])
    })
}

/// For Lay out, under the rolls that are ticked: how much their reels need, and whether the tank and
/// the bottles hold that.
pub fn reels_need() -> AnyView {
    let store = store();
    anew(move || {
        let ticked = store.ticked.get();
        let rolls: Vec<Record> = ticked.iter().filter_map(|id| store.record(id)).collect();
        if rolls.is_empty() {
            return ().into_any();
        }
        let plan = store.next_plan();
        let said_ml = store.vessels().covers_l.map(|litres| litres * 1000.0);
        let least_ml = said_ml.or_else(|| least_ml(rolls.iter(), store.tank_of(&plan)));
        let unknown = "How much covers a reel of this format is not known here: see the tank.";
        let mut notes = vec![note(least_ml.map_or_else(
            || unknown.to_owned(),
            |least_ml| {
                let holds = store.tank_ml().filter(|holds_ml| *holds_ml < least_ml);
                let holds = holds.map(|holds_ml| {
                    format!("; your tank holds {}: too many for it", told::ml(holds_ml))
                });
                let (need, holds) = (told::ml(least_ml), holds.unwrap_or_default());
                let first =
                    if said_ml.is_some() { "" } else { " The figure on the tank goes first." };
                format!("These reels need about {need}{holds}.{first}")
            },
        ))];
        let in_tank: f64 = rolls.iter().map(|roll| amount_of(roll).rolls).sum();
        for solution in plan.steps.iter().filter_map(|step| store.in_use(step.bath)) {
            let standing = store.standing(&solution);
            let name = solution.text("name");
            let little = told::too_little(&standing, least_ml.unwrap_or_default());
            notes.extend(little.map(|said| note(format!("{name}: {said}"))));
            let most = capacity(&solution, &standing);
            if let Some(most) = most.filter(|most| standing.worn_rolls + in_tank > most + 0.5) {
                notes.push(note(format!(
                    "{name}: this tank makes {} rolls of the {} its leaflet gives.",
                    text::number(standing.worn_rolls + in_tank),
                    text::decimal(most, 0)
                )));
            }
        }
        all(notes)
    })
}

fn note(text: String) -> AnyView {
    el("p", "note", vec![made(text)])
}

/// A solution that can be poured; touching it takes it in place of others of its kind.
fn row(store: Store, solution: Record, standing: &Standing, so: bool) -> AnyView {
    let (value, more) = in_short(store, &solution, standing);
    let so = Signal::stored(so);
    let small = el("small", "", vec![made(format!("{value}, {more}"))]);
    let name = el("span", "", vec![made(solution.text("name").to_owned()), small]);
    let pick = on_press(move |store: Store| store.pick_solution(&solution));
    toggle("ready__row", so, vec![picture(Pic::Bottle, ""), name, mark(so)], pick)
}

/// Keep the sheet's time for a worn developer, or use its leaflet's: two equal halves.
fn longer(store: Store, kept_ms: i64, next_ms: i64) -> Vec<AnyView> {
    let takes = store.takes_longer();
    let half = |says: String, longer: bool| {
        let so = Signal::stored(takes == longer);
        let take = on_press(move |store: Store| store.take_longer(longer));
        let class = if takes == longer { "key key--next" } else { "key" };
        toggle(class, so, vec![made(says)], take)
    };
    let halves = vec![
        half(format!("KEEP {}", text::nearest(kept_ms)), false),
        half(format!("USE {}", text::nearest(next_ms)), true),
    ];
    vec![
        note(
            "The developer is used. By its leaflet's rule it takes longer: an estimate.".to_owned(),
        ),
        el("div", "pair", halves),
    ]
}
