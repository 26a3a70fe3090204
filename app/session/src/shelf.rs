//! How a solution stands: its age, what went through it, and what that means for the next roll.
//!
//! Nothing here is stored: what went through follows from the runs, the rest from what was done with
//! the solution. What a leaflet did not say is not known.

use process_model::film::{Format, TRADE_ROLL, Tank};
use process_model::mixing::Part;
use process_model::sheet::Bath;
use process_model::solution::{Rule, next_time_s};

use crate::film::{Amount, amount_of, format_of};
use crate::notebook::solutions::{Deed, Done, blocked, deeds};
use crate::notebook::{Kind, Named, Record, RunRecord};
use crate::plan::Plan;
use crate::run::Run;
use crate::sheets::Addition;
use crate::timestamp::Timestamp;
use crate::vessels::USUAL_L;

/// How much of a solution leaves the bottle with each roll where nobody has measured it, in
/// millilitres; between 8 and 20, from memory, an estimate.
pub const LOST_ML: f64 = 15.0;
/// How much of a rinse stands between two baths, in millilitres; a tank of one roll, from memory.
const RINSE_ML: f64 = 300.0;
/// An estimated time is offered to this many seconds.
const STEP_MS: i64 = 5_000;

/// The film of one tank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Film {
    /// When the solution was poured onto it.
    pub at: Timestamp,
    /// How many rolls a leaflet would count.
    pub rolls: f64,
    /// Its area in square centimetres.
    pub area_cm2: f64,
    /// How much of the solution it took along, in millilitres.
    pub lost_ml: f64,
}

/// The film that a run poured a solution onto, if it did. A run for which no roll was written down
/// counts as one of 36 exposures; a roll that was put aside went through it all the same. Each roll
/// takes `lost_ml` along.
pub fn film_of(
    solution: &Record,
    record: &RunRecord,
    run: &Run,
    records: &[Record],
    lost_ml: f64,
) -> Option<Film> {
    let poured = record.record.list("solutions");
    if run.plan.practice || !poured.iter().any(|id| id.as_str() == Some(solution.id())) {
        return None;
    }
    let bath = Bath::from_file_name(solution.text("bath"))?;
    let step = run.plan.steps.iter().position(|step| step.bath == bath)?;
    let at = run.state.actual.get(step)?.poured_at?;
    // A run that was stopped before the pour tone poured nothing.
    if run.log.last().is_some_and(|last| run.is_over() && last.at < at) {
        return None;
    }
    let mut film = Film { at, rolls: 0.0, area_cm2: 0.0, lost_ml: 0.0 };
    let in_tank = |roll: &&Record| roll.kind() == Kind::Roll && roll.text("run") == record.id();
    for amount in records.iter().filter(in_tank).map(amount_of) {
        film.rolls += amount.rolls;
        film.area_cm2 += amount.area_cm2;
    }
    if film.rolls == 0.0 {
        let Amount { rolls, area_cm2 } = Amount::of(Format::Film135x36);
        film = Film { rolls, area_cm2, ..film };
    }
    film.lost_ml = lost_ml * film.rolls;
    Some(film)
}

/// How a solution stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    /// When it was mixed, if it was.
    pub mixed_at: Option<Timestamp>,
    /// How much was mixed, in millilitres; more if it was topped up beyond that.
    pub mixed_ml: f64,
    /// How much was mixed at first, in millilitres.
    pub first_ml: f64,
    /// How much is left, in millilitres: an estimate.
    pub left_ml: f64,
    /// How many rolls went through since it was mixed, as a leaflet counts.
    pub rolls: f64,
    /// How many of them still count: topping up takes some away.
    pub worn_rolls: f64,
    /// The film area that went through since it was mixed, in square centimetres.
    pub area_cm2: f64,
    /// How much all of that film took along, in millilitres: an estimate.
    pub lost_ml: f64,
    /// When somebody looked at it last.
    pub looked_at: Option<Timestamp>,
    /// Since when it is suspect, and why.
    pub suspect: Option<(Timestamp, String)>,
    /// Why it may not be used.
    pub blocked: Option<String>,
    /// When it was discarded.
    pub discarded_at: Option<Timestamp>,
    /// How long a clip took to clear in it: the first time since it was mixed, and the last time.
    pub clears_s: Option<(f64, f64)>,
}

/// How a solution stands after what was done with it and what went through it.
pub fn standing(solution: &Record, films: &[Film]) -> Standing {
    standing_at(solution, films, Timestamp::from_milliseconds(i64::MAX))
}

/// How a solution stood at an instant, but for whether it may be used, which is as of today.
pub fn standing_at(solution: &Record, films: &[Film], until: Timestamp) -> Standing {
    let mut deeds = deeds(solution);
    deeds.retain(|deed| deed.at <= until);
    let usual_ml = solution.number("volume_ml").unwrap_or(USUAL_L.0 * 1000.0);
    let mut standing = Standing::of_fresh(usual_ml);
    let mut from = Timestamp::from_milliseconds(i64::MIN);
    for deed in &deeds {
        standing.take_films(films, from, deed.at);
        standing.take(deed, usual_ml);
        from = from.max(deed.at);
    }
    standing.take_films(films, from, until);
    standing.blocked = blocked(solution);
    standing
}

impl Standing {
    /// So many millilitres of which nothing else is known.
    fn of_fresh(ml: f64) -> Self {
        Self { mixed_ml: ml, first_ml: ml, left_ml: ml, ..Self::default() }
    }

    /// What went through from one instant until before another.
    fn take_films(&mut self, films: &[Film], from: Timestamp, until: Timestamp) {
        for film in films.iter().filter(|film| (from..until).contains(&film.at)) {
            self.rolls += film.rolls;
            self.worn_rolls += film.rolls;
            self.area_cm2 += film.area_cm2;
            self.lost_ml += film.lost_ml;
            self.left_ml = (self.left_ml - film.lost_ml).max(0.0);
        }
    }

    fn take(&mut self, deed: &Deed, usual_ml: f64) {
        match deed.done {
            Done::Mixed => {
                let rolls = deed.rolls.unwrap_or_default().max(0.0);
                *self = Self {
                    mixed_at: Some(deed.at),
                    rolls,
                    worn_rolls: rolls,
                    area_cm2: rolls * TRADE_ROLL.get(),
                    lost_ml: rolls * LOST_ML,
                    ..Self::of_fresh(deed.ml.unwrap_or(usual_ml))
                };
            }
            Done::ToppedUp => {
                let ml = deed.ml.unwrap_or_default().max(0.0);
                let together = self.left_ml + ml;
                if together > 0.0 {
                    self.worn_rolls *= self.left_ml / together;
                }
                self.left_ml = together;
                if together > self.mixed_ml {
                    // The same film in more solution: worn less for each millilitre, once.
                    self.worn_rolls *= together / self.mixed_ml.max(1.0);
                    self.mixed_ml = together;
                }
            }
            Done::LookedAt => {
                self.looked_at = Some(deed.at);
                self.left_ml = deed.ml.unwrap_or(self.left_ml);
            }
            Done::Suspect => self.suspect = Some((deed.at, deed.note.clone())),
            Done::Blocked => {}
            Done::Discarded => self.discarded_at = Some(deed.at),
        }
        if deed.fine {
            self.suspect = None;
        }
        if let Some(clears_s) = deed.clears_s {
            self.clears_s = Some((self.clears_s.map_or(clears_s, |(first, _)| first), clears_s));
        }
    }

    /// Whether it stands on the Shelf: something was done with it, and it was not discarded.
    pub const fn is_there(&self) -> bool {
        self.discarded_at.is_none()
    }

    /// The time of the next roll by a leaflet's rule, to five seconds: an estimate. Nothing where no
    /// rule is known, nothing has gone through, or the rule makes no sense.
    pub fn next_ms(&self, nominal_ms: i64, rule: Option<Addition>) -> Option<i64> {
        let Addition { seconds, per_ml } = rule.filter(|_| self.worn_rolls > 0.0)?;
        let rule = Rule::Added { seconds, per_ml };
        let nominal_s = crate::evening::seconds(nominal_ms);
        let next_s = next_time_s(nominal_s, rule, self.worn_rolls, self.mixed_ml).ok()?;
        let next_ms = crate::evening::milliseconds(next_s);
        let extra_ms = (next_ms - nominal_ms + STEP_MS / 2).div_euclid(STEP_MS) * STEP_MS;
        (extra_ms > 0).then_some(nominal_ms + extra_ms)
    }

    /// What share of it is the bath before it by now: an estimate from what each roll takes along.
    pub fn of_the_bath_before(&self, is_rinsed: bool) -> f64 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "few rolls")]
        let rolls = self.rolls.round() as u32;
        let rinse = is_rinsed.then_some(RINSE_ML);
        let lost_ml = self.lost_ml / self.rolls.max(1.0);
        process_model::solution::contamination(self.mixed_ml, lost_ml, rinse, rolls)
            .unwrap_or_default()
    }

    /// Whether what is left covers a tank that needs so much.
    pub fn covers(&self, least_ml: f64) -> bool {
        self.left_ml >= least_ml
    }
}

/// How much the leaflet's figures of a solution are about, in millilitres: what its kit makes, else
/// what was mixed at first.
fn per_ml(solution: &Record, standing: &Standing) -> f64 {
    let kit_ml = solution.number("kit_ml").filter(|_| solution.number("water_parts").is_none());
    kit_ml.unwrap_or(standing.first_ml).max(1.0)
}

/// How a leaflet says that time grows: as it was written on the solution, else, for a developer, as
/// on the sheet.
pub fn rule_of(
    solution: &Record,
    standing: &Standing,
    of_sheet: Option<Addition>,
) -> Option<Addition> {
    let per_ml = per_ml(solution, standing);
    let own = solution.number("add_s").map(|seconds| Addition { seconds, per_ml });
    let is_developer = Bath::from_file_name(solution.text("bath")).is_some_and(Bath::is_developer);
    own.or(of_sheet.filter(|_| is_developer))
}

/// For how many rolls a solution is good by its leaflet: part of a kit for that part of them.
pub fn capacity(solution: &Record, standing: &Standing) -> Option<f64> {
    let rolls = solution.number("capacity_rolls")?;
    Some(rolls * standing.first_ml / per_ml(solution, standing))
}

/// The solutions that could be poured as a bath: mixed, not thrown away, not put aside.
pub fn on_the_shelf(solutions: &[Record], bath: Bath) -> impl Iterator<Item = &Record> {
    solutions.iter().filter(move |one| {
        one.text("bath") == bath.file_name()
            && !one.list("events").is_empty()
            && standing(one, &[]).is_there()
    })
}

/// Which of the solutions a run pours by default: those that were picked, then those that may be
/// used, then those that `suits` ranks higher, then the one that was mixed last. A recipe that
/// nobody has mixed yet is none.
pub fn in_use<'a>(
    solutions: &'a [Record],
    bath: Bath,
    picked: &[String],
    suits: impl Fn(&Record) -> u8,
) -> Option<&'a Record> {
    let mut best = None;
    for solution in on_the_shelf(solutions, bath) {
        let standing = standing(solution, &[]);
        let is_picked = picked.iter().any(|id| id == solution.id());
        let key = (is_picked, standing.blocked.is_none(), suits(solution), standing.mixed_at);
        if best.as_ref().is_none_or(|(_, best)| key > *best) {
            best = Some((solution, key));
        }
    }
    best.map(|(solution, _)| solution)
}

/// What film carries into a bath by a plan, and whether water or a stop bath lies between. Nothing
/// where nothing but water goes before it.
pub fn carried_into(plan: &Plan, bath: Bath) -> Option<(Bath, bool)> {
    let is_water =
        |bath: Bath| matches!(bath, Bath::PreSoak | Bath::StopBath | Bath::Wash | Bath::Rinse);
    let place = plan.steps.iter().position(|step| step.bath == bath)?;
    let before = plan.steps.get(..place)?;
    let is_rinsed = before.last().is_some_and(|step| is_water(step.bath));
    let carried = before.iter().rev().find(|step| !is_water(step.bath))?;
    Some((carried.bath, is_rinsed))
}

/// How much covers the reels of these rolls, in millilitres: an estimate, from memory. Nothing where
/// there are none, or one is of a format that no box names.
pub fn least_ml<'a>(rolls: impl Iterator<Item = &'a Record>, tank: Tank) -> Option<f64> {
    let mut sum = None;
    for roll in rolls {
        sum = Some(sum.unwrap_or_default() + format_of(roll)?.covered_by_ml(tank));
    }
    sum
}

/// The parts of a kit as somebody types them: `A 142.5, B 47, C 20 g`. `number` reads a number.
///
/// # Errors
///
/// The sentence to show.
pub fn parts(text: &str, number: fn(&str) -> Option<f64>) -> Result<Vec<Part>, &'static str> {
    const HOW: &str = "Each part with its amount: A 142.5, B 47, powder C 20 g.";
    let mut parts = Vec::new();
    for part in text.split(',').map(str::trim).filter(|part| !part.is_empty()) {
        let grams = part.strip_suffix('g');
        let bare = grams.or(part.strip_suffix("mL")).unwrap_or(part).trim_end();
        let (name, amount) = bare.rsplit_once(' ').ok_or(HOW)?;
        let amount = number(amount).filter(|amount| *amount > 0.0 && *amount <= 1e5).ok_or(HOW)?;
        parts.push(Part { name: name.trim_end().to_owned(), amount, is_powder: grams.is_some() });
    }
    Ok(parts)
}

#[cfg(test)]
mod tests;
