//! Whether two hands can do it all, and whether bottles collide.

use super::{Pattern, Task};

/// Whether one pair of hands can do all of these, each within its window.
///
/// Exact: tasks are split into clusters that cannot touch, and every cluster is searched over
/// active schedules, those in which nothing could begin earlier without delaying something else.
pub fn hands_suffice(tasks: &[Task]) -> bool {
    let mut tasks = tasks.to_vec();
    sort(&mut tasks);
    let mut begin = 0;
    let mut end = i32::MIN;
    for place in 0..tasks.len() {
        if tasks[place].release >= end && place > begin {
            if !cluster_suffices(&tasks[begin..place]) {
                return false;
            }
            begin = place;
        }
        end = end.max(tasks[place].latest.saturating_add(tasks[place].seconds));
    }
    cluster_suffices(&tasks[begin..])
}

fn cluster_suffices(cluster: &[Task]) -> bool {
    let Some(first) = cluster.first() else { return true };
    let now = first.release;
    // Rigid tasks are most of all clusters: in order they either fit or they do not.
    if cluster.iter().all(|task| task.release == task.latest) {
        return cluster.windows(2).all(|pair| pair[0].release + pair[0].seconds <= pair[1].release);
    }
    let mut waiting = cluster.to_vec();
    search(&mut waiting, now)
}

/// Depth first over what may be done next.
fn search(waiting: &mut Vec<Task>, now: i32) -> bool {
    if waiting.is_empty() {
        return true;
    }
    if waiting.iter().any(|task| now.max(task.release) > task.latest) {
        return false;
    }
    let ends = waiting.iter().map(|task| now.max(task.release) + task.seconds);
    let first_end = ends.min().unwrap_or(i32::MAX);
    for place in 0..waiting.len() {
        let task = waiting[place];
        let begins = now.max(task.release);
        if begins >= first_end {
            continue;
        }
        waiting.remove(place);
        let suffices = search(waiting, begins + task.seconds);
        waiting.insert(place, task);
        if suffices {
            return true;
        }
    }
    false
}

/// Whether any bottle of one pattern is in use while the other needs it.
pub(super) fn bottles_collide(
    one: &Pattern,
    one_start: i32,
    other: &Pattern,
    other_start: i32,
) -> Option<u8> {
    for first in &one.uses {
        for second in &other.uses {
            let apart = one_start + first.until <= other_start + second.from
                || other_start + second.until <= one_start + first.from;
            if first.bottle == second.bottle && !apart {
                return Some(first.bottle);
            }
        }
    }
    None
}

/// By release, then latest start, then length: insertion, for lists that are nearly in order.
pub(super) fn sort(tasks: &mut [Task]) {
    for end in 1..tasks.len() {
        let mut place = end;
        while place > 0 && tasks[place] < tasks[place - 1] {
            tasks.swap(place, place - 1);
            place -= 1;
        }
    }
}
