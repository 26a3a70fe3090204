// IndexedDB: the browser's own, listened to so that the clock can wait for it, and made to fail on
// demand. `clock.database` may be changed while the page runs.
(clock, scene) => {
  clock.database = sessionStorage.getItem('harness database') ?? scene.database;
  // Every connection that the page has, so that a test can take them away: gives how many.
  const connections = [];
  clock.loseConnections = () => connections.splice(0).map((one) => one.close()).length;
  const count = (target, ends) => {
    clock.storing += 1;
    let open = true;
    const over = () => {
      clock.storing = Math.max(0, clock.storing - (open ? 1 : 0));
      open = false;
      clock.ended();
    };
    for (const end of ends) target.addEventListener(end, over);
  };

  // A request that the browser's own database knows nothing of.
  class Request extends EventTarget {
    constructor() {
      super();
      Object.assign(this, { readyState: 'pending', source: null, transaction: null, error: null });
      for (const kind of ['success', 'error', 'blocked', 'upgradeneeded']) this[`on${kind}`] = null;
    }

    get result() {
      throw new DOMException('not finished', 'InvalidStateError');
    }

    fail(error) {
      Object.assign(this, { readyState: 'done', error });
      const event = new Event('error', { bubbles: true, cancelable: true });
      this.onerror?.(event);
      this.dispatchEvent(event);
    }
  }

  const open = IDBFactory.prototype.open;
  IDBFactory.prototype.open = function refuseOrOpen(...given) {
    const mode = clock.database;
    if (mode === 'throws') throw new DOMException('no storage here', 'SecurityError');
    if (mode === 'refused' || mode === 'never-calls-back') {
      const request = new Request();
      const error = new DOMException('no storage here', 'InvalidStateError');
      if (mode === 'refused') clock.real.setTimeout(() => request.fail(error), 0);
      return request;
    }
    const request = open.apply(this, given);
    count(request, ['success', 'error', 'blocked']);
    request.addEventListener('success', () => connections.push(request.result));
    return request;
  };

  const transaction = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function begin(...given) {
    const begun = transaction.apply(this, given);
    count(begun, ['complete', 'abort']);
    return begun;
  };

  // Want of room shows as it does in browsers: the writes succeed, and then, instead of being
  // committed, the transaction aborts with a quota error.
  const doomed = new WeakSet();
  const giveUp = (writing) => {
    try {
      writing.abort();
    } catch {
      // It is over already.
    }
  };
  const doom = (store) => {
    const writing = store.transaction;
    if (doomed.has(writing)) return;
    doomed.add(writing);
    const value = new DOMException('no room', 'QuotaExceededError');
    Object.defineProperty(writing, 'error', { configurable: true, value });
    // Answered after the writes: were nobody to commit, the transaction would do so by itself.
    const marker = store.count();
    marker.addEventListener('success', () => giveUp(writing));
    marker.addEventListener('error', (event) => {
      event.preventDefault();
      event.stopPropagation();
    });
  };
  const commit = IDBTransaction.prototype.commit;
  IDBTransaction.prototype.commit = function commitOrAbort() {
    if (doomed.has(this)) giveUp(this);
    else commit.call(this);
  };
  const { put } = IDBObjectStore.prototype;
  for (const name of ['put', 'add']) {
    const write = IDBObjectStore.prototype[name];
    IDBObjectStore.prototype[name] = function writeAndNote(...given) {
      // Never answered; the transaction around it ends with nothing in it.
      if (clock.database === 'stalls') return new Request();
      const request = write.apply(this, given);
      clock.record('write', { store: this.name, durability: this.transaction.durability });
      if (clock.database === 'full') doom(this);
      return request;
    };
  }

  const wait = (request) =>
    new Promise((resolve, reject) => {
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
  // Everything that is stored, as {database: {store: [[key, value], …]}}. For tests only.
  clock.stored = async () => {
    const all = {};
    for (const { name } of await indexedDB.databases()) {
      const database = await wait(open.call(indexedDB, name));
      all[name] = {};
      for (const store of database.objectStoreNames) {
        const rows = transaction.call(database, store).objectStore(store);
        const keys = await wait(rows.getAllKeys());
        const values = await wait(rows.getAll());
        all[name][store] = keys.map((key, index) => [key, values[index]]);
      }
      database.close();
    }
    return all;
  };
  // Puts a record where the page will find it, past everything above.
  clock.store = async (name, store, value, key) => {
    const database = await wait(open.call(indexedDB, name));
    const writing = transaction.call(database, store, 'readwrite');
    const done = new Promise((resolve) => writing.addEventListener('complete', resolve));
    const rows = writing.objectStore(store);
    await wait(key === undefined ? put.call(rows, value) : put.call(rows, value, key));
    await done;
    database.close();
  };
}
