//! Mix: one part a screen, for gloves; and a clip of film in a fixer.

use std::sync::Arc;

use leptos::prelude::*;
use process_model::quantity::Celsius;
use process_model::sheet::Bath;
use process_model::water::blend;
use session::notebook::solutions::{Deed, Done, kit};
use session::notebook::{Kind, Named, Record};
use session::timestamp::Timestamp;

use super::desk::{Line, Press, act, to};
use super::shelf::at_the_shelf;
use super::solution::ml_of;
use super::{on_press, store};
use crate::browser::events;
use crate::parts::pic::{Pic, picture};
use crate::parts::{anew, el, key, key_more, live, made, said, shown, words};
use crate::route::Route;
use crate::store::Store;
use crate::text::{self, shelf as told};

/// What is mixed: a bottle again, or a new one.
pub fn mix() -> AnyView {
    at_the_shelf("Mix", ("All solutions", Route::Shelf), Arc::new(lines))
}

fn lines(store: Store) -> Vec<Line> {
    let again = store.records_of(Kind::Solution);
    let again = again.iter().map(|solution| Line::Row {
        is_here: false,
        label: solution.text("name").to_owned(),
        value: told::ml(ml_of(solution)),
        more: if kit(solution).is_some() { "its recipe is kept" } else { "" }.to_owned(),
        act: to(Route::Solution(solution.id().to_owned())),
    });
    let mut lines: Vec<Line> = again.collect();
    if !lines.is_empty() {
        lines.insert(0, Line::Heading("Mix again".to_owned()));
    }
    lines.push(Line::Heading("A new solution".to_owned()));
    let plan = store.next_plan();
    let is_solution = |bath: &Bath| !matches!(bath, Bath::PreSoak | Bath::Wash | Bath::Rinse);
    let mut baths: Vec<Bath> =
        plan.steps.iter().map(|step| step.bath).filter(is_solution).collect();
    baths.dedup();
    let new = |bath: &Bath| {
        let bath = *bath;
        let make = act(move |store| store.go(Route::Solution(store.new_solution(bath))));
        Press::new(text::bath(bath), make)
    };
    lines.push(Line::Keys(baths.iter().map(new).collect()));
    lines.push(Line::Quiet(
        "For the sheet in use. Copy amounts from your kit's leaflet; its safety data sheet goes first."
            .to_owned(),
    ));
    lines
}

/// One part that goes in. The first screen is what to put on before; the last fills to the mark.
pub fn mixing(id: String, nth: usize) -> AnyView {
    let store = store();
    store.stay_lit();
    anew(move || {
        let solution = store.record(&id);
        let stir_ms = solution.as_ref().map_or(0, stirs_ms);
        let part = solution.as_ref().and_then(|solution| part(store, solution, nth));
        let Some(Part { now, amount, more, done, next, of, stirred }) = part else {
            let back = on_press(|store: Store| store.go(Route::Mix));
            let list = vec![words("p", "now", "There is no recipe for it here.")];
            let keys = vec![key("key--wet key--next", "BACK", back)];
            return wet("Mix".to_owned(), String::new(), list, keys);
        };
        let so = if amount.is_empty() { "" } else { ". " };
        let spoken = [now.as_str(), so, &amount, ". ", &more].concat();
        untrack(|| store.say_if_room(&spoken));
        let mut list = vec![el("p", "now", vec![made(now)])];
        if !amount.is_empty() {
            list.push(el("p", "asked__question", vec![made(amount)]));
        }
        list.push(el("p", "", vec![made(more)]));
        list.push(live("p", "now", move || stirring(store, &stirred, stir_ms)));
        let name = solution.map(|solution| solution.text("name").to_ascii_lowercase());
        let keys = steps(&id, nth, nth + 1 == of, done, next);
        let title = format!("Mix {}", name.unwrap_or_default());
        wet(title, format!("{} of {of}", nth + 1), list, keys)
    })
}

/// For how long each part is stirred, as its leaflet says.
fn stirs_ms(solution: &Record) -> i64 {
    session::evening::milliseconds(solution.number("stir_s").unwrap_or_default())
}

/// What is left of stirring the part that went in last.
fn stirring(store: Store, part: &str, stir_ms: i64) -> String {
    let since = store.watch.get();
    if since == Timestamp::default() {
        return String::new();
    }
    let left_ms = stir_ms - store.now.get().since_ms(since);
    if left_ms > 0 {
        format!("Stir {part}: {}", text::left(left_ms))
    } else {
        format!("{part} is stirred.")
    }
}

/// Back by one part, and on to the next; the last one makes a solution of it.
fn steps(id: &str, nth: usize, is_last: bool, done: String, next: String) -> Vec<AnyView> {
    let (on, back) = (id.to_owned(), id.to_owned());
    let on = on_press(move |store: Store| {
        if is_last {
            let ml = store.record_untracked(&on).map(|solution| ml_of(&solution));
            store.note_done(&on, Done::Mixed, ml);
            store.watch.set(Timestamp::default());
            return store.go(Route::Label(on.clone()));
        }
        store.go(Route::Mixing(on.clone(), nth + 1));
        let stir_ms = store.record_untracked(&on).map_or(0, |solution| stirs_ms(&solution));
        // The first screen is what to put on, the second the water.
        if nth > 1 && stir_ms > 0 {
            #[expect(clippy::cast_precision_loss, reason = "minutes of milliseconds")]
            store.start_watch(Some(stir_ms as f64));
        }
    });
    let back = on_press(move |store: Store| {
        store.stop_watch();
        store.go(match nth.checked_sub(1) {
            Some(before) => Route::Mixing(back.clone(), before),
            None => Route::Solution(back.clone()),
        });
    });
    let undo = if nth == 0 { "BACK" } else { "UNDO" };
    vec![key("key--wet", undo, back), key_more("key--wet key--next", done, next, on)]
}

/// The name of a screen, which says so where nothing is real.
fn titled(title: String) -> String {
    if events::is_demo() { title + ", demo" } else { title }
}

/// What is read, and what is pressed with gloves on.
fn wet(title: String, of: String, list: Vec<AnyView>, keys: Vec<AnyView>) -> AnyView {
    let head = vec![el("h1", "", vec![made(titled(title))]), el("span", "soft", vec![made(of)])];
    let all = vec![
        el("header", "head", head),
        picture(Pic::Cylinder, "hang__pic"),
        el("div", "hang__list", list),
        el("div", "hang__doing", keys),
    ];
    el("main", "session hang", all)
}

/// What stands on one screen of mixing.
struct Part {
    /// What to do.
    now: String,
    /// How much, in large letters.
    amount: String,
    /// What else there is to know.
    more: String,
    /// What the key says once it is done.
    done: String,
    /// What comes after it.
    next: String,
    /// How many screens there are.
    of: usize,
    /// What went in before, and is stirred meanwhile.
    stirred: String,
}

fn part(store: Store, solution: &Record, nth: usize) -> Option<Part> {
    let whole_ml = ml_of(solution);
    let recipe = kit(solution)?.recipe(whole_ml).ok()?;
    let last = recipe.pours.len();
    let next = recipe.pours.get(nth).map(|next| format!("next: {}", next.what));
    let before = nth.checked_sub(2).and_then(|before| recipe.pours.get(before));
    let stirred = before.map(|pour| pour.what.clone()).unwrap_or_default();
    let part = |now: String, amount: String, more: String, done: String| {
        let next = next.unwrap_or_default();
        Some(Part { now, amount, more, done, next, of: last + 1, stirred })
    };
    let Some(index) = nth.checked_sub(1) else {
        let mut more = String::from("Its safety data sheet first.");
        if recipe.pours.iter().any(|pour| pour.is_powder) {
            more += " Powder: mask; air drawn off, not blown.";
        }
        if recipe.splits_powder {
            more += " Split: grains separate, mix it whole.";
        }
        more += beware(Bath::from_file_name(solution.text("bath")));
        let now = "Gloves, goggles, fresh air";
        return part(now.to_owned(), String::new(), more, "READY".to_owned());
    };
    let pour = recipe.pours.get(index)?;
    if nth == last {
        let more = "Cap it. Rinse funnel and jug before the next.".to_owned();
        let now = "Water to the mark".to_owned();
        return part(now, told::ml(whole_ml), more, "IT IS MIXED".to_owned());
    }
    let (how, stir, amount) = if pour.is_powder {
        ("Pour in slowly: ", "Stir until no grains.", text::number(pour.amount) + " g")
    } else {
        ("Pour in slowly: ", "Stir until it is clear.", told::ml(pour.amount))
    };
    let (how, more) = if index == 0 {
        ("First ", warmth(store, solution, pour.amount))
    } else {
        let before = recipe.pours.iter().take(index).filter(|pour| !pour.is_powder);
        let so_far_ml: f64 = before.map(|pour| pour.amount).sum();
        (how, format!("So far {}. {stir}", told::ml(so_far_ml)))
    };
    let done = format!("{} IS IN", pour.what.to_ascii_uppercase());
    part(how.to_owned() + &pour.what, amount, more, done)
}

/// What the usual cautions say of a bath while it is mixed: developers sensitise, and their dust
/// harms whoever has asthma or is pregnant, what is acid goes into water and not the other way, fixers fume where they are acid or
/// warm, older stabilisers hold formaldehyde. As in the cautions of the primer, with their sources.
fn beware(bath: Option<Bath>) -> &'static str {
    match bath {
        Some(Bath::Developer | Bath::FirstDeveloper | Bath::ColourDeveloper) => {
            " It can sensitise skin for life. Not with asthma or when pregnant."
        }
        Some(Bath::StopBath) => " Acid into water, never the reverse.",
        Some(Bath::Bleach | Bath::Fixer | Bath::BleachFix) => " It fumes: never lean over it.",
        Some(Bath::Stabiliser) => " Do not breathe it; cap it.",
        Some(
            Bath::PreSoak
            | Bath::ReversalBath
            | Bath::PreBleach
            | Bath::WashAid
            | Bath::Wash
            | Bath::Rinse
            | Bath::WettingAgent,
        )
        | None => "",
    }
}

/// How warm the first water is, and how much of it comes from which tap.
fn warmth(store: Store, solution: &Record, ml: f64) -> String {
    let Some(celsius) = solution.number("mix_celsius") else { return String::new() };
    let vessels = store.vessels();
    let of = |ml: f64| told::ml((ml / 10.0).round() * 10.0);
    let from = match blend(ml, celsius, vessels.hot_c, vessels.cold_c) {
        Ok(water) => format!("Cold {}, hot {}.", of(water.cold), of(water.hot)),
        Err(_) => "Your taps cannot: see Vessels.".to_owned(),
    };
    let burns = if celsius > 45.0 || vessels.hot_c > 49.0 {
        " This water can burn. Cold first, then hot."
    } else {
        ""
    };
    let at = text::degrees(Celsius::new(celsius));
    format!("At {at} {}. {from}{burns}", text::unit())
}

/// A clip of film in a fixer: how long it takes to clear, and what follows.
pub fn clip(id: String) -> AnyView {
    let store = store();
    store.stay_lit();
    store.watch.set(Timestamp::default());
    let bath = store.record_untracked(&id);
    let has_bleach = bath.is_some_and(|one| one.text("bath") == Bath::BleachFix.file_name());
    let until = RwSignal::new(Timestamp::default());
    let runs =
        move || store.watch.get() != Timestamp::default() && until.get() == Timestamp::default();
    let touch = {
        let id = id.clone();
        on_press(move |store: Store| {
            if untrack(runs) {
                let now = store.read_clock();
                until.set(now);
                let clears_ms = now.since_ms(store.watch.get_untracked());
                let clears_s = session::evening::seconds(clears_ms);
                let deed = Deed::new(store.wall_now(), Done::LookedAt);
                store.note_deed(&id, &Deed { clears_s: Some(clears_s), ..deed });
            } else {
                until.set(Timestamp::default());
                store.start_watch(None);
            }
        })
    };
    let back = on_press(move |store: Store| store.go(Route::Solution(id.clone())));
    let list = anew(move || {
        let lines = clip_says(store.watch.get(), until.get(), has_bleach);
        let mut lines: Vec<AnyView> =
            lines.into_iter().map(|line| el("p", "", vec![made(line)])).collect();
        if runs() {
            let passed = move || text::passed(store.now.get().since_ms(store.watch.get()));
            lines.push(live("p", "asked__question", passed));
        }
        lines.push(words("p", "soft", "Twice: NAVEDTRA 14209; three times: from memory."));
        el("div", "hang__list", lines)
    });
    let says = move || if runs() { "IT IS CLEAR" } else { "IT IS IN" }.to_owned();
    let keys = vec![
        shown(move || !runs(), move || key("key--wet", "BACK", back)),
        key("key--wet key--next", said(says), touch),
    ];
    let title = titled("Clip test".to_owned());
    let head = el("header", "head", vec![el("h1", "", vec![made(title)])]);
    let doing = el("div", "hang__doing", keys);
    el("main", "session hang", vec![head, picture(Pic::Reel, "hang__pic"), list, doing])
}

/// What is to do with the clip, and what follows from the time it took.
fn clip_says(since: Timestamp, until: Timestamp, has_bleach: bool) -> Vec<String> {
    let none = Timestamp::default();
    if until == none {
        let (first, second) = if since == none {
            ("A clip of undeveloped leader into it, in the light.", "Touch as it goes in.")
        } else {
            ("Watch the film.", "Touch when it is clear.")
        };
        return vec![first.to_owned(), second.to_owned()];
    }
    let took_ms = until.since_ms(since);
    let (twice, thrice) = (text::nearest(2 * took_ms), text::nearest(3 * took_ms));
    let cleared = format!("Cleared in {}.", text::nearest(took_ms));
    if has_bleach {
        // Clearing is the fixer's work; how far the bleach has come nobody sees.
        return vec![
            cleared,
            "Keep its sheet's time.".to_owned(),
            format!("Fixer alone: {twice}."),
            format!("Tabular grain: {thrice}."),
        ];
    }
    vec![
        cleared,
        format!("Fix at least {twice}, tabular grain {thrice}."),
        "Or the sheet's time, if that is longer.".to_owned(),
    ]
}
