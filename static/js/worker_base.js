// What both workers do: it stands before each of them in the one script that the server sends
// (shared/scripts.py). No modules, for not every phone's browser starts a worker from one.

/* exported openFile, bare */

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

const PATIENCE = 5_000;
const HASHED = /\.[0-9a-f]{12}\.[a-z0-9]+$/;

worker.addEventListener("install", () => worker.skipWaiting());
worker.addEventListener("activate", (event) => event.waitUntil(worker.clients.claim()));

/**
 * A static file: out of the store where its name says that it never changes, else fetched and kept.
 * @param {string} name of the store
 * @param {Request} request
 */
async function openFile(name, request) {
  const store = await caches.open(name);
  const kept = await store.match(request);
  if (kept && HASHED.test(new URL(request.url).pathname)) return kept;
  try {
    const response = await quick(request);
    if (response.ok && !response.redirected) await store.put(request, response.clone());
    return response;
  } catch (error) {
    if (kept) return kept;
    throw error;
  }
}

/**
 * The network's answer, for as long as somebody at the court would wait for it.
 * @param {Request} request
 */
async function quick(request) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE);
  try {
    return await fetch(request, { signal: stop.signal });
  } finally {
    clearTimeout(timer);
  }
}

/**
 * An address without its query.
 * @param {string} address
 */
function bare(address) {
  return address.split(/[?#]/)[0] ?? "";
}
