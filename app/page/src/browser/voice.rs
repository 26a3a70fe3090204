//! The voice by speech synthesis: a garnish on the tones, never required.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use gloo_timers::callback::Timeout;
use session::habits::Pace;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{SpeechSynthesis, SpeechSynthesisUtterance, SpeechSynthesisVoice};

use super::{property, window};
use crate::ports::{Speech, Voice};

/// A voice that has not begun after this long counts as not heard.
const WATCHDOG_MS: u32 = 1_500;
/// From silencing one utterance to beginning the next: at once, the new one would be dropped.
const AFTER_CANCEL_MS: u32 = 60;

/// The voice of the phone.
#[derive(Debug)]
pub struct SpeechVoice {
    synthesis: Option<SpeechSynthesis>,
    inner: Rc<Inner>,
}

#[derive(Default)]
struct Inner {
    /// Kept alive until the next: a browser may collect it and then never say that it ended.
    utterance: RefCell<Option<SpeechSynthesisUtterance>>,
    listener: RefCell<Option<Closure<dyn Fn()>>>,
    ended: RefCell<Option<Closure<dyn Fn()>>>,
    timer: RefCell<Option<Timeout>>,
    speaking: Cell<bool>,
    unheard: Cell<bool>,
    pace: Cell<Pace>,
    /// The name of the voice; empty: the first that speaks English.
    name: RefCell<String>,
}

impl std::fmt::Debug for Inner {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Inner")
    }
}

impl SpeechVoice {
    /// The voice, silenced: a browser may still be saying what an earlier page began.
    pub fn new() -> Self {
        let synthesis = property(&window(), "speechSynthesis")
            .and_then(|value| value.dyn_into::<SpeechSynthesis>().ok());
        if let Some(synthesis) = &synthesis {
            synthesis.cancel();
        }
        Self { synthesis, inner: Rc::new(Inner::default()) }
    }
}

impl Voice for SpeechVoice {
    fn say(&self, text: &str) {
        let Some(synthesis) = self.synthesis.clone() else { return };
        if self.inner.speaking.get() {
            synthesis.cancel();
            self.inner.speaking.set(false);
            let inner = Rc::clone(&self.inner);
            let text = text.to_owned();
            let later = Timeout::new(AFTER_CANCEL_MS, move || begin(&inner, &synthesis, &text));
            *self.inner.timer.borrow_mut() = Some(later);
        } else {
            begin(&self.inner, &synthesis, text);
        }
    }

    fn hush(&self) {
        *self.inner.timer.borrow_mut() = None;
        if let Some(synthesis) = &self.synthesis {
            synthesis.cancel();
        }
        self.inner.speaking.set(false);
    }

    fn speech(&self) -> Speech {
        match &self.synthesis {
            None => Speech::Missing,
            Some(_) if self.inner.unheard.get() => Speech::Unheard,
            Some(_) => Speech::Usual,
        }
    }

    fn tune(&self, pace: Pace, voice: &str) {
        self.inner.pace.set(pace);
        voice.clone_into(&mut self.inner.name.borrow_mut());
    }

    fn voices(&self) -> Vec<String> {
        let Some(synthesis) = &self.synthesis else { return Vec::new() };
        let local = english_voices(synthesis).into_iter().filter(|voice| voice.local_service());
        local.map(|voice| voice.name()).collect()
    }
}

fn begin(inner: &Rc<Inner>, synthesis: &SpeechSynthesis, text: &str) {
    let Ok(utterance) = SpeechSynthesisUtterance::new_with_text(text) else { return };
    utterance.set_lang("en-GB");
    utterance.set_rate(match inner.pace.get() {
        Pace::Slow => 0.8,
        Pace::Normal => 1.0,
        Pace::Quick => 1.2,
    });
    if let Some(voice) = english_voice(synthesis, &inner.name.borrow()) {
        utterance.set_lang(&voice.lang().replace('_', "-"));
        utterance.set_voice(Some(&voice));
    }
    let heard = Rc::clone(inner);
    let started = Closure::<dyn Fn()>::new(move || {
        heard.unheard.set(false);
        *heard.timer.borrow_mut() = None;
    });
    let over = Rc::clone(inner);
    let ended = Closure::<dyn Fn()>::new(move || over.speaking.set(false));
    utterance.set_onstart(Some(started.as_ref().unchecked_ref()));
    utterance.set_onend(Some(ended.as_ref().unchecked_ref()));
    utterance.set_onerror(Some(ended.as_ref().unchecked_ref()));
    // What is still to be told of the one before is told to nobody: it would say that this one is over,
    // and its listeners are about to go.
    if let Some(before) = inner.utterance.borrow_mut().take() {
        before.set_onstart(None);
        before.set_onend(None);
        before.set_onerror(None);
    }
    inner.speaking.set(true);
    synthesis.speak(&utterance);
    let silent = Rc::clone(inner);
    let watchdog = Timeout::new(WATCHDOG_MS, move || {
        silent.unheard.set(true);
        silent.speaking.set(false);
    });
    *inner.timer.borrow_mut() = Some(watchdog);
    *inner.utterance.borrow_mut() = Some(utterance);
    *inner.listener.borrow_mut() = Some(started);
    *inner.ended.borrow_mut() = Some(ended);
}

/// The voice of that name; or an English voice of the phone itself; or any English voice.
fn english_voice(synthesis: &SpeechSynthesis, name: &str) -> Option<SpeechSynthesisVoice> {
    let voices = english_voices(synthesis);
    let named = voices.iter().find(|voice| voice.name() == name);
    let own = || voices.iter().find(|voice| voice.local_service());
    named.or_else(own).or_else(|| voices.first()).cloned()
}

fn english_voices(synthesis: &SpeechSynthesis) -> Vec<SpeechSynthesisVoice> {
    let voices = synthesis.get_voices();
    let voices = voices.iter().filter_map(|voice| voice.dyn_into::<SpeechSynthesisVoice>().ok());
    voices.filter(|voice| voice.lang().to_ascii_lowercase().starts_with("en")).collect()
}
