// The automation of one audio parameter, as the Web Audio standard defines it: what is scheduled,
// and what value that gives at any time of the context.
() =>
  class Param {
    constructor(context, value) {
      Object.assign(this, { context, defaultValue: value, events: [], base: value });
      Object.assign(this, { minValue: -3.4e38, maxValue: 3.4e38, automationRate: 'a-rate' });
    }

    get value() {
      return this.at(this.context.currentTime);
    }

    set value(value) {
      this.setValueAtTime(value, this.context.currentTime);
    }

    add(event) {
      if (!Number.isFinite(event.time)) throw new TypeError('not a time');
      this.events.push(event);
      this.events.sort((one, other) => one.time - other.time);
      return this;
    }

    setValueAtTime(value, time) {
      return this.add({ kind: 'set', value, time });
    }

    linearRampToValueAtTime(value, time) {
      return this.add({ kind: 'line', value, time });
    }

    exponentialRampToValueAtTime(value, time) {
      if (value === 0) throw new RangeError('an exponential ramp cannot reach zero');
      return this.add({ kind: 'power', value, time });
    }

    setTargetAtTime(value, time, constant) {
      return this.add({ kind: 'target', value, time, constant });
    }

    setValueCurveAtTime(values, time, duration) {
      return this.add({ kind: 'curve', values: Array.from(values), time, duration });
    }

    cancelScheduledValues(time) {
      this.events = this.events.filter((event) => event.time < time);
      return this;
    }

    cancelAndHoldAtTime(time) {
      const held = this.at(time);
      return this.cancelScheduledValues(time).setValueAtTime(held, time);
    }

    // The value at `time`: each event in turn takes over from the one before.
    at(time) {
      let value = this.base;
      let since = 0;
      let target = null;
      const reached = (at) =>
        target === null
          ? value
          : target.value + (value - target.value) * Math.exp((since - at) / (target.constant || 1e-9));
      for (const event of this.events) {
        const ramp = event.kind === 'line' || event.kind === 'power';
        if (event.time > time && !ramp) break;
        if (event.time > time) {
          const part = (time - since) / (event.time - since);
          const from = reached(since);
          if (event.kind === 'line') return from + (event.value - from) * part;
          return from > 0 ? from * (event.value / from) ** part : from;
        }
        if (event.kind === 'target') {
          value = reached(event.time);
          target = event;
        } else if (event.kind === 'curve') {
          const part = Math.min(1, (time - event.time) / event.duration);
          const place = part * (event.values.length - 1);
          const low = Math.floor(place);
          const high = Math.min(low + 1, event.values.length - 1);
          value = event.values[low] + (event.values[high] - event.values[low]) * (place - low);
          target = null;
        } else {
          value = event.value;
          target = null;
        }
        since = event.time;
      }
      return reached(time);
    }
  }
