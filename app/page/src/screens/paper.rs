//! The whole notebook, to be printed: every roll with its run, runs without a roll, solutions with
//! what was done with them, trials with what was seen.

use std::sync::Arc;

use leptos::prelude::*;
use session::notebook::{Kind, Value};
use session::order;

use super::desk::{Line, desk, print, whole};
use super::shelf::in_short;
use super::solution::done_with;
use super::{roll, trials};
use crate::route::Route;
use crate::store::{KeptRun, Store};

/// Everything on one screen.
pub fn paper() -> AnyView {
    let back = Some(("Settings", Route::Settings));
    desk("Notebook", &Route::Settings, back, Arc::new(lines))
}

fn lines(store: Store) -> Vec<Line> {
    let (mut ids, mut runs) = (Vec::new(), Vec::new());
    store.records.with(|records| {
        for roll in records {
            if roll.kind() != Kind::Roll {
                continue;
            }
            // One that was put aside has not left its run behind.
            runs.push(roll.text("run").to_owned());
            if !roll.is_deleted() {
                let number = roll.value("number").and_then(Value::as_u64);
                ids.push(order::number(number.unwrap_or_default()) + roll.id());
            }
        }
    });
    let said = ["Rolls: ", &ids.len().to_string(), "."].concat();
    // A run that no roll was written down for stands for itself, after all rolls.
    store.kept.with(|kept| {
        for kept in kept {
            if let KeptRun::Readable(open) = kept
                && !runs.iter().any(|run| run == open.record.id())
            {
                ids.push(order::number(u64::MAX) + open.record.id());
            }
        }
    });
    let mut lines = vec![Line::Keys(vec![print().so(true)]), Line::Quiet(said)];
    for mut id in order::by(ids, String::clone) {
        id.drain(..order::number(0).len());
        lines.push(whole(Arc::new(move |store| roll::on_paper(store, &id))));
    }
    for solution in store.records_of(Kind::Solution) {
        lines.push(whole(Arc::new(move |store| {
            let (value, more) = in_short(store, &solution, &store.standing(&solution));
            let said = [&value, ". ", &more, "."].concat();
            let mut lines = vec![Line::Lead(solution.text("name").to_owned()), Line::Quiet(said)];
            lines.extend(done_with(&solution));
            lines
        })));
    }
    for trial in store.records_of(Kind::Trial) {
        lines.push(whole(Arc::new(move |_| trials::on_paper(&trial))));
    }
    lines
}
