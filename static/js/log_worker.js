// Opens the pages of a hall without signal: the log pages beside it, and each page that has asked for
// it under its own address (kept.js), with their files and pictures; it serves nothing else. When
// somebody signs out, or the server asks to sign in, the pages go. A page out of the store says since when.
// What it shares with the player's worker stands in worker_base.js.

const PAGES = "court-pages-1";
const FILES = "court-files-1";
const PICTURES = "court-pages-drills-1"; // goes with the pages when somebody signs out
const PICTURE = new RegExp(
  [
    String.raw`^/drills/\d+/picture\.jpg$`,
    String.raw`^/library/[-\w]+/revisions/\d+/card-(light|dark)\.svg$`,
    String.raw`^/court/games/\d+/boards/`,
  ].join("|"),
);
const LONGEST_KEPT = 7 * 86_400_000;
const JUST_KEPT = 10_000;

// The page hands over its own address and its files, because it loaded before this worker did.
worker.addEventListener("message", (event) => {
  if (event.data.keep) event.waitUntil(keep(event.data.keep));
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin) return;
  if (request.mode === "navigate") event.respondWith(openPage(request, url));
  else if (url.pathname.startsWith("/static/")) event.respondWith(openFile(FILES, request));
  else if (PICTURE.test(url.pathname)) event.respondWith(openFile(PICTURES, request));
});

/** @param {{page: string, files: string[], pictures: string[]}} wanted */
async function keep({ page, files, pictures }) {
  const store = await caches.open(FILES);
  await Promise.allSettled(files.map((file) => store.add(file)));
  const pages = await caches.open(PAGES);
  if (ageOf(await pages.match(bare(page))) >= JUST_KEPT) {
    const response = await fetch(page, { redirect: "manual" }); // else the worker was there before the page
    if (response.ok) await pages.put(bare(page), response);
  }
  for (const picture of pictures) await openFile(PICTURES, new Request(picture)).catch(() => null); // in turn: the hall's network is thin
}

/** @param {Response | undefined} kept @returns {number} milliseconds since the server made it */
const ageOf = (kept) => (kept ? Date.now() - Date.parse(kept.headers.get("date") ?? "") : Infinity);

/**
 * @param {Request} request
 * @param {URL} url
 */
async function openPage(request, url) {
  try {
    const response = await quick(request);
    if (response.type === "opaqueredirect" || response.status === 403 || response.status === 404) {
      await Promise.all([caches.delete(PAGES), caches.delete(PICTURES)]);
    } else if (response.ok) {
      await (await caches.open(PAGES)).put(bare(url.href), response.clone());
    }
    return response;
  } catch (error) {
    const kept = await (await caches.open(PAGES)).match(bare(url.href));
    if (kept && ageOf(kept) < LONGEST_KEPT) return dated(kept);
    throw error;
  }
}

/**
 * The page with the time of its making on its root, so that it can say so itself.
 * @param {Response} kept
 */
async function dated(kept) {
  const made = new Date(kept.headers.get("date") ?? "").toISOString();
  const text = (await kept.text()).replace("<html ", `<html data-kept="${made}" `);
  const headers = new Headers(kept.headers);
  ["content-encoding", "content-length"].forEach((name) => headers.delete(name));
  return new Response(text, { status: kept.status, headers });
}
