// Opens the log page without signal. It serves the log pages beside it and their static files,
// and nothing else; when somebody signs out, or the server asks to sign in, the pages go.
// The one script that is no module: not every phone's browser starts a worker from one.

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

const PAGES = "court-pages-1";
const FILES = "court-files-1";
const PATIENCE = 5_000;
const LONGEST_KEPT = 7 * 86_400_000;
const HASHED = /\.[0-9a-f]{12}\.[a-z0-9]+$/;

worker.addEventListener("install", () => worker.skipWaiting());
worker.addEventListener("activate", (event) => event.waitUntil(worker.clients.claim()));

// The page hands over its own address and its files, because it loaded before this worker did.
worker.addEventListener("message", (event) => {
  if (event.data.keep) event.waitUntil(keep(event.data.keep));
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin) return;
  if (request.mode === "navigate") event.respondWith(openPage(request, url));
  else if (url.pathname.startsWith("/static/")) event.respondWith(openFile(request, url));
});

/** @param {{page: string, files: string[]}} wanted */
async function keep({ page, files }) {
  const store = await caches.open(FILES);
  await Promise.allSettled(files.map((file) => store.add(file)));
  const response = await fetch(page, { redirect: "manual" });
  if (response.ok) await (await caches.open(PAGES)).put(bare(page), response);
}

/**
 * @param {Request} request
 * @param {URL} url
 */
async function openPage(request, url) {
  try {
    const response = await quick(request);
    if (response.type === "opaqueredirect" || response.status === 403 || response.status === 404) {
      await caches.delete(PAGES);
    } else if (response.ok) {
      await (await caches.open(PAGES)).put(bare(url.href), response.clone());
    }
    return response;
  } catch (error) {
    const kept = await (await caches.open(PAGES)).match(bare(url.href));
    const age = kept ? Date.now() - Date.parse(kept.headers.get("date") ?? "") : Infinity;
    if (kept && age < LONGEST_KEPT) return kept;
    throw error;
  }
}

/**
 * @param {Request} request
 * @param {URL} url
 */
async function openFile(request, url) {
  const store = await caches.open(FILES);
  const kept = await store.match(request);
  if (kept && HASHED.test(url.pathname)) return kept;
  try {
    const response = await quick(request);
    if (response.ok) await store.put(request, response.clone());
    return response;
  } catch (error) {
    if (kept) return kept;
    throw error;
  }
}

/** @param {Request} request */
async function quick(request) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE);
  try {
    return await fetch(request, { signal: stop.signal });
  } finally {
    clearTimeout(timer);
  }
}

/** @param {string} address */
const bare = (address) => address.split(/[?#]/)[0];
