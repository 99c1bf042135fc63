// How sure the check is of each look, asked for once the hand rests: it costs more than a picture.
// @ts-check
import { need } from "./dom.js";
import { replace } from "./draw_part.js";

const REST = 600; // ms without a change before the check is asked

/**
 * @param {string} address
 * @param {{drawn: () => HTMLElement, idle: () => boolean}} door the court, and whether the server has all steps
 * @returns {() => void} to be called after every change; the newest answer wins
 */
export function judge(address, door) {
  let timer = 0;
  const ask = async () => {
    const { seen, counter = "" } = door.drawn().dataset;
    const query = new URLSearchParams({ counter });
    const answer = await fetch(`${address}?${query}`, { headers: { "HX-Request": "true" } }).catch(() => null);
    const text = answer?.ok ? await answer.text() : "";
    const now = door.drawn().dataset;
    if (!text || !door.idle() || now.seen !== seen || (now.counter ?? "") !== counter) return;
    const part = new DOMParser().parseFromString(text, "text/html").getElementById("judged");
    if (part) replace(need(door.drawn(), "#judged"), part);
  };
  return () => {
    clearTimeout(timer);
    if (!("banded" in need(door.drawn(), "#judged").dataset)) timer = window.setTimeout(() => { void ask(); }, REST);
  };
}
