// What is asked of the server while a play is drawn: to take a step, and to show a phase.
// @ts-check
import { token } from "./dom.js";
import { partOf } from "./draw_part.js";

/** @typedef {import("./draw_send.js").Answer} Answer */
/** @typedef {import("./draw_store.js").Step} Step */

const HEADERS = { "HX-Request": "true" }; // the part alone

/**
 * @param {string} address
 * @param {Step} step
 * @param {string} seen the content that it was made on
 * @returns {Promise<{answer: Answer, text: string}>}
 */
export async function postStep(address, step, seen) {
  const body = new FormData();
  for (const [name, value] of Object.entries({ ...step, seen, csrfmiddlewaretoken: token() })) body.set(name, value);
  try {
    const response = await fetch(address, { method: "POST", body, headers: HEADERS });
    const text = await response.text();
    return { answer: answerOf(response, text), text };
  } catch {
    return { answer: { kind: "away" }, text: "" };
  }
}

/** @param {Response} response @param {string} text @returns {Answer} */
function answerOf(response, text) {
  if (response.status === 409) return { kind: "changed", said: text };
  if (response.status === 404 || response.status === 403) return { kind: "gone" };
  if (response.status === 422 || response.status === 400) return { kind: "refused", said: text };
  const part = response.ok ? partOf(text) : null;
  if (response.ok && !part) return { kind: "gone" }; // led to the page that asks who one is
  return part ? { kind: "done", seen: part.dataset.seen ?? "" } : { kind: "away" };
}

/**
 * The part of a phase, in the play or in a counter; null where it cannot be had.
 * @param {string} address
 * @param {string} phase
 * @param {string} counter
 * @returns {Promise<string | null>}
 */
export async function fetchPart(address, phase, counter) {
  const query = new URLSearchParams({ phase, counter });
  const response = await fetch(`${address}?${query}`, { headers: HEADERS }).catch(() => null);
  return response?.ok ? response.text() : null;
}
