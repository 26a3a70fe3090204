//! Tones by Web Audio: planned ahead on the audio clock, so that no busy page delays them.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use session::cue::Tone;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{AudioContext, AudioContextState, OscillatorNode, PeriodicWave};

use super::clock::mono_ms;
use super::{property, window};
use crate::ports::{Sound, Tones};

/// One note: seconds after the tone's instant, frequency in hertz, length in seconds.
type Note = (f64, f32, f64);

/// The notes of each tone. Fundamentals lie between 500 and 1000 Hz; contour and rhythm differ
/// within the first half second, so that four tones can be told apart.
fn notes(tone: Tone) -> &'static [Note] {
    match tone {
        Tone::GetReady => &[(0.0, 587.0, 0.22), (0.26, 784.0, 0.30)],
        Tone::Go => &[(0.0, 880.0, 0.60)],
        Tone::GoTwice => &[(0.0, 880.0, 0.45), (0.60, 880.0, 0.45)],
        Tone::Rest => &[(0.0, 784.0, 0.22), (0.26, 523.0, 0.34)],
        Tone::Alarm => {
            &[(0.0, 988.0, 0.14), (0.18, 740.0, 0.14), (0.36, 988.0, 0.14), (0.54, 740.0, 0.20)]
        }
        Tone::Tick => &[(0.0, 988.0, 0.03)],
    }
}

/// How loud each harmonic is. Strong up to 4 kHz, where a running tap hides least.
const HARMONICS: [f32; 6] = [0.0, 1.0, 0.8, 0.7, 0.5, 0.35];
/// How loud a note is, and a tick.
const LOUD: f32 = 0.5;
const TICK_LOUD: f32 = 0.25;
/// A note swells and fades this long, so that it does not crack.
const EDGE_S: f64 = 0.004;
/// A sample comes out of the loudspeaker at most this long after its instant on the audio clock, or
/// the browser's word for it is not believed. Wireless loudspeakers take up to a third of a second
/// (from memory, no source).
const MOST_LATENCY_MS: f64 = 500.0;
/// A smaller movement between the two clocks is left alone.
const SLIP_MS: f64 = 50.0;

/// Tones by Web Audio.
#[derive(Debug)]
pub struct AudioTones {
    context: RefCell<Option<AudioContext>>,
    missing: Cell<bool>,
    /// Notes, each with the instant of its tone.
    planned: RefCell<Vec<(f64, OscillatorNode)>>,
    /// Audible instant less page clock at the last plan, in milliseconds.
    offset_ms: Cell<f64>,
    /// Whether the browser had said, at the last plan, what leaves the loudspeaker. It cannot before
    /// the first sample, and without its word every tone is late by what lies in buffers.
    was_told: Cell<bool>,
    on_change: Rc<OnChange>,
}

#[derive(Default)]
struct OnChange(RefCell<Option<Box<dyn Fn()>>>);

impl std::fmt::Debug for OnChange {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("OnChange")
    }
}

impl AudioTones {
    /// Silent until unlocked.
    pub fn new() -> Self {
        Self {
            context: RefCell::new(None),
            missing: Cell::new(false),
            planned: RefCell::new(Vec::new()),
            offset_ms: Cell::new(0.0),
            was_told: Cell::new(false),
            on_change: Rc::new(OnChange::default()),
        }
    }

    fn make(&self) -> Option<AudioContext> {
        claim_audio_session();
        let Ok(context) = AudioContext::new() else {
            self.missing.set(true);
            return None;
        };
        let on_change = Rc::clone(&self.on_change);
        let changed = Closure::<dyn Fn()>::new(move || {
            if let Some(callback) = on_change.0.borrow().as_ref() {
                callback();
            }
        });
        context.set_onstatechange(Some(changed.as_ref().unchecked_ref()));
        // The context lives as long as the page, and so does its listener.
        changed.forget();
        *self.context.borrow_mut() = Some(context.clone());
        Some(context)
    }

    fn clear(&self) {
        let now = self.context.borrow().as_ref().map_or(0.0, |context| context.current_time());
        for (starts, node) in self.planned.borrow_mut().drain(..) {
            // A tone that has begun is left to ring out, all its notes.
            if starts > now {
                let _ = node.disconnect();
                let stop = property(&node, "stop").and_then(|stop| stop.dyn_into().ok());
                let _ = stop.map(|stop: js_sys::Function| stop.call0(&node));
            }
        }
    }
}

impl Tones for AudioTones {
    fn unlock(&self) {
        let existing = self.context.borrow().clone();
        let context = match existing {
            Some(context) => context,
            None => match self.make() {
                Some(context) => context,
                None => return,
            },
        };
        // Nobody waits: the answer may never come. The state change is listened to.
        let _ = context.resume();
    }

    fn sound(&self) -> Sound {
        if self.missing.get() {
            return Sound::Missing;
        }
        let context = self.context.borrow();
        let Some(context) = context.as_ref() else { return Sound::Asleep };
        // A browser may say "interrupted", which the bindings take for none of those they know.
        if context.state() == AudioContextState::Running { Sound::On } else { Sound::Held }
    }

    fn plan(&self, from_mono_ms: f64, tones: &[(f64, Tone)]) {
        self.clear();
        let Some(context) = self.context.borrow().clone() else { return };
        let (offset, is_told) = offset_ms(&context);
        self.offset_ms.set(offset);
        self.was_told.set(is_told);
        let Ok(wave) = wave(&context) else { return };
        let mut planned = self.planned.borrow_mut();
        // The instants are of a clock that both share: what a busy phone takes between the look at the
        // run's clock and this one makes no tone late.
        let now = (mono_ms() + offset) / 1_000.0;
        for (in_ms, tone) in tones {
            let tone_at = ((from_mono_ms + in_ms + offset) / 1_000.0).max(now);
            for note in notes(*tone) {
                if let Ok(node) = sound(&context, &wave, tone_at + note.0, *note, *tone) {
                    planned.push((tone_at, node));
                }
            }
        }
    }

    fn has_slipped(&self) -> bool {
        let context = self.context.borrow();
        let Some(context) = context.as_ref() else { return false };
        let (offset, is_told) = offset_ms(context);
        let slip = (offset - self.offset_ms.get()).abs();
        self.sound() == Sound::On && (slip > SLIP_MS || is_told && !self.was_told.get())
    }

    fn on_change(&self, callback: Box<dyn Fn()>) {
        *self.on_change.0.borrow_mut() = Some(callback);
    }
}

/// What the audio clock is ahead of the page's for what is heard now, in milliseconds, and whether that
/// is the browser's own word.
fn offset_ms(context: &AudioContext) -> (f64, bool) {
    let told = told_offset_ms(context);
    (told.unwrap_or_else(|| made_offset_ms(context)), told.is_some())
}

/// What the audio clock is ahead of the page's, in milliseconds. It counts samples as they are made,
/// and so runs ahead of what is heard by what lies in buffers.
fn made_offset_ms(context: &AudioContext) -> f64 {
    context.current_time() * 1_000.0 - mono_ms()
}

/// The same for what leaves the loudspeaker, by `getOutputTimestamp()`: both clocks at one instant. Not
/// every browser has it, it tells nothing before the first sample, and it is not always to be believed.
fn told_offset_ms(context: &AudioContext) -> Option<f64> {
    let ask: js_sys::Function = property(context, "getOutputTimestamp")?.dyn_into().ok()?;
    let stamp = ask.call0(context).ok()?;
    let seconds_at = property(&stamp, "contextTime")?.as_f64()?;
    let page_ms = property(&stamp, "performanceTime")?.as_f64().filter(|page_ms| *page_ms > 0.0)?;
    let told = seconds_at * 1_000.0 - page_ms;
    let in_buffers_ms = made_offset_ms(context) - told;
    (0.0..=MOST_LATENCY_MS).contains(&in_buffers_ms).then_some(told)
}

/// Lets tones sound even when the phone's switch says silent, where a browser can.
fn claim_audio_session() {
    if let Some(session) = property(&window().navigator(), "audioSession") {
        let _ = js_sys::Reflect::set(&session, &"type".into(), &"playback".into());
    }
}

fn wave(context: &AudioContext) -> Result<PeriodicWave, JsValue> {
    let real = [0.0; HARMONICS.len()];
    let mut imaginary = HARMONICS;
    context.create_periodic_wave(&mut real.clone(), &mut imaginary)
}

fn sound(
    context: &AudioContext,
    wave: &PeriodicWave,
    at: f64,
    (_, hertz, length): Note,
    tone: Tone,
) -> Result<OscillatorNode, JsValue> {
    let oscillator = context.create_oscillator()?;
    oscillator.set_periodic_wave(wave);
    oscillator.frequency().set_value(hertz);
    let gain = context.create_gain()?;
    let loud = if tone == Tone::Tick { TICK_LOUD } else { LOUD };
    let level = gain.gain();
    level.set_value(0.0);
    level.set_value_at_time(0.0, at)?;
    level.linear_ramp_to_value_at_time(loud, at + EDGE_S)?;
    level.set_value_at_time(loud, at + length - EDGE_S)?;
    level.linear_ramp_to_value_at_time(0.0, at + length)?;
    oscillator.connect_with_audio_node(&gain)?;
    gain.connect_with_audio_node(&context.destination())?;
    oscillator.start_with_when(at)?;
    // Called through its scheduled-source parent, whose binding is not deprecated.
    let source: &web_sys::AudioScheduledSourceNode = &oscillator;
    source.stop_with_when(at + length + EDGE_S)?;
    Ok(oscillator)
}
