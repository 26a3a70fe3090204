// Web Audio on the test's time: nothing sounds, everything is written down. A note is written down
// when the clock passes its onset, if it was not stopped or cut off before and can be heard.
(clock, scene, Param) => {
  const sound = { contexts: [] };
  clock.sound = sound;
  const constructors = ['AudioContext', 'webkitAudioContext', 'OfflineAudioContext'];
  if (scene.sound === 'absent') {
    for (const name of constructors) Object.defineProperty(window, name, { value: undefined });
    return;
  }
  if (!clock.fake || scene.sound === 'own') return;
  const touched = () => navigator.userActivation?.hasBeenActive ?? true;

  class Node {
    constructor(context) {
      Object.assign(this, { context, outputs: new Set(), numberOfInputs: 1, numberOfOutputs: 1 });
      Object.assign(this, { channelCount: 2, channelCountMode: 'max' });
    }

    connect(to) {
      this.outputs.add(to);
      return to;
    }

    disconnect(from) {
      if (from instanceof Node || from instanceof Param) this.outputs.delete(from);
      else this.outputs.clear();
    }

    // How loud a signal of 1 leaving this node reaches the destination at `time`.
    level(time) {
      if (this === this.context.destination) return 1;
      const own = this.gain instanceof Param && this.kind === 'gain' ? this.gain.at(time) : 1;
      let most = 0;
      for (const to of this.outputs) if (to instanceof Node) most = Math.max(most, to.level(time));
      return Math.abs(own) * most;
    }
  }

  class Source extends Node {
    constructor(context, kind) {
      super(context);
      Object.assign(this, { kind, numberOfInputs: 0, startAt: null, stopAt: Infinity, onended: null });
      this.events = new EventTarget();
      context.sources.push(this);
    }

    addEventListener(...given) {
      this.events.addEventListener(...given);
    }

    removeEventListener(...given) {
      this.events.removeEventListener(...given);
    }

    start(at = 0) {
      if (this.startAt !== null) throw new DOMException('started twice', 'InvalidStateError');
      this.startAt = Math.max(at, this.context.currentTime);
    }

    stop(at = 0) {
      if (this.startAt === null) throw new DOMException('not started', 'InvalidStateError');
      this.stopAt = Math.max(at, this.context.currentTime);
    }

    ends() {
      const length = this.buffer ? (this.loop ? Infinity : this.buffer.duration) : Infinity;
      return Math.min(this.stopAt, this.startAt + length);
    }

    // What is heard of the note, so far as is scheduled: its loudest level, and for how long it
    // stays above a twentieth of that.
    heard() {
      const until = Math.min(this.ends(), this.startAt + 10);
      let peak = 0;
      const levels = [];
      for (let time = this.startAt; time < until; time += 0.005) {
        const level = this.level(time);
        levels.push(level);
        peak = Math.max(peak, level);
      }
      const last = levels.findLastIndex((level) => level > peak / 20);
      return { level: peak, lasts: Math.min((last + 1) * 0.005, until - this.startAt) };
    }

    note() {
      const at = this.startAt;
      const hz = this.frequency ? this.frequency.at(at) * 2 ** ((this.detune?.at(at) ?? 0) / 1200) : 0;
      const end = this.startAt + this.heard().lasts;
      const partials = this.wave ? this.wave.partials : this.type === 'sine' ? 1 : 99;
      return { hz, hzEnd: this.frequency?.at(end) ?? 0, partials, source: this.kind, ...this.heard() };
    }
  }

  class Context extends EventTarget {
    constructor() {
      super();
      Object.assign(this, { sources: [], frozen: 0, since: 0, state: 'suspended', onstatechange: null });
      Object.assign(this, { sampleRate: 48_000, baseLatency: 0.01, outputLatency: 0.02 });
      this.destination = Object.assign(new Node(this), { maxChannelCount: 2 });
      this.listener = {};
      this.audioWorklet = { addModule: () => new Promise(() => {}) };
      this.wanting = [];
      sound.contexts.push(this);
      clock.record('context', { state: this.state });
      // Browsers let a context run that is made in or after a touch.
      if (touched()) this.resume().catch(() => {});
    }

    get currentTime() {
      return this.timeAt(clock.mono());
    }

    timeAt(mono) {
      return this.frozen + (this.state === 'running' ? (mono - this.since) / 1000 : 0);
    }

    turn(state) {
      if (this.state === state) return;
      this.frozen = this.currentTime;
      this.since = clock.mono();
      this.state = state;
      clock.record('context', { state });
      queueMicrotask(() => {
        const event = new Event('statechange');
        this.onstatechange?.(event);
        this.dispatchEvent(event);
      });
    }

    resume() {
      if (this.state === 'closed') return Promise.reject(new DOMException('closed', 'InvalidStateError'));
      if (scene.sound === 'stays-suspended' || !touched()) {
        return new Promise((resolve) => this.wanting.push(resolve));
      }
      if (this.state === 'interrupted') return new Promise((resolve) => this.wanting.push(resolve));
      this.turn('running');
      for (const resolve of this.wanting.splice(0)) resolve();
      return Promise.resolve();
    }

    async suspend() {
      this.turn('suspended');
    }

    async close() {
      this.turn('closed');
    }

    getOutputTimestamp() {
      return { contextTime: this.currentTime, performanceTime: clock.mono() };
    }

    createOscillator() {
      const source = new Source(this, 'oscillator');
      Object.assign(source, { type: 'sine', frequency: new Param(this, 440), detune: new Param(this, 0) });
      source.setPeriodicWave = (wave) => Object.assign(source, { wave, type: 'custom' });
      return source;
    }

    createPeriodicWave(re, im) {
      const strong = Array.from(re, (part, index) => Math.hypot(part, im[index]));
      return { partials: strong.slice(1).filter((part) => part > 1e-4).length };
    }

    createBufferSource() {
      const source = new Source(this, 'buffer');
      return Object.assign(source, { buffer: null, loop: false, playbackRate: new Param(this, 1) });
    }

    createConstantSource() {
      return Object.assign(new Source(this, 'constant'), { offset: new Param(this, 1) });
    }

    createBuffer(numberOfChannels, length, sampleRate) {
      return new AudioBuffer({ numberOfChannels, length, sampleRate });
    }

    createGain() {
      return Object.assign(new Node(this), { kind: 'gain', gain: new Param(this, 1) });
    }

    decodeAudioData() {
      return Promise.reject(new DOMException('nothing is decoded here', 'EncodingError'));
    }
  }

  // Nodes that shape a sound without muting it.
  const shapes = {
    BiquadFilter: { frequency: 350, detune: 0, Q: 1, gain: 0 },
    DynamicsCompressor: { threshold: -24, knee: 30, ratio: 12, attack: 0.003, release: 0.25 },
    StereoPanner: { pan: 0 },
    Delay: { delayTime: 0 },
    WaveShaper: {},
    Convolver: {},
    Analyser: {},
    ChannelMerger: {},
    ChannelSplitter: {},
  };
  for (const [name, params] of Object.entries(shapes)) {
    Context.prototype[`create${name}`] = function create() {
      const made = Object.entries(params).map(([param, value]) => [param, new Param(this, value)]);
      return Object.assign(new Node(this), Object.fromEntries(made));
    };
  }
  window.AudioContext = Context;
  window.webkitAudioContext = Context;

  clock.moves.push((from, to) => {
    for (const context of sound.contexts.filter((one) => one.state === 'running')) {
      const [low, high] = [context.timeAt(from), context.timeAt(to)];
      const begun = (source) => !source.sounded && source.startAt !== null && source.startAt < high;
      for (const source of context.sources.filter(begun)) {
        source.sounded = true;
        if (source.ends() <= source.startAt) continue;
        const late = (Math.max(source.startAt, low) - low) * 1000;
        const stamp = { at: from + late, wall: clock.wall() + late, since: clock.since() + late };
        clock.record('note', { ...stamp, node: source });
      }
      const over = (source) => source.sounded && !source.ended && source.ends() <= high;
      for (const source of context.sources.filter(over)) {
        source.ended = true;
        source.final = source.note();
        clock.after(0, () => {
          source.onended?.(new Event('ended'));
          source.events.dispatchEvent(new Event('ended'));
        });
      }
      context.sources = context.sources.filter((source) => !source.ended);
    }
  });
  // Something else takes the speaker, and gives it back.
  sound.interrupt = () => sound.contexts.forEach((one) => one.state === 'running' && one.turn('interrupted'));
  sound.endInterruption = (state = 'suspended') =>
    sound.contexts.forEach((one) => one.state === 'interrupted' && one.turn(state));
  // What is scheduled and has not sounded yet, in milliseconds of the page's clock.
  sound.ahead = () =>
    sound.contexts.flatMap((context) =>
      context.sources
        .filter((one) => !one.sounded && one.startAt !== null && one.ends() > one.startAt)
        .map((one) => clock.mono() + (one.startAt - context.currentTime) * 1000),
    );
}
