//! The plan of a run: the sheet and the habits as they were when it began.
//!
//! A plan is never changed, so that a later sheet or a later habit does not rewrite a run.

use process_model::agitation::Agitation;
use process_model::quantity::{Celsius, Seconds};
use process_model::sheet::{Bath, Choice, DeveloperTemperatures, Direction, Light, Step};

use crate::habits::{Convention, Habits, Scale, Words};
use crate::sheets::{Drain, Known, Method};

/// From the tap to the first pour of a run.
pub const FIRST_LEAD_IN_MS: i64 = 5_000;

/// What a run was going to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What files call the sheet.
    pub sheet: String,
    /// What people called it when the run began.
    pub sheet_name: String,
    /// Its revision when the run began; 0 for one that is shipped.
    pub sheet_rev: u64,
    /// How the tank is moved.
    pub method: Method,
    /// Whether it is practice with water: no film, no chemistry.
    pub practice: bool,
    /// When the clock of a step starts.
    pub convention: Convention,
    /// How long pouring in takes.
    pub fill_ms: i64,
    /// How long pouring out takes.
    pub drain_ms: i64,
    /// From the tap to the pour tone.
    pub lead_in_ms: i64,
    /// How long the person usually washes.
    pub wash_habit_ms: i64,
    /// How much is spoken.
    pub words: Words,
    /// The scale in which temperatures are spoken.
    pub scale: Scale,
    /// Local time less UTC when the run began, in minutes.
    pub utc_offset_min: i32,
    /// The steps, in order.
    pub steps: Vec<PlannedStep>,
    /// How long the film hangs.
    pub drying_ms: i64,
}

/// One step of a plan. Times include the drain.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedStep {
    /// The step's name in files.
    pub id: String,
    /// What is in the tank.
    pub bath: Bath,
    /// How long.
    pub time_ms: i64,
    /// The shortest that the sheet allows.
    pub least_ms: i64,
    /// What to aim at, where the sheet names it.
    pub aim: Option<Celsius>,
    /// The band in the tank: coolest and warmest.
    pub band: (Celsius, Celsius),
    /// For a developer: what to pour at and where the alarm begins.
    pub developer: Option<DeveloperTemperatures>,
    /// How the tank is moved.
    pub agitation: Agitation,
    /// Which way the time may be missed.
    pub direction: Direction,
    /// Whether the lid stays on.
    pub light: Light,
    /// Whether the person is asked, when its turn comes, to do it or not.
    pub asked: bool,
}

impl PlannedStep {
    fn of(step: &Step, drain_ms: i64) -> Self {
        // A pre-soak whose sheet names no movement gets one short spell, which drives out air
        // bells; our rule.
        let agitation = match (step.bath, step.agitation) {
            (Bath::PreSoak, Agitation::Still) => Agitation::Once { first: Seconds::whole(5) },
            (_, agitation) => agitation,
        };
        Self {
            id: step.id.to_string(),
            bath: step.bath,
            time_ms: step.time.nominal.to_milliseconds() + drain_ms,
            least_ms: step.time.least.to_milliseconds() + drain_ms,
            aim: step.band.aim,
            band: (step.band.least, step.band.most),
            developer: step.developer_temperatures(),
            agitation,
            direction: step.direction,
            light: step.light,
            asked: step.choice == Choice::Asked,
        }
    }

    /// Whether the rules for a developer hold: every step whose id contains "developer".
    pub fn is_developer(&self) -> bool {
        self.id.contains("developer")
    }

    /// Whether a pour-back is announced before the end. Rinses and washes are tipped out after it.
    pub fn is_poured_back(&self) -> bool {
        !matches!(
            self.bath,
            Bath::WashAid | Bath::Wash | Bath::Rinse | Bath::Stabiliser | Bath::WettingAgent
        )
    }
}

impl Plan {
    /// The plan that `habits` make of a sheet, begun where local time is `utc_offset_min` ahead of
    /// UTC.
    pub fn new(habits: &Habits, known: &Known, utc_offset_min: i32) -> Self {
        let sheet = &known.sheet;
        let seconds = |seconds: u32| i64::from(seconds) * 1_000;
        let drain_ms = seconds(Habits::DRAIN.nearest(habits.drain_s));
        // A plan's times include the drain, whatever those of the sheet do.
        let outside_ms = if known.drain == Drain::Outside { drain_ms } else { 0 };
        Self {
            sheet: sheet.key.to_string(),
            sheet_name: sheet.name.to_string(),
            sheet_rev: known.rev,
            method: known.method,
            practice: false,
            convention: known.convention.unwrap_or(habits.convention),
            fill_ms: seconds(Habits::FILL.nearest(habits.fill_s)),
            drain_ms,
            lead_in_ms: seconds(Habits::LEAD_IN.nearest(habits.lead_in_s)),
            wash_habit_ms: seconds(Habits::WASH.nearest(habits.wash_min) * 60),
            words: habits.words,
            scale: habits.scale,
            utc_offset_min,
            steps: sheet
                .steps
                .iter()
                .filter(|step| habits.wants(&sheet.key, step))
                .map(|step| PlannedStep::of(step, outside_ms))
                .collect(),
            drying_ms: sheet.drying.to_milliseconds(),
        }
    }

    /// The plan of a shipped sheet of which nothing was said.
    pub fn shipped(habits: &Habits, utc_offset_min: i32) -> Self {
        Self::new(habits, &crate::sheets::find(&[], &habits.sheet), utc_offset_min)
    }

    /// About how long the baths take, from the first lead-in to the end of the last: an estimate.
    pub fn about_ms(&self) -> i64 {
        let bath = |(index, step): (usize, &PlannedStep)| self.lead_in_to(index) + step.time_ms;
        self.steps.iter().enumerate().map(bath).sum()
    }

    /// From the tap to the pour tone of the step at `index`.
    pub fn lead_in_to(&self, index: usize) -> i64 {
        if index == 0 { FIRST_LEAD_IN_MS } else { self.lead_in_ms }
    }

    /// Whether the step at `index` is the wash that the eye ends: the last one.
    ///
    /// Any wash before it is a timed step.
    pub fn is_last_wash(&self, index: usize) -> bool {
        let is_wash = |step: &PlannedStep| step.bath == Bath::Wash;
        self.steps.iter().rposition(is_wash) == Some(index)
    }

    /// Steps too short for pouring in, pouring out and a warning between them.
    ///
    /// Such a step loses its "get ready"; the person is told before the start.
    pub fn short_steps(&self) -> impl Iterator<Item = &PlannedStep> {
        let least = self.fill_ms + self.drain_ms + 20_000;
        self.steps
            .iter()
            .enumerate()
            .filter(move |(index, step)| step.time_ms < least && !self.is_last_wash(*index))
            .map(|(_, step)| step)
            .filter(|step| step.is_poured_back())
    }
}

#[cfg(test)]
mod tests {
    use process_model::sheet::SheetId;

    use super::*;

    fn ids(plan: &Plan) -> Vec<&str> {
        plan.steps.iter().map(|step| step.id.as_str()).collect()
    }

    #[test]
    fn the_usual_run_has_six_steps() {
        let plan = Plan::shipped(&Habits::default(), 0);
        let expected =
            ["presoak", "developer", "bleachfix", "wash", "distilled_rinse", "stabiliser"];
        assert_eq!(ids(&plan), expected);
    }

    #[test]
    fn only_the_last_wash_is_ended_by_the_eye() {
        let habits = Habits { sheet: SheetId::MultiBathC41.key(), ..Habits::default() };
        let plan = Plan::shipped(&habits, 0);
        let last: Vec<_> = (0..plan.steps.len()).filter(|at| plan.is_last_wash(*at)).collect();
        assert_eq!(ids(&plan)[last[0]], "wash2");
        assert_eq!(last.len(), 1);
    }

    #[test]
    fn a_step_too_short_for_two_slow_hands_is_named_before_the_start() {
        let mut habits = Habits::default();
        assert_eq!(Plan::shipped(&habits, 0).short_steps().count(), 0);
        habits.fill_s = 30;
        habits.drain_s = 30;
        let plan = Plan::shipped(&habits, 0);
        let short: Vec<_> = plan.short_steps().map(|step| step.id.as_str()).collect();
        assert_eq!(short, ["presoak"]);
    }

    #[test]
    fn habits_out_of_range_are_brought_into_it() {
        let habits = Habits { fill_s: 0, drain_s: 900, lead_in_s: 1, ..Habits::default() };
        let plan = Plan::shipped(&habits, 0);
        assert_eq!((plan.fill_ms, plan.drain_ms, plan.lead_in_ms), (2_000, 40_000, 5_000));
    }
}
