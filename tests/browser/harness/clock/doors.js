// The other doors of the browser: wake lock, vibration, durable storage. Calls are written down.
(clock, scene) => {
  const give = (door, value) => {
    const there = value !== undefined;
    if (!there) delete Navigator.prototype[door];
    else Object.defineProperty(navigator, door, { configurable: true, value });
  };

  // Locks between windows stay the browser's own; time waits until one is given.
  if (navigator.locks) {
    const request = LockManager.prototype.request;
    LockManager.prototype.request = function ask(...given) {
      clock.pending += 1;
      let open = true;
      const over = () => {
        clock.pending = Math.max(0, clock.pending - (open ? 1 : 0));
        open = false;
      };
      const callback = given.pop();
      const asked = request.call(this, ...given, (lock) => {
        over();
        return callback(lock);
      });
      asked.catch(over);
      return asked;
    };
  }

  // Wake lock.
  const held = new Set();
  class Sentinel extends EventTarget {
    constructor() {
      super();
      Object.assign(this, { released: false, type: 'screen', onrelease: null });
      held.add(this);
    }

    async release() {
      if (this.released) return;
      this.released = true;
      held.delete(this);
      clock.record('wake-lock', { what: 'released' });
      const event = new Event('release');
      this.onrelease?.(event);
      this.dispatchEvent(event);
    }
  }
  Object.defineProperty(WakeLockSentinel, Symbol.hasInstance, { value: (one) => one.type === 'screen' });
  const request = async () => {
    const granted = scene.wakeLock === 'normal' && !clock.hidden;
    clock.record('wake-lock', { what: granted ? 'granted' : 'refused' });
    if (!granted) throw new DOMException('not now', 'NotAllowedError');
    return new Sentinel();
  };
  give('wakeLock', scene.wakeLock === 'absent' ? undefined : { request });
  document.addEventListener('visibilitychange', () => {
    if (clock.hidden) for (const sentinel of [...held]) sentinel.release();
  });
  // The phone takes the lock away by itself, as low power does.
  clock.dropWakeLock = () => [...held].forEach((sentinel) => sentinel.release());
  clock.awake = () => held.size > 0;

  // Vibration.
  const vibrate = (pattern) => {
    clock.record('vibration', { pattern: [pattern].flat() });
    return true;
  };
  give('vibrate', scene.vibration === 'absent' ? undefined : vibrate);

  // Durable storage.
  if (scene.persist === 'absent') {
    give('storage', undefined);
    return;
  }
  const answer = () => {
    if (scene.persist === 'never-settles') return new Promise(() => {});
    return Promise.resolve(scene.persist === 'granted');
  };
  const manager = navigator.storage;
  if (!manager) return;
  manager.persist = () => {
    clock.record('persist', {});
    return answer();
  };
  manager.persisted = answer;
}
