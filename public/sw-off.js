// Takes a broken worker off every phone that opens the page with a network: a host serves this
// file as `sw.js`. It removes what workers kept and itself. The notebook is in IndexedDB, which
// no worker touches, so every run stays.
"use strict";

const OURS = `sinkside ${new URL(self.registration.scope).pathname} `;

// The worker it replaces is broken, so waiting for its pages to close would help nobody.
self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => event.waitUntil(remove()));

// Whoever asks whether everything is kept, or for a version, learns that nothing is.
self.addEventListener("message", (event) => event.ports[0]?.postMessage(false));

// No page is loaded again: one in the middle of a run has all it needs, and the next start comes
// from the network.
async function remove() {
  for (const name of await caches.keys()) {
    if (name.startsWith(OURS)) await caches.delete(name);
  }
  await self.registration.unregister();
}
