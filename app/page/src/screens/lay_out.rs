//! Lay out: cautions, what belongs where, and whether the page can be heard.

use crate::parts::pic::{Pic, picture};
use crate::parts::{all, anew, el, key, key_more, live, made, mark, shown, toggle, whether, words};
use leptos::prelude::*;
use session::cue::Tone;

use super::{on_press, primer, store};
use crate::ports::{Sound, Speech};
use crate::route::Route;
use crate::store::Store;
use crate::text;
use crate::text::cautions::{CAUTIONS, DEFERS};
use crate::text::lay_out::{GROUPS, Group, OTHERS, SOUND_TIPS, Thing};

/// The number of the last screen: cautions, then groups, then the sound check.
const SOUND_CHECK: usize = GROUPS.len() + 1;

/// The number of the group in the dark room.
const DARK_ROOM: usize = GROUPS.len();

/// One group.
#[component]
pub fn LayOut(
    /// Which, from 0: the cautions.
    group: usize,
) -> impl IntoView {
    let shown = match group {
        0 => cautions(),
        SOUND_CHECK.. => sound_check(),
        nth => things(GROUPS[nth - 1], nth),
    };
    el("main", "desk desk--lay-out", shown)
}

fn head(nth: usize) -> AnyView {
    let back = on_press(move |store| {
        store.go(if nth == 0 { Route::Bench } else { Route::LayOut(nth - 1) });
    });
    el(
        "header",
        "head",
        vec![
            words("h1", "head__title", "Lay out"),
            el("span", "quiet", vec![made(format!("{} of {}", nth + 1, SOUND_CHECK + 1))]),
            key("head__act", "Back", back),
        ],
    )
}

fn cautions() -> Vec<AnyView> {
    let read = on_press(|store| {
        store.keep_cautions_read();
        store.go(Route::LayOut(1));
    });
    let practise = on_press(|store| store.go(Route::Practise));
    let more = vec![
        primer::key_to("More on each", "cautions", Route::LayOut(0)),
        key("key--plain", "Practise with water", practise),
    ];
    let row = |caution: &text::cautions::Caution| {
        let why = words("span", "quiet", caution.why);
        el("li", "caution", vec![words("b", "", caution.what), why])
    };
    let body = vec![
        head(0),
        words("h2", "lead", "Before you begin"),
        el("ul", "cautions", CAUTIONS.iter().map(row).collect()),
        words("p", "note", DEFERS),
        el("div", "pair", more),
    ];
    vec![
        el("div", "desk__body", body),
        el(
            "footer",
            "desk__foot desk__foot--act",
            vec![key("key--next key--big", "ALL OF THIS IS SO", read)],
        ),
    ]
}

/// So many rolls are offered at once.
const AT_ONCE: usize = 7;

/// The rolls that wait, to be ticked into the tank.
fn rolls() -> AnyView {
    let store = store();
    let row = move |roll: session::notebook::Record| {
        let id = roll.id().to_owned();
        let ticked = id.clone();
        let so = whether(move || store.ticked.get().contains(&ticked));
        let tick = on_press(move |store| store.tick_roll(&id));
        let small = el("small", "", vec![made(super::rolls::in_words(&roll))]);
        let words = el("span", "", vec![made(super::rolls::title(&roll)), small]);
        toggle("ready__row", so, vec![picture(Pic::Reel, ""), words, mark(so)], tick)
    };
    let are_all = RwSignal::new(false);
    let rows = move || {
        let most = if are_all.get() { usize::MAX } else { AT_ONCE };
        all(super::rolls::waiting(store).into_iter().take(most).map(row).collect())
    };
    let are_more = move || !are_all.get() && super::rolls::waiting(store).len() > AT_ONCE;
    let more = Callback::new(move |()| are_all.set(true));
    shown(
        move || !super::rolls::waiting(store).is_empty(),
        move || {
            let asked = words("h2", "label", "Which rolls go into the tank?");
            let rows = el("div", "ready", vec![anew(rows)]);
            let more = shown(are_more, move || key("key--plain", "ALL THAT WAIT", more));
            // Below what is touched: nothing moves under the finger.
            all(vec![asked, rows, more, super::shelf::reels_need()])
        },
    )
}

fn things(group: Group, nth: usize) -> Vec<AnyView> {
    let next = on_press(move |store| store.go(Route::LayOut(nth + 1)));
    let safety = on_press(|store| store.go(Route::LayOut(0)));
    let coming = GROUPS.get(nth).map_or("sound check", |group| group.place).to_ascii_lowercase();
    let mut body = vec![head(nth), words("h2", "lead", group.place)];
    if nth == 1 {
        body.push(super::shelf::poured_next());
    }
    let plan = untrack(|| store().next_plan());
    let baths = plan.steps.iter().map(|step| step.bath);
    let baths: Vec<&str> = baths.filter(|bath| !bath.is_water()).map(text::bath).collect();
    let things = group.things.iter().filter(|thing| is_needed(thing.name, &baths));
    body.push(el("div", "ready", things.map(|thing| row(*thing)).collect()));
    if nth == 1 {
        body.push(rolls());
        body.push(key("key--plain", "Cautions again", safety));
    }
    if nth == DARK_ROOM {
        body.push(primer::key_to("Practise loading", "loading", Route::LayOut(nth)));
    }
    let next = key_more("key--next key--big", "ALL HERE", format!("next: {coming}"), next);
    vec![el("div", "desk__body", body), el("footer", "desk__foot desk__foot--act", vec![next])]
}

/// The solutions that have rows of their own.
const BOTTLES: [&str; 3] = ["Developer", "Bleach-fix", "Stabiliser"];

/// Whether a plan that pours `baths` needs a thing.
fn is_needed(name: &str, baths: &[&str]) -> bool {
    if name == OTHERS {
        return baths.iter().any(|bath| !BOTTLES.contains(bath));
    }
    !BOTTLES.contains(&name) || baths.contains(&name)
}

/// A thing that is laid out.
fn row(thing: Thing) -> AnyView {
    let here = RwSignal::new(false);
    let so = whether(move || here.get());
    let value = el("span", "ready__value", vec![words("span", "quiet", thing.value), mark(so)]);
    let all = vec![picture(pic(thing.name), ""), words("span", "", thing.name), value];
    toggle("ready__row", so, all, Callback::new(move |()| here.update(|here| *here = !*here)))
}

fn pic(name: &str) -> Pic {
    match name {
        "Tub" => Pic::Tub,
        "Gloves" => Pic::Glove,
        "Towel" => Pic::Towel,
        "Developer" | "Bleach-fix" | "Stabiliser" => Pic::Bottle,
        "Pre-soak water" => Pic::Cylinder,
        "Thermometer" => Pic::Thermometer,
        "Funnel" => Pic::Funnel,
        "Reel" => Pic::Reel,
        "Film" => Pic::Film,
        "Column" => Pic::Column,
        "Opener, scissors" => Pic::Scissors,
        "Pegs and weight" => Pic::Hanger,
        "Film sleeves" => Pic::Sleeves,
        _ => Pic::Tank,
    }
}

fn sound_check() -> Vec<AnyView> {
    let store = store();
    let played = RwSignal::new(false);
    let play = on_press(move |store: Store| {
        let tones = [(200.0, Tone::GetReady), (1_400.0, Tone::Go), (2_600.0, Tone::Rest)];
        store.sound_now(&tones);
        store.say("Can you hear me?", true);
        played.set(true);
    });
    let on = on_press(|store| store.go(Route::Tempering));
    let answer = move || match (store.sound.get(), store.speech.get()) {
        _ if !played.get() => "Tap running, phone where it will stand.",
        (Sound::Missing, _) => "No sound on this phone. Watch the screen instead.",
        (_, Speech::Missing | Speech::Unheard) => "This phone has no voice; tones only.",
        _ => "Can you hear it over the tap?",
    };
    let tips = SOUND_TIPS.iter().map(|tip| words("li", "", tip)).collect();
    let body = vec![
        head(SOUND_CHECK),
        words("h2", "lead", "Sound check"),
        live("p", "", move || answer().to_owned()),
        key_more("key--big", "PLAY", "three tones and a sentence", play),
        el("ul", "tips", tips),
        primer::key_to("More on the phone", "phone", Route::LayOut(SOUND_CHECK)),
    ];
    let keys = vec![
        key_more("key--big", "NOT CLEAR", "go by the screen", on),
        key_more("key--next key--big", "CLEAR", "next: tempering", on),
    ];
    vec![el("div", "desk__body", body), el("footer", "desk__foot desk__foot--act pair", keys)]
}
