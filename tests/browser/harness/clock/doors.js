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
        clock.ended();
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
  const request = async () => {
    const granted = scene.wakeLock === 'normal' && !clock.hidden;
    clock.record('wake-lock', { what: granted ? 'granted' : 'refused' });
    if (!granted) throw new DOMException('not now', 'NotAllowedError');
    return new Sentinel();
  };
  if (scene.wakeLock !== 'own') {
    const value = (one) => one.type === 'screen';
    Object.defineProperty(WakeLockSentinel, Symbol.hasInstance, { value });
    give('wakeLock', scene.wakeLock === 'absent' ? undefined : { request });
  }
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

  // Files out. What was handed over is written down.
  const abort = new DOMException('closed', 'AbortError');
  const handle = () => {
    let kept = '';
    return {
      createWritable: async () => ({
        write: async (text) => (kept = scene.files === 'picker-that-loses' ? text.slice(1) : text),
        close: async () => clock.record('file', { what: kept }),
      }),
      getFile: async () => new File([kept], 'picked.json'),
    };
  };
  const picker = async () => {
    if (scene.files === 'picker-closed') throw abort;
    return handle();
  };
  if (scene.files.startsWith('picker')) window.showSaveFilePicker = picker;
  else delete window.showSaveFilePicker;
  const share = async ({ files: [file] }) => void clock.record('file', { what: await file.text() });
  give('canShare', scene.files === 'share' ? () => true : undefined);
  give('share', scene.files === 'share' ? share : undefined);

  // Files in: the person picks one, or drops one on the page.
  let asked = null;
  const click = HTMLInputElement.prototype.click;
  HTMLInputElement.prototype.click = function openOrClick() {
    if (this.type === 'file') asked = this;
    else click.call(this);
  };
  const carried = (text) => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'notebook.json', { type: 'application/json' }));
    return data;
  };
  clock.asked = () => asked;
  clock.pick = (text) => {
    asked.files = carried(text).files;
    asked.dispatchEvent(new Event('change'));
  };
  clock.drop = (text) => {
    const event = { bubbles: true, cancelable: true, dataTransfer: carried(text) };
    document.body.dispatchEvent(new DragEvent('dragover', event));
    document.body.dispatchEvent(new DragEvent('drop', event));
  };

  // Durable storage.
  if (scene.persist === 'own') return;
  if (scene.persist === 'absent') {
    give('storage', undefined);
    return;
  }
  const answer = () => {
    if (scene.persist === 'never-settles') return new Promise(() => {});
    return Promise.resolve(scene.persist === 'granted');
  };
  if (!navigator.storage) give('storage', {});
  const manager = navigator.storage;
  manager.persist = () => {
    clock.record('persist', {});
    return answer();
  };
  manager.persisted = answer;
}
