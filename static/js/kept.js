// A page that is to open without a signal hands the worker its address, its files and its pictures,
// because it was loaded before the worker was there.

/**
 * @param {string} worker address of its script
 * @param {{pictures: string[], scope?: string}} what scope: the page's own address, where it lies elsewhere than the script
 */
export const keepPage = async (worker, { pictures, scope }) => {
  if (!("serviceWorker" in navigator)) return; // plain http has none
  await navigator.serviceWorker.register(worker, scope ? { scope } : {});
  const ready = await navigator.serviceWorker.ready;
  const files = performance.getEntriesByType("resource").map((entry) => entry.name);
  const own = files.filter((name) => new URL(name).pathname.startsWith("/static/"));
  ready.active?.postMessage({ keep: { page: window.location.href, files: own, pictures } });
};
