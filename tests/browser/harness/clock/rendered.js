// With the real clock: tones are found in the samples that are rendered, just before they would
// leave for the loudspeaker, and the page can be kept busy.
//
// Method: a worklet between everything and the destination looks at each sample on the rendering
// thread, so a blocked page does not disturb it. An onset is the first sample above the threshold
// after 80 ms below it. Its instant is given in two ways, both in milliseconds of
// `performance.now()`:
// - `output_ms`: the sample's place on the context's clock, turned by `getOutputTimestamp()`, which
//   is read when the message arrives. Steady to a millisecond, but it believes the browser.
// - `rendered_ms`: the wall clock of the rendering thread when it made the block. Believes nobody,
//   but samples are made a buffer (10 to 20 ms) at a time and so up to one buffer early.
(clock, scene) => {
  if (clock.fake) return;
  if (scene.blocked) {
    setInterval(() => {
      const until = performance.now() + 300;
      while (performance.now() < until);
    }, 5_000);
  }
  const Real = window.AudioContext;
  if (!Real) return;

  const processor = `registerProcessor('onsets', class extends AudioWorkletProcessor {
    constructor() { super(); this.quiet = Infinity; }
    process([channels], [out]) {
      const made = Date.now();
      const frames = out[0].length;
      for (let frame = 0; frame < frames; frame += 1) {
        const loud = channels.some((channel) => Math.abs(channel[frame]) > 0.005);
        if (loud && this.quiet >= 0.08 * sampleRate) {
          this.port.postMessage({ time: (currentFrame + frame) / sampleRate, made });
        }
        this.quiet = loud ? 0 : this.quiet + 1;
      }
      return true;
    }
  });`;
  const module = URL.createObjectURL(new Blob([processor], { type: 'text/javascript' }));

  window.AudioContext = class extends Real {
    constructor(...given) {
      super(...given);
      const into = this.createGain();
      into.maxChannelCount = super.destination.maxChannelCount;
      into.connect(super.destination);
      Object.defineProperty(this, 'destination', { value: into });
      this.addEventListener('statechange', () => clock.record('context', { state: this.state }));
      this.audioWorklet.addModule(module).then(() => this.listen(into, super.destination));
    }

    listen(into, out) {
      const ear = new AudioWorkletNode(this, 'onsets');
      into.connect(ear);
      // It adds silence: what is not connected might not be asked to look.
      ear.connect(out);
      ear.port.onmessage = ({ data: { time, made } }) => {
        const { contextTime, performanceTime } = this.getOutputTimestamp();
        const output = performanceTime > 0 ? performanceTime + (time - contextTime) * 1000 : null;
        clock.record('onset', { output_ms: output, rendered_ms: made - performance.timeOrigin });
      };
      clock.record('ear', { state: this.state });
    }
  };
}
