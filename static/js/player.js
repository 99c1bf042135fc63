// A player's index: has the worker keep its plays, for a hall without signal. Nothing else here.
import { all, need } from "./dom.js";

const work = async () => {
  if (!("serviceWorker" in navigator)) return; // plain http has none
  await navigator.serviceWorker.register(need(document, "[data-worker]").dataset.worker ?? "");
  const ready = await navigator.serviceWorker.ready;
  const links = /** @type {HTMLAnchorElement[]} */ (all(document, ".plays a, [data-keep]"));
  const files = performance.getEntriesByType("resource").map((entry) => entry.name);
  ready.active?.postMessage({
    keep: {
      pages: [window.location.href, ...links.map((link) => link.href)],
      files: files.filter((name) => new URL(name).pathname.startsWith("/static/")),
    },
  });
};
work();
