//! The script of one timed step: its tones, and the words for which there is room.
//!
//! The order in which words are offered is their rank: what is offered first is kept, and what
//! would touch it is dropped, never delayed. Only the notices of the last minute may move.

use process_model::sheet::Bath;

use super::{Cue, Signal, Tone};
use crate::habits::{Scale, Words};
use crate::plan::{Plan, PlannedStep};
use crate::run::Run;
use crate::spoken::{Say, TimeOfDay};
use crate::step_clock::{Span, StepClock};
use crate::timestamp::Timestamp;

/// Words end this long before the next tone.
const CLEAR_MS: i64 = 1_000;
/// No words in this span before a spell but its own.
const BEFORE_SPELL_MS: i64 = 3_000;
/// A gap between spells shorter than this has no words.
const GAP_FOR_WORDS_MS: i64 = 8_000;

/// The tones and words of one step, in milliseconds from its clock's zero.
#[derive(Debug)]
pub(super) struct Script {
    clock: StepClock,
    tones: Vec<(i64, Tone)>,
    words: Vec<(i64, Say)>,
}

/// What is said at the head of a lead-in.
pub(super) fn lead_in(plan: &Plan, index: usize, bath: Bath) -> Say {
    match index {
        0 if plan.practice => Say::Practice,
        0 => Say::PourOnTheTone,
        _ => Say::NextPour(bath),
    }
}

impl Script {
    /// The script of the step at `index`, whose clock has its zero at `zero`.
    pub(super) fn new(run: &Run, words: Words, index: usize, zero: Timestamp) -> Self {
        let plan = &run.plan;
        let Some((step, clock)) = plan.steps.get(index).zip(run.step_clock(index)) else {
            let clock = StepClock { tone: 0, filled: 0, spells: vec![], pour_back: None, end: 0 };
            return Self { clock, tones: Vec::new(), words: Vec::new() };
        };
        let mut script = Self { tones: tones(step, &clock), words: Vec::new(), clock };
        script.offer(script.clock.tone - plan.lead_in_to(index), lead_in(plan, index, step.bath));
        script.pour_back_words(plan, step);
        script.spell_words(step);
        script.notices(step, plan.steps.get(index + 1), plan.scale);
        script.rinse_funnel(step);
        script.until(plan, step, zero, run);
        if words != Words::All {
            script.words.retain(|(_, say)| say.is_said_at(words));
            script.get_ready_tones();
        }
        script
    }

    /// The script as cues.
    pub(super) fn cues(self, zero: Timestamp) -> Vec<Cue> {
        let cue = |at: i64, signal| Cue { at: zero.plus_ms(at), signal };
        let tones = self.tones.iter().map(|(at, tone)| cue(*at, Signal::Tone(*tone)));
        let words = self.words.iter().map(|(at, say)| cue(*at, Signal::Say(*say)));
        tones.chain(words).collect()
    }

    /// The ends of the spells, in order.
    pub(super) fn rests(&self) -> impl Iterator<Item = i64> {
        self.clock.spells.iter().map(|spell| spell.end)
    }

    /// Keeps `say` at `at` if it touches no words kept before and ends well before the next tone.
    pub(super) fn offer(&mut self, at: i64, say: Say) -> bool {
        let kept = self.has_room(at, at + say.milliseconds());
        if kept {
            self.words.push((at, say));
        }
        kept
    }

    fn has_room(&self, start: i64, end: i64) -> bool {
        let in_time = end <= self.clock.end;
        let quiet = self.marks().filter(|mark| *mark > start).all(|mark| end + CLEAR_MS <= mark);
        in_time
            && quiet
            && self.words.iter().all(|(at, say)| end <= *at || *at + say.milliseconds() <= start)
    }

    /// Whether a tone at `at` would fall on no words, nor within a second after them.
    fn spares_words(&self, at: i64) -> bool {
        self.words
            .iter()
            .all(|(start, say)| at <= *start || start + say.milliseconds() + CLEAR_MS <= at)
    }

    /// The instants of the tones that mark something. Ticks do not.
    fn marks(&self) -> impl Iterator<Item = i64> {
        self.tones.iter().filter(|(_, tone)| *tone != Tone::Tick).map(|(at, _)| *at)
    }

    fn pour_back_words(&mut self, plan: &Plan, step: &PlannedStep) {
        if let Some(back) = self.clock.pour_back {
            if self.clock.end >= plan.fill_ms + plan.drain_ms + 20_000 {
                self.offer(back - 7_000, Say::GetReady(step.bath));
            }
            self.offer(back + 1_000, Say::PourNow(step.bath));
        } else if self.clock.end - 10_000 > self.clock.filled {
            self.offer(self.clock.end - 10_000, Say::TenSeconds);
        }
    }

    fn spell_words(&mut self, step: &PlannedStep) {
        let spells = self.clock.spells.clone();
        let Some(first) = spells.first() else { return };
        let is_continuous = first.end == self.clock.pour_back.unwrap_or(self.clock.end);
        // Fumes come first: words that only announce a spell give way to these.
        if step.bath == Bath::BleachFix {
            // Gas builds up without a rest too, so the tank is vented once it has been moved. A rest too
            // short for the words leaves them to the next one: unsaid they would leave the gas in.
            let _ = if is_continuous {
                self.offer(first.start + 20_000, Say::Vent)
            } else {
                spells.iter().any(|spell| self.offer(spell.end + 1_000, Say::Vent))
            };
        }
        self.announcements(&spells);
        self.offer(first.start - 4_000, Say::LidOn);
        if step.bath != Bath::BleachFix && !is_continuous {
            self.offer(first.end + 1_000, Say::RestNow);
        }
    }

    fn announcements(&mut self, spells: &[Span]) {
        let last = spells.len().saturating_sub(1);
        for (index, spell) in spells.iter().enumerate().skip(1) {
            let has_gap = self.clock.gap_before(index).is_some_and(|gap| gap >= GAP_FOR_WORDS_MS);
            if has_gap && index == last {
                self.offer(spell.start - 6_000, Say::LastAgitation);
            } else if has_gap && index <= 3 {
                self.offer(spell.start - 5_000, Say::AgitateInFive);
            }
        }
    }

    fn notices(&mut self, step: &PlannedStep, next: Option<&PlannedStep>, scale: Scale) {
        let Some(next) = next else { return };
        let has_minute = matches!(step.bath, Bath::Bleach | Bath::BleachFix | Bath::Fixer)
            || step.is_developer();
        if has_minute {
            let minute = |under| Say::OneMinute { next: next.bath, under };
            self.notice(self.clock.end - 60_000, minute(false), minute(true), true);
        }
        let at = self.clock.end - 30_000;
        if step.is_developer() {
            let [on_time, late] = [false, true].map(|under| Say::FunnelRinsed { under });
            self.notice(at, on_time, late, false);
        } else if step.bath == Bath::PreSoak
            && let Some(developer) = next.developer
        {
            let say = Say::UncapDeveloper(developer.pour, scale);
            self.notice(at, say, say, false);
        }
    }

    /// A notice at `at`; one that falls on an action moves to a second after it, as `late`.
    fn notice(&mut self, at: i64, on_time: Say, late: Say, with_tone: bool) {
        if at <= self.clock.filled {
            return;
        }
        let end = at + on_time.milliseconds();
        let Some(action) = self.action_touched(at, end) else {
            if with_tone && !self.spares_words(at) {
                return;
            }
            let kept = self.offer(at, on_time);
            if kept && with_tone {
                self.tones.push((at, Tone::GetReady));
            }
            return;
        };
        let moved = action.end + 1_000;
        let end = moved + late.milliseconds();
        let next_words = self.words.iter().map(|(at, _)| at - CLEAR_MS);
        let next_spell = self.clock.spells.iter().map(|spell| spell.start - BEFORE_SPELL_MS);
        let by = next_words.chain(next_spell).filter(|by| *by > moved - CLEAR_MS).min();
        if by.is_none_or(|by| end <= by) {
            self.offer(moved, late);
        }
    }

    /// The spell that words from `start` to `end` would fall on: the span from three seconds
    /// before it to its end, or the words that announce it. Continuous agitation is none.
    fn action_touched(&self, start: i64, end: i64) -> Option<Span> {
        let still_by = self.clock.pour_back.unwrap_or(self.clock.end);
        let announcements = self.words.iter().filter_map(|(at, say)| {
            let lead = if *say == Say::AgitateInFive {
                5_000
            } else if *say == Say::LastAgitation {
                6_000
            } else {
                return None;
            };
            Some((*at, at + say.milliseconds(), at + lead))
        });
        let announcements: Vec<_> = announcements.collect();
        self.clock.spells.iter().copied().filter(|spell| spell.end < still_by).find(|spell| {
            let on_spell = start <= spell.end && end >= spell.start - BEFORE_SPELL_MS;
            let on_words = announcements
                .iter()
                .any(|(from, to, of)| *of == spell.start && start < *to && end > *from);
            on_spell || on_words
        })
    }

    fn rinse_funnel(&mut self, step: &PlannedStep) {
        if step.bath == Bath::BleachFix
            && let Some(second) = self.clock.spells.get(1).copied()
        {
            self.offer(second.end + 12_000, Say::RinseFunnel);
        }
    }

    /// "Developer until …", only if it can end a second before the lid words.
    fn until(&mut self, plan: &Plan, step: &PlannedStep, zero: Timestamp, run: &Run) {
        let end = zero.plus_ms(self.clock.end).plus_ms(run.state.clock_shift_ms);
        let say = Say::Until(step.bath, TimeOfDay::at(end, plan.utc_offset_min));
        let at = self.clock.tone + 2_000;
        let lid = self.words.iter().find(|(_, say)| *say == Say::LidOn).map(|(at, _)| *at);
        let fits = lid.is_none_or(|lid| at + say.milliseconds() + CLEAR_MS <= lid);
        if fits {
            self.offer(at, say);
        }
    }

    /// With few words or none, E1 stands for the words before a repeating spell.
    fn get_ready_tones(&mut self) {
        for (before, spell) in self.clock.spells.iter().zip(self.clock.spells.iter().skip(1)) {
            let at = spell.start - 3_000;
            let after_rest = at > before.end;
            let spares_words = self.spares_words(at);
            if after_rest && spares_words {
                self.tones.push((at, Tone::GetReady));
            }
        }
    }
}

/// The tones of a step that do not depend on words.
fn tones(step: &PlannedStep, clock: &StepClock) -> Vec<(i64, Tone)> {
    let still_by = clock.pour_back.unwrap_or(clock.end);
    let mut tones = vec![(clock.tone, Tone::Go)];
    for spell in &clock.spells {
        tones.push((spell.start, Tone::Go));
        if spell.end < still_by {
            let seconds = (spell.start + 1_000..spell.end).step_by(1_000);
            tones.extend(seconds.map(|at| (at, Tone::Tick)));
            tones.push((spell.end, Tone::Rest));
        }
    }
    if let Some(back) = clock.pour_back {
        tones.push((back, Tone::GoTwice));
    } else if clock.end - 10_000 > clock.filled {
        debug_assert!(!step.is_poured_back(), "what is poured back is announced");
        tones.push((clock.end - 10_000, Tone::GetReady));
    }
    tones.push((clock.end, Tone::Rest));
    tones
}
