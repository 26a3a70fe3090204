// Time for the page under test: it stands still until the test moves it.
//
// Runs before any script of every document. `wall` is the clock on the wall, `mono` the one that
// only this document has; both in milliseconds. Real events (storage, locks, messages) stay real:
// between two timers the clock waits until they have settled.
(scene) => {
  const real = {
    now: performance.now.bind(performance),
    Date,
    setTimeout: window.setTimeout.bind(window),
    setInterval: window.setInterval.bind(window),
    clearTimeout: window.clearTimeout.bind(window),
    requestAnimationFrame: window.requestAnimationFrame.bind(window),
  };
  const fake = scene.clock === 'test';
  const kept = JSON.parse(sessionStorage.getItem('harness clock') ?? 'null');
  const clock = {
    real,
    fake,
    pending: 0, // Real work the page waits for, such as a lock.
    storing: 0, // Transactions, which end for certain: only a busy disk makes them late.
    hidden: false,
    entries: kept?.entries ?? [],
    moves: [], // Called with (from, to) before time moves.
    settled: [], // Called after each timer has settled.
  };
  let mono = 0;
  let wall = kept?.wall ?? scene.wallMs;
  let since = kept?.since ?? scene.sinceMs; // True time since the test began, over reloads and sleep.
  const load = (kept?.load ?? 0) + 1;
  const wallAtLoad = wall;

  clock.mono = () => (fake ? mono : real.now());
  clock.wall = () => (fake ? wall : real.Date.now());
  clock.since = () => (fake ? since : real.now());
  clock.record = (kind, fields) => {
    const stamp = { at: clock.mono(), wall: clock.wall(), since: clock.since(), load };
    const entry = { kind, ...stamp, ...fields };
    clock.entries.push(entry);
    return entry;
  };
  // What was recorded, in plain data: a note is written out as far as it is known by now.
  clock.heard = () =>
    clock.entries.map(({ node, ...entry }) => (node ? { ...entry, ...(node.final ?? node.note()) } : entry));
  // What was recorded outlives a reload, also one that the page asks for itself.
  window.addEventListener('pagehide', () => {
    const state = { wall, since, load, entries: clock.heard() };
    sessionStorage.setItem('harness clock', JSON.stringify(state));
  });

  // Timers.
  let lastId = 1000;
  let nesting = 0;
  let hiddenSince = 0;
  const timers = new Map();
  const put = (timer) => {
    lastId += 1;
    timers.set(lastId, { id: lastId, ...timer });
    return lastId;
  };
  // A browser runs the timers of a hidden page once a second, and after five minutes, if they
  // hang on one another, once a minute; frames stop.
  const due = (timer) => {
    if (!clock.hidden || timer.own) return timer.due;
    if (timer.frame) return Infinity;
    const at = Math.max(timer.due, hiddenSince);
    const long = at - hiddenSince >= 300_000 && timer.nesting >= 5;
    const grid = long ? 60_000 : 1_000;
    return Math.ceil(at / grid) * grid;
  };
  const next = () => {
    let first = null;
    for (const timer of timers.values()) {
      if (first === null || due(timer) < due(first)) first = timer;
    }
    return first;
  };
  // To the microsecond: sums of tenths would otherwise fall a hair short of a whole millisecond, and
  // what is due then would be late by one.
  const exact = (ms) => Math.round(ms * 1_000) / 1_000;
  const moveTo = (to) => {
    if (to <= mono) return;
    for (const move of clock.moves) move(mono, to);
    wall = exact(wall + to - mono);
    since = exact(since + to - mono);
    mono = to;
  };
  const fire = (timer) => {
    moveTo(due(timer));
    if (timer.every === undefined) timers.delete(timer.id);
    else timer.due = Math.max(timer.due + timer.every, mono + (timer.every ? 1 : 4));
    nesting = timer.nesting;
    try {
      timer.run(timer.frame ? mono : undefined);
    } catch (error) {
      reportError(error);
    }
    nesting = 0;
  };
  // A timer of the harness itself, which hiding does not throttle.
  clock.after = (ms, run) => {
    if (!fake) return real.setTimeout(run, ms);
    return put({ due: mono + ms, run, nesting: 0, own: true });
  };

  // Real macrotasks, until the page has nothing under way.
  const channel = new MessageChannel();
  const waiting = [];
  channel.port1.onmessage = () => waiting.shift()();
  const ping = () =>
    new Promise((resolve) => {
      waiting.push(resolve);
      channel.port2.postMessage(0);
    });
  let wake = new Set();
  // Called whenever something under way has ended.
  clock.ended = () => {
    const all = wake;
    wake = new Set();
    for (const one of all) one();
  };
  const ended = (most) =>
    new Promise((resolve) => {
      const timer = real.setTimeout(clock.ended, most);
      wake.add(() => {
        real.clearTimeout(timer);
        resolve();
      });
    });
  clock.settle = async () => {
    const began = real.now();
    for (let quiet = 0; quiet < 3; ) {
      await ping();
      const busy = clock.pending + clock.storing > 0;
      quiet = busy ? 0 : quiet + 1;
      // To ask again and again would take the time that the storage needs itself.
      if (busy) await ended(clock.storing > 0 ? 20_000 : 1_000);
      // Never answered: it does not hold up time.
      if (real.now() >= began + 1_000) clock.pending = 0;
      if (real.now() >= began + 20_000) clock.storing = 0;
    }
    for (const look of clock.settled) look();
  };

  // Moves time to `to`, timer by timer. Stops early where `stop` holds, or after 5 real seconds:
  // the caller then asks again.
  clock.advanceTo = async (till, stop) => {
    const to = fake ? exact(till) : till;
    const until = real.now() + 5_000;
    await clock.settle();
    // The real clock cannot be moved, only waited for.
    while (!fake && real.now() < Math.min(to, until) && !stop?.()) {
      await new Promise((resolve) => real.setTimeout(resolve, Math.min(20, to - real.now())));
      await clock.settle();
    }
    if (!fake) return { ...clock.now(), to, stopped: Boolean(stop?.()), done: real.now() >= to };
    for (;;) {
      if (stop?.()) return { ...clock.now(), stopped: true, done: true };
      if (real.now() > until) return { ...clock.now(), to, stopped: false, done: false };
      const timer = next();
      if (timer === null || due(timer) > to) break;
      fire(timer);
      await clock.settle();
    }
    moveTo(to);
    await clock.settle();
    return { ...clock.now(), stopped: Boolean(stop?.()), done: true };
  };
  clock.advance = (ms, stop) => clock.advanceTo(clock.mono() + ms, stop);
  // Somebody, or the network, sets the clock on the wall.
  clock.setWall = (ms) => {
    wall = ms;
  };
  // The phone sleeps: no timer runs, and only the wall knows how long it was.
  clock.sleep = (ms) => {
    wall += ms;
    since += ms;
  };
  clock.now = () => ({ mono: clock.mono(), wall: clock.wall(), since: clock.since(), load });

  // Hiding works with either clock.
  Object.defineProperties(Document.prototype, {
    hidden: { configurable: true, get: () => clock.hidden },
    visibilityState: { configurable: true, get: () => (clock.hidden ? 'hidden' : 'visible') },
  });
  clock.setHidden = (hidden) => {
    if (hidden === clock.hidden) return;
    clock.hidden = hidden;
    hiddenSince = mono;
    clock.record('visibility', { hidden });
    document.dispatchEvent(new Event('visibilitychange', { bubbles: true }));
  };

  if (!fake) return clock;

  // So long only WebKitGTK's driver waits: for its own scripts, by the page's timers.
  const forever = 2_000_000_000;
  const set = (every) => (callback, ms = 0, ...rest) => {
    if (ms >= forever) return 0;
    const level = nesting + 1;
    const least = level > 5 ? 4 : 0;
    const wait = Math.max(least, Number(ms) || 0);
    const run = () => callback(...rest);
    return put({ due: mono + wait, every: every ? wait : undefined, run, nesting: level });
  };
  const clear = (id) => void timers.delete(id);
  Object.assign(window, {
    setTimeout: set(false),
    setInterval: set(true),
    clearTimeout: clear,
    clearInterval: clear,
    requestAnimationFrame: (run) =>
      put({ due: (Math.floor(mono / 16) + 1) * 16, run, frame: true, nesting: 0 }),
    cancelAnimationFrame: clear,
    requestIdleCallback: (run) =>
      put({ due: mono + 1, nesting: 0, run: () => run({ didTimeout: false, timeRemaining: () => 9 }) }),
    cancelIdleCallback: clear,
  });
  // A phone so busy that so many milliseconds go by whenever the page has looked at the clock.
  clock.slow = 0;
  performance.now = () => {
    const now = mono;
    if (clock.slow > 0) moveTo(mono + clock.slow);
    return now;
  };
  Object.defineProperty(performance, 'timeOrigin', { configurable: true, value: wallAtLoad });
  window.Date = new Proxy(Date, {
    construct: (target, given, as) =>
      Reflect.construct(target, given.length > 0 ? given : [wall], as === window.Date ? target : as),
    apply: (target) => new target(wall).toString(),
    get: (target, key) => (key === 'now' ? () => Math.floor(wall) : Reflect.get(target, key)),
  });
  real.Date.prototype.constructor = window.Date;
  // A touch happens at the page's time, not at the machine's.
  const stamps = new WeakMap();
  Object.defineProperty(Event.prototype, 'timeStamp', {
    configurable: true,
    get() {
      if (!stamps.has(this)) stamps.set(this, mono);
      return stamps.get(this);
    },
  });
  return clock;
}
