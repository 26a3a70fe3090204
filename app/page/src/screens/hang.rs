//! Hang: after the last bath. Nothing to press until the gloves are off.

use leptos::prelude::*;
use session::run::Tank;

use super::run::{Keys, live_view};
use super::{on_press, store};
use crate::parts::Key;
use crate::parts::pic::{Pic, Picture};
use crate::store::Store;
use crate::text;

/// The film hangs.
#[component]
pub fn Hang() -> impl IntoView {
    let store = store();
    let view = live_view(store);
    let end = Memo::new(move |_| {
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
    });
    let stopped = Memo::new(move |_| end.get().is_some_and(|(_, _, stopped)| stopped));
    let done = on_press(Store::close_run);
    let save = on_press(Store::save_open_run);
    let not_kept = Memo::new(move |_| store.not_kept());
    view! {
        <main class="session hang">
            <header class="head">
                <h1>"Hang"</h1>
                <span class="soft">{move || end.get().map(|(at, _, _)| at)}</span>
            </header>
            <Picture pic=Pic::Hanger class="hang__pic" />
            <Show
                when=move || stopped.get()
                fallback=move || view! {
                    <ul class="hang__list">
                        <li class="now">"Gently. Then hang it."</li>
                        <li>"Peg on top, weight below."</li>
                        <li>"No dust, no fingers."</li>
                        <li class="soft">
                            "Dry about " {move || end.get().map(|(_, dry, _)| dry)} ", estimate"
                        </li>
                    </ul>
                }
            >
                <p class="now">"The run was stopped here. It is kept as far as it went."</p>
            </Show>
            <Show when=move || not_kept.get().is_some()>
                <Key
                    class="key--wet"
                    label="SAVE THE RUN".to_owned()
                    more="it is not kept here".to_owned()
                    on_press=save
                />
            </Show>
            <Key class="key--wet key--next hang__done" label="DONE".to_owned() more="gloves off".to_owned() on_press=done />
            <Keys view />
        </main>
    }
}
