// How sure the check is of each look, asked for once the hand rests: it costs more than a picture.
// @ts-check
import { need } from "./dom.js";
import { replace } from "./draw_part.js";

const REST = 600; // ms without a change before the check is asked

/**
 * One question is under way at a time: the server works at each to its end, and a step must not wait
 * behind questions about states that are gone.
 * @param {string} address
 * @param {{drawn: () => HTMLElement, idle: () => boolean}} door the court, and whether the server has all steps
 * @returns {() => void} to be called after every change; the newest answer wins
 */
export function judge(address, door) {
  let timer = 0;
  let asking = false;
  const ask = async () => {
    asking = true;
    const { seen, counter = "" } = door.drawn().dataset;
    const query = new URLSearchParams({ counter });
    const answer = await fetch(`${address}?${query}`, { headers: { "HX-Request": "true" } }).catch(() => null);
    const text = answer?.ok ? await answer.text().catch(() => "") : "";
    asking = false;
    const now = door.drawn().dataset;
    if (now.seen !== seen || (now.counter ?? "") !== counter) return rest();
    if (!text || !door.idle()) return;
    const part = new DOMParser().parseFromString(text, "text/html").getElementById("judged");
    if (part) replace(need(door.drawn(), "#judged"), part);
  };
  const rest = () => {
    clearTimeout(timer);
    if (asking || "banded" in need(door.drawn(), "#judged").dataset) return; // the answer asks again
    timer = window.setTimeout(() => { void ask(); }, REST);
  };
  return rest;
}
