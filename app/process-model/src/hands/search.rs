//! The earliest starts of several tanks.

use super::feasible::{bottles_collide, hands_suffice};
use super::{Binds, Pattern, Task};
use crate::refused::Refused;

/// When each tank begins.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// Starts in seconds, in the order of the tanks.
    pub starts_s: Vec<i32>,
    /// Which of its patterns each tank takes.
    pub patterns: Vec<usize>,
    /// When the last tank is done.
    pub seconds: i32,
    /// What keeps the last tank from beginning a second earlier.
    pub binds: Binds,
}

/// How far is looked, in seconds.
const FURTHEST_S: i32 = 6_000;

/// What is looked for.
#[derive(Clone, Debug)]
pub struct Search<'a> {
    /// For each tank the patterns it may take; usually one.
    pub tanks: Vec<Vec<&'a Pattern>>,
}

/// The starts by which all tanks are done soonest, tanks beginning in the order given.
///
/// # Errors
///
/// [`Refused`] without tanks, with more than three, and if nothing fits within 100 minutes.
pub fn earliest(search: &Search<'_>) -> Result<Schedule, Refused> {
    let count = search.tanks.len();
    if count == 0 || search.tanks.iter().any(Vec::is_empty) {
        return Err(Refused::None { what: "tank" });
    }
    if count > 3 {
        return Err(Refused::TooMany { what: "tanks", count, most: 3 });
    }
    let mut looking = Looking::new(search)?;
    looking.look(0, &mut Vec::new(), &mut Vec::new());
    let (seconds, starts_s, patterns) = looking.best.ok_or(Refused::NoStart { seconds: 6_000 })?;
    let binds = binds(search, &starts_s, &patterns);
    Ok(Schedule { starts_s, patterns, seconds, binds })
}

struct Looking<'a> {
    search: &'a Search<'a>,
    /// No tank begins sooner than this after the one before it.
    apart: Vec<i32>,
    /// No end is sooner than this after a tank's begin.
    rest: Vec<i32>,
    /// For each two tanks with one pattern each: whether they fit so many seconds apart, once known.
    pairs: Vec<Vec<Option<bool>>>,
    best: Option<(i32, Vec<i32>, Vec<usize>)>,
}

impl<'a> Looking<'a> {
    fn new(search: &'a Search<'a>) -> Result<Self, Refused> {
        let count = search.tanks.len();
        let mut apart = vec![0];
        for pair in search.tanks.windows(2) {
            let pairs =
                pair[0].iter().flat_map(|one| pair[1].iter().map(move |other| (*one, *other)));
            let least = pairs.filter_map(|(one, other)| least_apart(one, other)).min();
            apart.push(least.ok_or(Refused::NoStart { seconds: 6_000 })?);
        }
        let mut rest = vec![0; count];
        for tank in (0..count).rev() {
            let shortest = search.tanks[tank].iter().map(|pattern| pattern.seconds).min();
            let after = rest.get(tank + 1).map_or(0, |rest| apart[tank + 1] + rest);
            rest[tank] = shortest.unwrap_or_default().max(after);
        }
        let pairs = vec![Vec::new(); count * count];
        Ok(Self { search, apart, rest, pairs, best: None })
    }

    fn best_s(&self) -> i32 {
        self.best.as_ref().map_or(i32::MAX, |(seconds, _, _)| *seconds)
    }

    fn look(&mut self, tank: usize, starts: &mut Vec<i32>, taken: &mut Vec<usize>) {
        let Some(patterns) = self.search.tanks.get(tank) else {
            let ends = self.ends(starts, taken);
            if ends < self.best_s() {
                self.best = Some((ends, starts.clone(), taken.clone()));
            }
            return;
        };
        let first = starts.last().map_or(0, |last| last + self.apart[tank]);
        let last = if tank == 0 { 0 } else { first + FURTHEST_S };
        let mut start = first;
        while start <= last && start + self.rest[tank] < self.best_s() {
            for place in 0..patterns.len() {
                starts.push(start);
                taken.push(place);
                if self.ends(starts, taken) < self.best_s() && self.fits(starts, taken) {
                    self.look(tank + 1, starts, taken);
                }
                starts.pop();
                taken.pop();
            }
            start += 1;
        }
    }

    fn ends(&self, starts: &[i32], taken: &[usize]) -> i32 {
        let ends = starts.iter().zip(taken).enumerate();
        let ends =
            ends.map(|(tank, (start, place))| start + self.search.tanks[tank][*place].seconds);
        ends.max().unwrap_or_default()
    }

    /// Whether the last of these tanks fits in with the others, which fit already.
    fn fits(&mut self, starts: &[i32], taken: &[usize]) -> bool {
        let last = starts.len().saturating_sub(1);
        // What does not fit with one of them alone does not fit with all, and that is soon known.
        if !(0..last).all(|tank| self.pair_fits(tank, last, starts[last] - starts[tank])) {
            return false;
        }
        let chosen = self.search.tanks.iter().take(last + 1).all(|patterns| patterns.len() == 1);
        if last < 2 && chosen {
            return true;
        }
        let placed: Vec<(&Pattern, i32)> = starts
            .iter()
            .zip(taken)
            .enumerate()
            .map(|(tank, (start, place))| (self.search.tanks[tank][*place], *start))
            .collect();
        why_not(&placed).is_none()
    }
}

impl Looking<'_> {
    /// Whether two tanks fit so many seconds apart. Known pairs are remembered; where a tank has a
    /// choice of patterns nothing is said against it here.
    fn pair_fits(&mut self, one: usize, other: usize, apart: i32) -> bool {
        let ([first], [second]) =
            (self.search.tanks[one].as_slice(), self.search.tanks[other].as_slice())
        else {
            return true;
        };
        let Ok(place) = usize::try_from(apart) else { return true };
        let known = &mut self.pairs[one * self.search.tanks.len() + other];
        if known.len() <= place {
            known.resize(place + 1, None);
        }
        *known[place].get_or_insert_with(|| why_not(&[(first, 0), (second, apart)]).is_none())
    }
}

/// What keeps the last of these tanks from fitting in with the others.
fn why_not(placed: &[(&Pattern, i32)]) -> Option<Binds> {
    let (last, others) = placed.split_last()?;
    for other in others {
        if let Some(bottle) = bottles_collide(other.0, other.1, last.0, last.1) {
            return Some(Binds::Bottle(bottle));
        }
    }
    let tasks: Vec<Task> = placed
        .iter()
        .flat_map(|(pattern, start)| {
            pattern.tasks.iter().map(move |task| Task {
                release: task.release + start,
                latest: task.latest + start,
                seconds: task.seconds,
            })
        })
        .collect();
    if hands_suffice(&tasks) { None } else { Some(Binds::Hands) }
}

/// The least start of `other` after `one` at which the two fit.
fn least_apart(one: &Pattern, other: &Pattern) -> Option<i32> {
    (0..=FURTHEST_S).find(|start| why_not(&[(one, 0), (other, *start)]).is_none())
}

/// What keeps the last tank from beginning a second earlier.
fn binds(search: &Search<'_>, starts: &[i32], taken: &[usize]) -> Binds {
    let mut placed: Vec<(&Pattern, i32)> = starts
        .iter()
        .zip(taken)
        .enumerate()
        .map(|(tank, (start, place))| (search.tanks[tank][*place], *start))
        .collect();
    let Some(last) = placed.last_mut().filter(|last| last.1 > 0) else { return Binds::Nothing };
    last.1 -= 1;
    why_not(&placed).unwrap_or(Binds::Nothing)
}
