//! Rolls that were put aside: each is brought back by a tap, until it is gone.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::{Kind, Record};
use session::rolls::{KEPT_DAYS, days_left};

use super::desk::{Act, Line, Press, act, desk};
use super::rolls::{in_words, title};
use crate::route::Route;
use crate::store::Store;

/// The list.
pub fn put_aside() -> AnyView {
    let back = Some(("All rolls", Route::Rolls));
    desk("Put aside", &Route::Rolls, back, Arc::new(lines))
}

/// The rolls that can be brought back, and for how many days.
pub fn those(store: Store) -> Vec<(Record, i64)> {
    let now = store.wall_now();
    let left = |roll: &Record| Some((roll.clone(), days_left(roll, now)?));
    store.records.with(|records| {
        records.iter().filter(|record| record.kind() == Kind::Roll).filter_map(left).collect()
    })
}

/// Brings a roll back.
pub fn bring_back(id: String) -> Act {
    act(move |store| store.change_record(&id, vec![("deleted", false.into())]))
}

/// A number of days.
pub fn in_days(days: i64) -> String {
    if days == 1 { "1 day".to_owned() } else { format!("{days} days") }
}

fn lines(store: Store) -> Vec<Line> {
    let those = those(store);
    if those.is_empty() {
        return vec![Line::Lead("Nothing is put aside.".to_owned())];
    }
    let rule = format!("A roll that was put aside stays here for {KEPT_DAYS} days.");
    let mut lines = vec![Line::Quiet(rule)];
    for (roll, left) in those {
        lines.push(Line::Heading(title(&roll)));
        lines.push(Line::Quiet(in_words(&roll)));
        let says = format!("BRING {} BACK", title(&roll).to_ascii_uppercase());
        let key = Press::new(says, bring_back(roll.id().to_owned()));
        lines.push(Line::Keys(vec![key.more(format!("{} left", in_days(left)))]));
    }
    lines
}
