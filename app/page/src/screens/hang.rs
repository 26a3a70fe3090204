//! Hang: after the last bath. Nothing to press until the gloves are off.

use crate::parts::{either, said, shown};
use leptos::prelude::*;
use session::run::Tank;

use super::run::Offers;
use super::{on_press, store};
use crate::parts::Key;
use crate::parts::pic::{Pic, Picture};
use crate::store::Store;
use crate::text;

/// The film hangs.
#[expect(clippy::too_many_lines, reason = "one screen, read from top to bottom")]
#[component]
pub fn Hang() -> impl IntoView {
    let store = store();
    let end = move || {
        let open = store.run.read();
        let run = &open.as_ref()?.run;
        let (at, stopped) = match run.state.tank {
            Tank::Done { at } => (at, false),
            Tank::Left { at } => (at, true),
            Tank::Ready | Tank::Bath { .. } | Tank::Asking { .. } => return None,
        };
        let wall = at.plus_ms(run.state.clock_shift_ms);
        let dry = wall.plus_ms(run.plan.drying_ms);
        Some((text::hour_minute(wall), text::hour_minute(dry), stopped))
    };
    let practice = Memo::new(move |_| store.is_practice());
    let stopped = Memo::new(move |_| end().is_some_and(|(_, _, stopped)| stopped));
    let done = on_press(Store::finish_run);
    let more = Signal::derive(move || if practice.get() { "" } else { "gloves off" }.to_owned());
    view! {
        <main class="session hang">
            <header class="head">
                <h1>"Hang"</h1>
                <span>{said(move || end().map(|(at, _, _)| at).unwrap_or_default())}</span>
            </header>
            <Picture pic=Pic::Hanger class="hang__pic" />
            {shown(move || practice.get(), move || view! {
                <Practised />
            }.into_any())}
            {either(move || stopped.get() || practice.get(), move || view! {
                <div class="hang__list">
                    {shown(move || !practice.get(), || view! {
                        <p class="now">"The run was stopped here. It is kept as far as it went."</p>
                    }.into_any())}
                </div>
            }.into_any(), move || view! {
                    <ul class="hang__list">
                        <li class="now">"Gently. Then hang it."</li>
                        <li>"Peg on top, weight below."</li>
                        <li>"No dust, no fingers."</li>
                        <li>
                            <span class="soft">"Dry about "</span>
                            {said(move || end().map(|(_, dry, _)| dry).unwrap_or_default())}
                            <span class="soft">", estimate"</span>
                        </li>
                    </ul>
                }.into_any())}
            <div class="hang__doing">
                <Doing />
                <Key
                    class="key--wet key--next"
                    label="DONE".to_owned()
                    more=more
                    on_press=done
                />
            </div>
        </main>
    }
}

/// What practice has shown, and the offer to go by it.
#[component]
fn Practised() -> impl IntoView {
    let store = store();
    let hands = move || store.practised_hands();
    let seconds =
        |seconds: Option<u32>| seconds.map_or("not seen".to_owned(), |s| format!("{s} s"));
    let seen = Memo::new(move |_| hands().fill_s.or(hands().drain_s).is_some());
    let take = on_press(Store::take_hands);
    view! {
        <div class="hang__list">
            <p class="now">"Practice is over. No roll was made of it."</p>
            <p><span class="soft">"Pouring in "</span>{said(move || seconds(hands().fill_s))}</p>
            <p><span class="soft">"Pouring out "</span>{said(move || seconds(hands().drain_s))}</p>
        </div>
        {shown(move || seen.get(), move || view! {
            <Key class="key--wet" label="GO BY THESE".to_owned() more="as your habits".to_owned() on_press=take />
        }.into_any())}
    }
}

/// What there still is to do: take the last tap back, and save a run that is not kept.
#[component]
fn Doing() -> impl IntoView {
    let store = store();
    let offers = Offers::of(store);
    let not_kept = Memo::new(move |_| store.not_kept().is_some());
    let save = on_press(Store::save_open_run);
    let class = move || {
        let both = not_kept.get() && offers.get() != (false, false);
        if both { "halves hang__halves" } else { "hang__one" }
    };
    view! {
        <div class=class>
            {shown(move || offers.get() != (false, false), move || view! {
                <Key class="key--wet" label=offers.label() on_press=offers.on_press() />
            }.into_any())}
            {shown(move || not_kept.get(), move || view! {
                <Key class="key--wet" label="SAVE THE RUN".to_owned() on_press=save />
            }.into_any())}
        </div>
    }
}
