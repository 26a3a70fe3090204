// Keeps the page on the phone so that it opens at a sink without a network.
//
// The two placeholders are filled when the page is built: a name for exactly this content, and what
// the page starts from as [address, SHA-256]. Addresses are relative to this file, so the page works
// from any folder of any host.
"use strict";

const VERSION = "__VERSION__";
const FILES = "__FILES__";

const SCOPE = new URL(self.registration.scope);
const SHELL = new URL("./", SCOPE).href;
const LISTED = new Map(FILES.map(([address, hash]) => [new URL(address, SCOPE).href, hash]));

// Another copy of the page may live in another folder of the same host, and both see all caches.
const OURS = `sinkside ${SCOPE.pathname} `;
const CACHE = OURS + VERSION;
// Which version last took over: the one that has to be kept when the next one does.
const LAST = `${OURS}last`;

const INCOMPLETE = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Sinkside</title>
<h1>Some files of Sinkside are missing on this phone</h1>
<p>Your runs are kept. Connect to the network once and open this page again.</p>
<p><a href="./">Open again</a></p>
</html>`;

// All files or none: a shell without its module would open as an empty page. It does not take
// over by itself either, because a page in the middle of a run must keep the files it began with.
self.addEventListener("install", (event) => event.waitUntil(install()));

self.addEventListener("activate", (event) => event.waitUntil(activate()));

self.addEventListener("message", (event) => {
  const answer = (value) => (event.ports[0] ?? event.source)?.postMessage(value);
  switch (event.data) {
    case "SKIP_WAITING":
      event.waitUntil(self.skipWaiting());
      break;
    case "VERSION":
      answer(VERSION);
      break;
    // Asked before the page says that it is ready offline: only what is in the cache counts.
    case "READY":
      event.waitUntil(missing().then((urls) => answer(urls.length === 0), () => answer(false)));
      break;
  }
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || !url.href.startsWith(SCOPE.href)) return;
  url.hash = "";
  if (request.mode === "navigate") {
    // A start address may carry a query; it is the same page. Other documents are not ours.
    url.search = "";
    if (url.href === SHELL || url.href === `${SHELL}index.html`) event.respondWith(shell(request));
  } else if (LISTED.has(url.href)) {
    event.respondWith(listed(url.href, request));
  } else {
    event.respondWith(earlier(request));
  }
});

async function install() {
  const known = await caches.has(CACHE);
  try {
    const cache = await caches.open(CACHE);
    await Promise.all([...LISTED.keys()].map((url) => keep(cache, url)));
  } catch (cause) {
    // The browser tries again at its next check. Half a version must not lie around until then,
    // unless it is whole: the version a host went back to.
    if (!known) await caches.delete(CACHE);
    throw cause;
  }
}

async function activate() {
  const last = await caches.open(LAST);
  const previous = await (await last.match(SHELL))?.text();
  const kept = [LAST, CACHE, OURS + previous];
  for (const name of await caches.keys()) {
    if (name.startsWith(OURS) && !kept.includes(name)) await caches.delete(name);
  }
  if (previous !== VERSION) await last.put(SHELL, new Response(VERSION));
  // On the very first visit the open page has just come from the network and is this version.
  // Later a page is taken over only when the person asked for it.
  if (previous === undefined) await self.clients.claim();
}

// Puts one listed file into the cache: from an earlier version if it is the same, since reception
// at a sink may be bad, else from the network past the browser's own cache.
async function keep(cache, url) {
  for (const name of await caches.keys()) {
    const held = name.startsWith(OURS) && (await caches.match(url, { cacheName: name }));
    if (held && (await isSame(url, await held.clone().arrayBuffer()))) return cache.put(url, held);
  }
  const { response, bytes } = await whole(url);
  // Written anew, because a browser refuses a page from a cache that came by a redirect.
  const headers = { "Content-Type": response.headers.get("Content-Type") ?? "" };
  return cache.put(url, new Response(bytes, { headers }));
}

// What the page itself has just fetched is not sent twice where its hash tells that it is right.
async function whole(url) {
  for (const cache of url === SHELL ? ["reload"] : ["default", "reload"]) {
    const response = await fetch(url, { cache });
    const bytes = await response.arrayBuffer();
    const right = url === SHELL ? namesAll(bytes) : await isSame(url, bytes);
    if (response.ok && right) return { response, bytes };
  }
  throw new Error(`not of this version: ${url}`);
}

// A public network's sign-in page answers every address, and a host may be half updated: only the
// content tells. A quarter of the hash is listed: against accidents that is plenty, and whoever can
// change files on purpose can change this list.
async function isSame(url, bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  const letters = Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return letters.startsWith(LISTED.get(url));
}

// The page itself may carry a line of its host's, so it is known by the files it names. Those
// that other scripts ask for are not in it.
function namesAll(bytes) {
  const page = new TextDecoder().decode(bytes);
  return FILES.map(([address]) => address.slice("./".length))
    .filter((path) => /^[^/]+\.(wasm|js|css)$/.test(path))
    .every((path) => page.includes(path));
}

// The addresses this version lacks: a phone short of space may have dropped some.
async function missing() {
  const cache = await caches.open(CACHE);
  const held = new Set((await cache.keys()).map((request) => request.url));
  return [...LISTED.keys()].filter((url) => !held.has(url));
}

// The page from the cache, but only if it can start from there. What is missing is fetched again;
// where the host has moved on to another version, that one is complete and comes from the network.
async function shell(request) {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all((await missing()).map((url) => keep(cache, url)));
    const page = await cache.match(SHELL);
    if (page) return page;
  } catch {
    // Offline, or the host has moved on: the network decides.
  }
  try {
    return await fetch(request);
  } catch {
    const headers = { "Content-Type": "text/html; charset=utf-8" };
    return new Response(INCOMPLETE, { status: 503, headers });
  }
}

// What a phone kept badly would stop the page at every start: it is not given out but fetched again.
// Without a network it is missing from then on, and the next start says so.
async function listed(url, request) {
  const cache = await caches.open(CACHE);
  const held = await cache.match(url);
  if (held && (await isSame(url, await held.clone().arrayBuffer()))) return held;
  try {
    if (held) await cache.delete(url);
    await keep(cache, url);
    return (await cache.match(url)) ?? (await fetch(request));
  } catch {
    return fetch(request);
  }
}

// A page of the previous version may still ask for a file that only that version had. Nothing
// else is kept while the page runs: a cache that fills by itself cannot be trusted to be whole.
async function earlier(request) {
  for (const name of await caches.keys()) {
    const held = name.startsWith(OURS) && (await caches.match(request, { cacheName: name }));
    if (held && name !== LAST) return held;
  }
  return fetch(request);
}
