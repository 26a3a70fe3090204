//! After a phone that was dead for minutes: what is in the tank now, and since when. Three touches
//! at most, none of them needed: the run goes on as it was planned.

use leptos::prelude::*;
use session::Command;

use super::fault::{over, strip};
use super::{on_press, store};
use crate::parts::{el, key, plain};
use crate::store::{Overlay, Store};
use crate::text;

/// How many baths are offered besides the one that ran out.
const AHEAD: usize = 4;

/// Which bath is in the tank now.
pub fn what_is_in() -> AnyView {
    let store = store();
    let steps = store.run.with_untracked(|open| {
        let open = open.as_ref()?;
        let at = session::view(&open.run, store.now.get_untracked()).step?;
        let steps = open.run.plan.steps.iter().enumerate().skip(at).take(AHEAD + 1);
        Some(steps.map(|(index, step)| (index, text::bath(step.bath))).collect::<Vec<_>>())
    });
    let steps = steps.unwrap_or_default();
    let first = steps.first().map_or(0, |(index, _)| *index);
    let bath = |(index, name): (usize, &'static str)| {
        let is = on_press(move |store| {
            let step = u32::try_from(index).ok().filter(|_| index > first);
            store.overlay.set(step.map_or(Overlay::None, |step| Overlay::Gap(Some(step))));
        });
        let label = if index == first { format!("STILL {name}") } else { name.to_owned() };
        key("key--wet", label, is)
    };
    let back = key("key--wet key--next", "BACK TO THE RUN", on_press(Store::close_overlay));
    let keys = el("div", "faults__keys", steps.into_iter().map(bath).collect());
    over("session faults", strip(plain("In the tank now?")), keys, vec![back])
}

/// Since about how many minutes that step of the plan is in it.
pub fn since_when(step: u32) -> AnyView {
    let minutes = |minutes: i64| {
        let found = on_press(move |store| {
            store.close_overlay();
            let _ = store.dispatch(Command::FindInTank { step, ago_ms: minutes * 60_000 });
        });
        let label = if minutes == 0 { "JUST NOW".to_owned() } else { format!("{minutes} min") };
        key("key--wet", label, found)
    };
    let back = on_press(|store| store.overlay.set(Overlay::Gap(None)));
    let back = key("key--wet key--next", "BACK", back);
    let keys = [0, 1, 2, 4, 6, 8].into_iter().map(minutes).collect();
    over("session faults", strip(plain("Since when?")), el("div", "faults__keys", keys), vec![back])
}
