// What the check says of a drawing, asked for once the hand rests: it costs more than a picture.
// @ts-check
import { need } from "./dom.js";

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
    if (part) need(door.drawn(), "#judged").replaceWith(document.adoptNode(part));
  };
  return () => {
    clearTimeout(timer);
    timer = window.setTimeout(() => { void ask(); }, REST);
  };
}
