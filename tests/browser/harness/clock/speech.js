// Speech synthesis on the page's time, whichever clock that is: a browser under test has no voices.
(clock, scene) => {
  const name = 'speechSynthesis';
  const mode = scene.speech;
  if (mode === 'own' || mode === 'synthesiser') {
    // The browser speaks by itself, in real time; what becomes of it is written down.
    const own = window.speechSynthesis && Object.getPrototypeOf(window.speechSynthesis);
    const speak = own?.speak;
    if (own) {
      own.speak = function speakAndNote(utterance) {
        const { text, lang, rate, volume } = utterance;
        const entry = clock.record('speech', { text, lang, rate, volume, outcome: 'waiting' });
        utterance.addEventListener('start', () => (entry.outcome = 'begun'));
        utterance.addEventListener('end', () => (entry.outcome = 'spoken'));
        utterance.addEventListener('error', ({ error }) => (entry.outcome = error));
        speak.call(this, utterance);
      };
    }
    return;
  }
  if (mode === 'absent') {
    for (const gone of [name, 'SpeechSynthesisUtterance']) {
      Object.defineProperty(window, gone, { value: undefined, configurable: true });
    }
    return;
  }
  const touched = () => navigator.userActivation?.hasBeenActive ?? true;

  class Utterance extends EventTarget {
    constructor(text = '') {
      super();
      Object.assign(this, { text, lang: '', voice: null, volume: 1, rate: 1, pitch: 1 });
      for (const kind of ['start', 'end', 'error', 'pause', 'resume', 'mark', 'boundary']) {
        this[`on${kind}`] = null;
      }
    }

    tell(kind, fields) {
      const event = Object.assign(new Event(kind), { utterance: this, charIndex: 0, ...fields });
      event.elapsedTime = clock.mono() - (this.startedAt ?? clock.mono());
      this[`on${kind}`]?.(event);
      this.dispatchEvent(event);
    }
  }

  class Synthesis extends EventTarget {
    constructor() {
      super();
      Object.assign(this, { queue: [], current: null, paused: false, onvoiceschanged: null });
      this.first = true;
      this.listed = mode !== 'late-voices';
      if (!this.listed) {
        clock.after(20_000, () => {
          this.listed = true;
          this.onvoiceschanged?.(new Event('voiceschanged'));
          this.dispatchEvent(new Event('voiceschanged'));
        });
      }
    }

    get speaking() {
      return this.current !== null;
    }

    get pending() {
      return this.queue.length > 0;
    }

    getVoices() {
      if (mode === 'voiceless' || !this.listed) return [];
      const voice = { name: 'Plain', lang: 'en-GB', voiceURI: 'plain', localService: true };
      return [{ ...voice, default: true }];
    }

    speak(utterance) {
      const { text, lang, rate, volume } = utterance;
      utterance.entry = clock.record('speech', { text, lang, rate, volume, outcome: 'waiting' });
      this.queue.push(utterance);
      if (this.current === null) this.next();
    }

    cancel() {
      const cut = [this.current, ...this.queue].filter((one) => one !== null);
      this.current = null;
      this.queue = [];
      clock.record('hush', { cut: cut.length });
      for (const one of cut) {
        one.entry.outcome = 'cut off';
        const late = mode === 'late-end' ? 500 : 0;
        clock.after(late, () => one.tell('error', { error: one.startedAt ? 'interrupted' : 'canceled' }));
      }
    }

    pause() {
      this.paused = true;
    }

    resume() {
      this.paused = false;
    }

    next() {
      const utterance = this.queue.shift();
      if (utterance === undefined) return;
      this.current = utterance;
      const refused = mode === 'refuses' || !touched();
      if (refused || mode === 'voiceless') {
        this.end(utterance, 10, 'error', { error: refused ? 'not-allowed' : 'synthesis-failed' });
        return;
      }
      if (mode === 'silent') return;
      const late = mode === 'slow-start' && this.first ? 3_000 : 0;
      this.first = false;
      clock.after(late, () => {
        if (this.current !== utterance) return;
        utterance.startedAt = clock.mono();
        Object.assign(utterance.entry, { outcome: 'begun', begun: clock.mono() });
        utterance.tell('start', {});
        if (mode === 'stuck') return;
        // A hyphen separates words. An empty or silent utterance takes the allowance alone.
        const words = utterance.text.split(/[\s-]+/).filter(Boolean).length;
        this.end(utterance, (words / 2.67 + 0.2) * 1000, 'end', {});
      });
    }

    end(utterance, after, kind, fields) {
      clock.after(after, () => {
        if (this.current !== utterance) return;
        this.current = null;
        utterance.entry.outcome = fields.error ?? 'spoken';
        utterance.entry.ended = clock.mono();
        utterance.tell(kind, fields);
        this.next();
      });
    }
  }

  const value = new Synthesis();
  Object.defineProperty(window, name, { value, configurable: true });
  window.SpeechSynthesisUtterance = Utterance;
  // A page may ask what kind of thing it was given.
  const kinds = {
    SpeechSynthesis: (one) => one === value,
    SpeechSynthesisVoice: (one) => 'voiceURI' in one,
    SpeechSynthesisEvent: (one) => 'utterance' in one,
    SpeechSynthesisErrorEvent: (one) => 'utterance' in one && 'error' in one,
  };
  for (const [kind, holds] of Object.entries(kinds)) {
    // Not every engine shows all of them to pages.
    window[kind] ??= class {};
    Object.defineProperty(window[kind], Symbol.hasInstance, { value: holds });
  }
}
