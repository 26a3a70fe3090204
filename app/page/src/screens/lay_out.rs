//! Lay out: cautions, what belongs where, and whether the page can be heard.

use crate::parts::shown;
use leptos::prelude::*;
use session::cue::Tone;

use super::{on_press, store};
use crate::parts::Key;
use crate::parts::pic::{Pic, Picture};
use crate::ports::{Sound, Speech};
use crate::route::Route;
use crate::store::Store;
use crate::text::cautions::{CAUTIONS, DEFERS};
use crate::text::lay_out::{GROUPS, Group, SOUND_TIPS, Thing};

/// The number of the last screen: cautions, then groups, then the sound check.
const SOUND_CHECK: usize = GROUPS.len() + 1;

/// One group.
#[component]
pub fn LayOut(
    /// Which, from 0: the cautions.
    group: usize,
) -> impl IntoView {
    let shown = match group {
        0 => Cautions().into_any(),
        SOUND_CHECK.. => SoundCheck().into_any(),
        nth => view! { <Things group=GROUPS[nth - 1] nth /> }.into_any(),
    };
    view! { <main class="desk desk--lay-out">{shown}</main> }
}

#[component]
fn Head(
    /// Which screen, from 0.
    nth: usize,
) -> impl IntoView {
    let back = on_press(move |store| {
        store.go(if nth == 0 { Route::Bench } else { Route::LayOut(nth - 1) });
    });
    view! {
        <header class="head">
            <h1 class="head__title">"Lay out"</h1>
            <span class="quiet">{format!("{} of {}", nth + 1, SOUND_CHECK + 1)}</span>
            <Key class="head__act" label="Back".to_owned() on_press=back />
        </header>
    }
}

#[component]
fn Cautions() -> impl IntoView {
    let read = on_press(|store| {
        store.keep_cautions_read();
        store.go(Route::LayOut(1));
    });
    let row = |caution: crate::text::cautions::Caution| {
        view! {
            <li class="caution">
                <b>{caution.what}</b>
                <span class="quiet">{caution.why}</span>
            </li>
        }
    };
    view! {
        <div class="desk__body">
            <Head nth=0 />
            <h2 class="lead">"Before you begin"</h2>
            <ul class="cautions">{CAUTIONS.map(row)}</ul>
            <p class="note">{DEFERS}</p>
        </div>
        <footer class="desk__foot desk__foot--act">
            <Key class="key--next key--big" label="ALL OF THIS IS SO".to_owned() on_press=read />
        </footer>
    }
}

#[component]
fn Rolls() -> impl IntoView {
    let store = store();
    let rows = move || {
        let waiting = super::rolls::waiting(store);
        let row = |roll: session::notebook::Record| {
            let id = roll.id().to_owned();
            let so = store.ticked.read().contains(&id);
            let tick = on_press(move |store| store.tick_roll(&id));
            view! {
                <button type="button" class="ready__row" aria-pressed=so.to_string() on:click=move |_| tick.run(())>
                    <Picture pic=Pic::Reel />
                    <span>{super::rolls::title(&roll)}<small>{super::rolls::in_words(&roll)}</small></span>
                    <i class="mark" class:mark--so=so></i>
                </button>
            }
        };
        waiting.into_iter().take(7).map(row).collect_view()
    };
    view! {
        {shown(move || !super::rolls::waiting(store).is_empty(), move || view! {
            <h2 class="label">"Which rolls go into the tank?"</h2>
            <div class="ready">{rows}</div>
        }.into_any())}
    }
}

#[component]
fn Things(
    /// What.
    group: Group,
    /// Which screen.
    nth: usize,
) -> impl IntoView {
    let next = on_press(move |store| store.go(Route::LayOut(nth + 1)));
    let safety = on_press(|store| store.go(Route::LayOut(0)));
    let coming = GROUPS.get(nth).map_or("sound check", |group| group.place).to_ascii_lowercase();
    let first = (nth == 1).then(|| {
        view! { <Key class="key--plain" label="Cautions again".to_owned() on_press=safety /> }
    });
    view! {
        <div class="desk__body">
            <Head nth />
            <h2 class="lead">{group.place}</h2>
            <div class="ready">
                {group.things.iter().map(|thing| view! { <Row thing=*thing /> }).collect_view()}
            </div>
            {(nth == 1).then(|| view! { <Rolls /> })}
            {first}
        </div>
        <footer class="desk__foot desk__foot--act">
            <Key class="key--next key--big" label="ALL HERE".to_owned() more=format!("next: {coming}") on_press=next />
        </footer>
    }
}

#[component]
fn Row(
    /// What is laid out.
    thing: Thing,
) -> impl IntoView {
    let here = RwSignal::new(false);
    let toggle = move |_| here.update(|here| *here = !*here);
    let pressed = move || if here.get() { "true" } else { "false" };
    view! {
        <button type="button" class="ready__row" aria-pressed=pressed on:click=toggle>
            <Picture pic=picture(thing.name) />
            <span>{thing.name}</span>
            <span class="ready__value">
                <span class="quiet">{thing.value}</span>
                <i class="mark" class:mark--so=move || here.get()></i>
            </span>
        </button>
    }
}

fn picture(name: &str) -> Pic {
    match name {
        "Tub" | "Towel" => Pic::Tub,
        "Developer" | "Bleach-fix" | "Stabiliser" => Pic::Bottle,
        "Pre-soak water" => Pic::Cylinder,
        "Thermometer" => Pic::Thermometer,
        "Funnel" => Pic::Funnel,
        "Reel" | "Film" | "Column" => Pic::Reel,
        "Pegs and weight" | "Film sleeves" => Pic::Hanger,
        _ => Pic::Tank,
    }
}

#[component]
fn SoundCheck() -> impl IntoView {
    let store = store();
    let played = RwSignal::new(false);
    let play = on_press(move |store: Store| {
        let tones = [(200.0, Tone::GetReady), (1_400.0, Tone::Go), (2_600.0, Tone::Rest)];
        store.sound_now(&tones);
        store.say("Can you hear me?", true);
        played.set(true);
    });
    let clear = on_press(|store| store.go(Route::LastCheck));
    let not_clear = on_press(|store| store.go(Route::LastCheck));
    let answer = move || match (store.sound.get(), store.speech.get()) {
        _ if !played.get() => "Tap running, phone where it will stand.",
        (Sound::Missing, _) => "No sound on this phone. The screen flips instead.",
        (_, Speech::Missing | Speech::Unheard) => "This phone has no voice; tones only.",
        _ => "Can you hear it over the tap?",
    };
    let tips = SOUND_TIPS.map(|tip| view! { <li>{tip}</li> });
    view! {
        <div class="desk__body">
            <Head nth=SOUND_CHECK />
            <h2 class="lead">"Sound check"</h2>
            <p>{answer}</p>
            <Key class="key--big" label="PLAY".to_owned() more="three tones and a sentence".to_owned() on_press=play />
            <ul class="tips">{tips}</ul>
        </div>
        <footer class="desk__foot desk__foot--act pair">
            <Key class="key--big" label="NOT CLEAR".to_owned() more="go by the screen".to_owned() on_press=not_clear />
            <Key class="key--next key--big" label="CLEAR".to_owned() more="next: last check".to_owned() on_press=clear />
        </footer>
    }
}
