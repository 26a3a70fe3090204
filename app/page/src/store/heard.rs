//! What is heard: words when they are due, tones planned ahead.

use leptos::prelude::*;
use session::cue::{self, Signal, Tone};
use session::habits::Words;
use session::timestamp::Timestamp;
use session::{Command, cues};

use super::{Held, Live, Store};
use crate::ports::Sound;

/// Words that are later than this are not said any more.
const LATE_MS: i64 = 2_000;
/// How far ahead tones are planned.
const AHEAD_MS: i64 = 720_000;

impl Store {
    /// Says what is due and has not been said, and shows it.
    pub(super) fn say_due(self) {
        let now = self.now.get_untracked();
        let until = now.plus_ms(1);
        let from = self.live.with_value(|live| live.heard_until);
        if until <= from {
            return;
        }
        self.live.update_value(|live| live.heard_until = until);
        let due = self.run.with_untracked(|open| {
            let run = &open.as_ref()?.run;
            let ahead = |live: &mut Live| live.ahead.shown(run, from, until);
            Some((self.live.try_update_value(ahead)?, run.state.words))
        });
        let Some((due, words)) = due else { return };
        for cue in due.into_iter().filter(|cue| now.since_ms(cue.at) <= LATE_MS) {
            match cue.signal {
                Signal::Say(say) => self.say(&say.text(), say.is_said_at(words)),
                Signal::Tone(tone) => self.feel(tone),
            }
        }
    }

    /// Shows a sentence, and says it if `aloud`.
    pub fn say(self, text: &str, aloud: bool) {
        self.show_sentence(text);
        self.said_at.set(self.now.get_untracked());
        if aloud && self.held.get_untracked() == Held::Here {
            self.ports.with_value(|ports| ports.voice.say(text));
            self.live.update_value(|live| live.primed = true);
        }
    }

    /// Shows a sentence. One that comes again is marked so that it counts as new: a screen reader
    /// would say it only once.
    pub(super) fn show_sentence(self, text: &str) {
        let again = self.said.with_untracked(|said| said == text);
        self.said.set(if again { format!("{text}\u{200b}") } else { text.to_owned() });
    }

    /// Says a sentence of the moment, if it touches no prompt.
    pub fn say_if_room(self, text: &str) {
        let now = self.read_clock();
        let (room, words) = self.run.with_untracked(|open| {
            open.as_ref().map_or((true, Words::All), |open| {
                let ms = session::spoken::milliseconds(text);
                (cue::has_room(&open.run, now, ms), open.run.state.words)
            })
        });
        self.say(text, room && words == Words::All);
    }

    /// What a tone does besides sounding.
    fn feel(self, tone: Tone) {
        if matches!(tone, Tone::Go | Tone::GoTwice | Tone::Alarm) {
            self.ports.with_value(|ports| ports.screen.buzz());
        }
        if tone == Tone::Alarm && self.sound.get_untracked() != Sound::On {
            self.flashes.set(self.flashes.get_untracked().wrapping_add(1));
        }
    }

    /// Plans the tones of the next minutes anew.
    pub(super) fn plan_tones(self) {
        let (now, mono_ms) = self.read_both();
        let here = self.held.get_untracked() == Held::Here;
        let tones = if here { self.tones_from(now) } else { Vec::new() };
        self.live.update_value(|live| live.planned_at = now);
        self.ports.with_value(|ports| ports.tones.plan(mono_ms, &tones));
    }

    /// The tones of the next minutes, each with its milliseconds from `now`.
    fn tones_from(self, now: Timestamp) -> Vec<(f64, Tone)> {
        let ahead = self.run.with_untracked(|open| {
            open.as_ref().map(|open| cues(&open.run, now, now.plus_ms(AHEAD_MS)))
        });
        let in_ms = |cue: &cue::Cue| {
            #[expect(clippy::cast_precision_loss, reason = "a few minutes of milliseconds")]
            let ms = cue.at.since_ms(now) as f64;
            if let Signal::Tone(tone) = cue.signal { Some((ms, tone)) } else { None }
        };
        ahead.unwrap_or_default().iter().filter_map(in_ms).collect()
    }

    /// Sounds one tone now, for a sound check or an alarm of the moment.
    pub fn sound_now(self, tones: &[(f64, Tone)]) {
        self.ports.with_value(|ports| {
            ports.tones.unlock();
            ports.tones.plan(ports.clock.both().mono_ms, tones);
        });
        self.look_at_ports();
    }

    /// Sounds the alarm now, and then what was planned.
    pub fn alarm(self) {
        self.feel(Tone::Alarm);
        let (now, mono_ms) = self.read_both();
        let mut tones = vec![(0.0, Tone::Alarm)];
        tones.extend(self.tones_from(now));
        self.ports.with_value(|ports| ports.tones.plan(mono_ms, &tones));
    }

    /// A touch: the only moment in which a browser lets sound begin.
    pub fn touched(self) {
        if !self.is_live() || self.held.get_untracked() == Held::Elsewhere {
            return;
        }
        self.ports.with_value(|ports| {
            if ports.tones.sound() != Sound::On {
                ports.tones.unlock();
            }
            ports.screen.keep_lit();
        });
        if self.sound.get_untracked() != Sound::On {
            self.sound_changed();
        }
        let primed = self.live.try_update_value(|live| std::mem::replace(&mut live.primed, true));
        let wordless = self.run.with_untracked(|open| {
            open.as_ref().is_some_and(|open| open.run.state.words == Words::Tones)
        });
        if primed == Some(false) && !wordless {
            self.catch_up(true);
        }
        self.look_at_ports();
    }

    /// Sound has come or gone.
    pub fn sound_changed(self) {
        self.look_at_ports();
        // Whatever was planned while the audio clock stood is late now.
        if self.sound.get_untracked() == Sound::On && self.is_live() {
            self.plan_tones();
        }
    }

    /// Words off or on again.
    pub fn toggle_words(self) {
        let words = self.run.with_untracked(|open| {
            open.as_ref().map(|open| (open.run.state.words, open.run.plan.words))
        });
        let next = match words {
            Some((Words::Tones, Words::Tones)) => Words::All,
            Some((Words::Tones, planned)) => planned,
            Some((Words::All | Words::Few, _)) => Words::Tones,
            None => return,
        };
        if next == Words::Tones {
            self.ports.with_value(|ports| ports.voice.hush());
        }
        let _ = self.dispatch(Command::SetWords(next));
    }

    /// The last sentence again.
    pub fn repeat(self) {
        let last = self.said.get_untracked().trim_end_matches('\u{200b}').to_owned();
        if self.held.get_untracked() == Held::Here {
            self.ports.with_value(|ports| ports.voice.say(&last));
        }
    }
}
