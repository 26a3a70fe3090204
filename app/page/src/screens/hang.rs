//! Hang: after the last bath. Nothing to press until the gloves are off.

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
    let stopped = Memo::new(move |_| end().is_some_and(|(_, _, stopped)| stopped));
    let done = on_press(Store::close_run);
    view! {
        <main class="session hang">
            <header class="head">
                <h1>"Hang"</h1>
                <span>{move || end().map(|(at, _, _)| at)}</span>
            </header>
            <Picture pic=Pic::Hanger class="hang__pic" />
            <Show
                when=move || stopped.get()
                fallback=move || view! {
                    <ul class="hang__list">
                        <li class="now">"Gently. Then hang it."</li>
                        <li>"Peg on top, weight below."</li>
                        <li>"No dust, no fingers."</li>
                        <li>
                            <span class="soft">"Dry about "</span>
                            {move || end().map(|(_, dry, _)| dry)}
                            <span class="soft">", estimate"</span>
                        </li>
                    </ul>
                }
            >
                <div class="hang__list">
                    <p class="now">"The run was stopped here. It is kept as far as it went."</p>
                </div>
            </Show>
            <div class="hang__doing">
                <Doing />
                <Key
                    class="key--wet key--next"
                    label="DONE".to_owned()
                    more="gloves off".to_owned()
                    on_press=done
                />
            </div>
        </main>
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
            <Show when=move || offers.get() != (false, false)>
                <Key class="key--wet" label=offers.label() on_press=offers.on_press() />
            </Show>
            <Show when=move || not_kept.get()>
                <Key class="key--wet" label="SAVE THE RUN".to_owned() on_press=save />
            </Show>
        </div>
    }
}
