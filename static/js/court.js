// The running view: which block is on, what is left. Times come from the plan; "begin now" and
// "next block now" move the clock on this device only.
import { clock } from "./clock.js";
import { all, need } from "./dom.js";

const [root] = all(document, "[data-now]");
const lines = all(document, "li[data-from]").map((item) => ({
  item,
  from: Number(item.dataset.from),
  to: Number(item.dataset.to),
  name: need(item, "[data-name]").textContent,
}));
const KEY = `court-now-${root?.dataset.now}`;

/** @param {HTMLElement} view */
const run = (view) => {
  /** @param {string} name */
  const part = (name) => need(view, `[data-part="${name}"]`);
  const planned = () => new Date(view.dataset.starts ?? "").getTime();
  const began = () => Number(localStorage.getItem(KEY)) || planned();
  const minute = () => (Date.now() - began()) / 60_000;
  /** @param {number} minutes */
  const shown = (minutes) => clock(Math.ceil(minutes * 60));

  const draw = () => {
    const at = minute();
    const line = lines.find(({ from, to }) => from <= at && at < to);
    const end = lines.at(-1)?.to ?? 0;
    part("title").textContent = line ? line.name : ((at < 0 ? view.dataset.before : view.dataset.over) ?? "");
    part("left").textContent = line ? shown(line.to - at) : at < 0 ? shown(-at) : "0:00";
    part("left").classList.toggle("is-short", line !== undefined && line.to - at < 1);
    part("rest").textContent = shown(Math.min(end, end - at));
    for (const each of lines) {
      each.item.classList.toggle("is-done", each.to <= at);
      if (each === line) each.item.setAttribute("aria-current", "true");
      else each.item.removeAttribute("aria-current");
    }
  };

  /** @type {Record<string, () => void>} */
  const acts = {
    begin: () => localStorage.setItem(KEY, String(Date.now())),
    next: () => {
      const at = minute();
      const next = lines.find(({ from }) => from > at);
      if (next) localStorage.setItem(KEY, String(Date.now() - next.from * 60_000));
    },
    plan: () => localStorage.removeItem(KEY),
  };

  part("controls").hidden = false;
  view.addEventListener("click", (event) => {
    if (event.target instanceof HTMLElement) acts[event.target.dataset.act ?? ""]?.();
    draw();
  });
  draw();
  setInterval(draw, 500);
};

if (root) run(root);
