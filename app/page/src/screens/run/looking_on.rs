//! The run in a window that only looks on.

use leptos::prelude::*;

use super::{Bar, Digits, Say, Where, ends_at, state_class};
use crate::parts::Key;
use crate::screens::{on_press, store};
use crate::store::Store;

/// The run as another window has it: to look at, and to take over.
#[component]
pub fn LookingOn() -> impl IntoView {
    let store = store();
    let view = store.view;
    let class = move || format!("run run--looking-on run--{}", state_class(view.read().as_ref()));
    let take = on_press(Store::take_over);
    let ends_at = move || ends_at(store, view.read().as_ref());
    view! {
        <main class=class>
            <section class="run__field">
                <Where view />
                <div class="run__moment">
                    <p class="run__lid run__lid--told">"This run is in another window."</p>
                </div>
                <Say view />
                <Bar view />
                <Digits view />
                <div class="run__act">
                    <p class="run__ends">{ends_at}</p>
                </div>
            </section>
            <footer class="run__keys">
                <Key
                    class="key--wet key--next run__take"
                    label="TAKE OVER HERE".to_owned()
                    on_press=take
                />
            </footer>
        </main>
    }
}
