// What belongs together lights up: a bar of the count strip, the line in the diagram, the
// look's row, the finding. By pointer, by touch (a tap keeps it lit) and by keyboard: each
// picture is one stop for the tab key, the arrows go from bar to bar.
import { all, around } from "./dom.js";

/** @type {string | null} */
let kept = null;

/** @param {Element | HTMLElement} thing a bar, a line, a row */
const idOf = (thing) => (thing.getAttribute("data-action") ?? "").replace(/\.shot$/, "");
const page = () => document.querySelector("[data-lights]");

/** @param {string | null} id */
const light = (id) => {
  const here = page();
  if (!here) return;
  for (const thing of here.querySelectorAll("[data-action]")) {
    thing.classList.toggle("lit", id !== null && idOf(thing) === id);
  }
  here.classList.toggle("has-lit", id !== null);
};

/** @param {Event} event */
const tied = (event) => around(event, "[data-lights] [data-action]");

document.addEventListener("pointerover", (event) => {
  const thing = tied(event);
  if (thing && event.pointerType === "mouse") light(idOf(thing));
});
document.addEventListener("pointerout", (event) => {
  if (tied(event) && event.pointerType === "mouse") light(kept);
});
document.addEventListener("focusin", (event) => {
  const thing = tied(event);
  if (thing) light(idOf(thing));
});
document.addEventListener("focusout", (event) => {
  if (tied(event)) light(kept);
});
document.addEventListener("click", (event) => {
  const thing = around(event, "[data-lights] svg [data-action]");
  if (!thing) return;
  kept = kept === idOf(thing) ? null : idOf(thing);
  light(kept);
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape") { kept = null; light(null); return; }
  const thing = around(event, "[data-lights] svg [data-action][tabindex]");
  const way = new Map([["ArrowRight", 1], ["ArrowDown", 1], ["ArrowLeft", -1], ["ArrowUp", -1]]).get(event.key);
  const picture = thing?.closest("svg");
  if (!thing || !picture || !way) return;
  const stops = all(picture, "[data-action][tabindex]");
  const next = stops[(stops.indexOf(thing) + way + stops.length) % stops.length];
  if (!next) return;
  thing.setAttribute("tabindex", "-1");
  next.setAttribute("tabindex", "0");
  next.focus();
  event.preventDefault();
});

// What a screen reader says of a bar or line: the sentences of its moments, or its look.
/** @param {string} id */
const wordsFor = (id) => {
  const key = CSS.escape(id);
  const told = [...document.querySelectorAll(`#moments [data-action="${key}"]`)];
  const look = document.querySelector(`tr[data-action="${key}"] .row-name`);
  return (look ? [look] : told).map((each) => (each.textContent ?? "").trim().replace(/\s+/g, " ")).join(" ");
};

// A line of two points is hard to touch: give it a broad one without ink.
/** @param {Element} thing */
const widen = (thing) => {
  const line = thing.querySelector("path");
  if (!line) return;
  const wide = /** @type {SVGPathElement} */ (line.cloneNode(false));
  for (const name of ["class", "stroke-dasharray", "fill"]) wide.removeAttribute(name);
  wide.setAttribute("stroke", "transparent");
  wide.setAttribute("stroke-width", "14");
  wide.setAttribute("class", "wide-touch");
  thing.append(wide);
};

const setUp = () => {
  kept = null;
  const pictures = "[data-lights] :is(.strip, .check-figures) svg:not([data-tied])";
  for (const svg of all(document, pictures)) {
    svg.dataset.tied = "yes";
    svg.setAttribute("role", "group");
    const things = [...svg.querySelectorAll("[data-action]")].filter((thing) => wordsFor(idOf(thing)));
    things.forEach((thing, index) => {
      thing.setAttribute("tabindex", index ? "-1" : "0");
      thing.setAttribute("role", "img");
      thing.setAttribute("aria-label", wordsFor(idOf(thing)));
      if (!thing.closest(".strip")) widen(thing);
    });
  }
  for (const hint of all(document, ".strip-hint[hidden]")) hint.hidden = false;
};
document.addEventListener("DOMContentLoaded", setUp);
document.addEventListener("htmx:afterSettle", setUp);
