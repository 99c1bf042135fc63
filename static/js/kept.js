// A page that is to open without a signal hands the worker its address, its files and its pictures,
// because it was loaded before the worker was there.

/** @typedef {{page: string, files: string[], pictures: string[]}} Wanted */

/**
 * @param {string} worker address of its script
 * @param {Wanted} wanted
 * @param {string} [scope] the page's own address, where it lies elsewhere than the script
 */
const handOver = async (worker, wanted, scope) => {
  if (!("serviceWorker" in navigator)) return; // plain http has none
  await navigator.serviceWorker.register(worker, scope ? { scope } : {});
  const ready = await navigator.serviceWorker.ready;
  ready.active?.postMessage({ keep: wanted });
};

/**
 * @param {string} worker address of its script
 * @param {{pictures: string[], scope?: string}} what scope: as above
 */
export const keepPage = async (worker, { pictures, scope }) => {
  const loaded = performance.getEntriesByType("resource").map((entry) => entry.name);
  const files = loaded.filter((name) => new URL(name).pathname.startsWith("/static/"));
  await handOver(worker, { page: window.location.href, files, pictures }, scope);
};

/**
 * Another page of the court, without opening it: the page, its files, and what it says it needs.
 * @param {string} worker
 * @param {string} page its address
 */
export const keepBeside = async (worker, page) => {
  if (!("serviceWorker" in navigator)) return;
  const answer = await fetch(page);
  if (!answer.ok || answer.redirected) return;
  const read = new DOMParser().parseFromString(await answer.text(), "text/html");
  const files = [...read.querySelectorAll("link[href^='/static/'], script[src^='/static/']")].map(
    (each) => each.getAttribute("href") ?? each.getAttribute("src") ?? "",
  );
  /** @type {{lines: {board: string}[]} | null} */
  const data = JSON.parse(read.getElementById("calls-data")?.textContent || "null");
  await handOver(worker, { page, files, pictures: data?.lines.map(({ board }) => board) ?? [] });
};
