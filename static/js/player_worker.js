// Opens a player's pages without signal: what was seen, and every play of the index. It serves the
// pages under /my/ and their static files, and nothing else; a link that is closed takes its pages
// along. What it shares with the log's worker stands in worker_base.js.

const PAGES = "player-pages-1";
const FILES = "player-files-1";
const LONGEST_KEPT = 14 * 86_400_000;

// The index hands over its own address, its plays and its files, because it loaded before.
worker.addEventListener("message", (event) => {
  if (event.data.keep) event.waitUntil(keep(event.data.keep));
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(openFile(FILES, request));
  else if (url.pathname.startsWith("/my/") && !url.pathname.endsWith("/quiz/")) event.respondWith(openPage(request, url));
});

/** @param {{pages: string[], files: string[]}} wanted */
async function keep({ pages, files }) {
  const [store, kept] = await Promise.all([caches.open(FILES), caches.open(PAGES)]);
  await Promise.allSettled(files.map((file) => store.add(file)));
  for (const page of pages) {
    const response = await fetch(page).catch(() => null); // one after the other: the hall's network is thin
    if (response?.ok && !response.redirected) await kept.put(named(page), response);
  }
}

/**
 * @param {Request} request
 * @param {URL} url
 */
async function openPage(request, url) {
  const kept = await caches.open(PAGES);
  try {
    const response = await quick(request);
    if (response.status === 404) await forget(kept, url);
    else if (response.ok && !response.redirected) await kept.put(named(url.href), response.clone());
    return response;
  } catch (error) {
    const found = (await kept.match(named(url.href))) ?? (await kept.match(bare(url.href)));
    const age = found ? Date.now() - Date.parse(found.headers.get("date") ?? "") : Infinity;
    if (found && age < LONGEST_KEPT) return found;
    throw error;
  }
}

/**
 * Every page of the link that was closed; one page alone may be gone for another reason.
 * @param {Cache} kept
 * @param {URL} url
 */
async function forget(kept, url) {
  const [, my = "", token = ""] = url.pathname.split("/");
  if (url.pathname !== `/${my}/${token}/`) return void (await kept.delete(named(url.href)));
  const own = (await kept.keys()).filter((each) => new URL(each.url).pathname.startsWith(url.pathname));
  await Promise.all(own.map((each) => kept.delete(each)));
}

/**
 * An address as a page is kept under: side and eyes count, a language asked for does not.
 * @param {string} address
 */
function named(address) {
  const url = new URL(address, worker.location.origin);
  const counted = ["side", "eyes"].filter((name) => url.searchParams.has(name));
  const query = counted.map((name) => `${name}=${url.searchParams.get(name)}`).join("&");
  return query ? `${bare(url.href)}?${query}` : bare(url.href);
}
