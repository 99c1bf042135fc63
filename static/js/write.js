// Writing a play in words: what is typed is kept on this device until the server has it, words
// and places are suggested, and a fault leads to its line. The picture itself comes by htmx.
// @ts-check

import { lineField } from "./write_field.js";
import { markLines } from "./write_marks.js";
import { plainField, writesRows } from "./write_plain.js";

const KEPT_AFTER = 300; // ms after the last change
const MOST_SHOWN = 8;
const PLACE = new RegExp("(?:^|[\\s,])(?:"
  + "(?:at|to|above|below|outside|inside|of|and|between) (?:the )?|(?:en|a|de|y|entre) (?:el |la )?|(?:al|del) "
  + ")([a-zà-ÿ ]*)$");

/**
 * The words before the caret that a suggestion may complete, and the suggestions.
 * @param {string} before the text up to the caret
 * @param {{verbs: string[], places: string[]}} known
 * @returns {{begun: string, found: string[]}}
 */
export function suggestions(before, known) {
  const line = before.slice(before.lastIndexOf("\n") + 1);
  const place = PLACE.exec(line);
  const verb = /^\s*(?:(?:instead of|en vez de)[^:]*: )?[1-5] ([a-zà-ÿ ]*)$/.exec(line);
  const begun = place ? place[1] : verb ? verb[1] : null;
  if (begun === null) return { begun: "", found: [] };
  const all = place ? known.places : known.verbs;
  const found = all.filter((each) => each.startsWith(begun) && each !== begun);
  const within = all.filter((each) => begun !== "" && !each.startsWith(begun) && each.includes(begun));
  return { begun, found: [...found, ...within].slice(0, MOST_SHOWN) };
}

/**
 * Where a line of a text begins and ends.
 * @param {string} text
 * @param {number} number from 1
 * @returns {[number, number]}
 */
export function lineRange(text, number) {
  const lines = text.split("\n");
  const start = lines.slice(0, number - 1).reduce((sum, line) => sum + line.length + 1, 0);
  return [start, start + (lines[number - 1] ?? "").length];
}

/**
 * The text that this device kept; none once the server said, by a cookie, that it has it.
 * @param {string} id
 * @param {string} saved the name of that cookie
 */
function keptText(id, saved) {
  try {
    const said = document.cookie.split("; ");
    const name = [saved, `__Secure-${saved}`].find((each) => said.includes(`${each}=1`)); // the latter by https
    if (name) {
      localStorage.removeItem(id);
      document.cookie = `${name}=; path=/library/; max-age=0; samesite=strict${name === saved ? "" : "; secure"}`;
    }
    return localStorage.getItem(id);
  } catch {
    return null;
  }
}

/** @param {HTMLFormElement} form */
function begin(form) {
  const text = /** @type {HTMLTextAreaElement} */ (form.querySelector("textarea[name=text]"));
  const shown = /** @type {HTMLElement} */ (form.querySelector("#suggested"));
  const known = JSON.parse(document.getElementById("completions")?.textContent ?? "{}");
  const id = `coachbook-write-${form.dataset.write ?? ""}`;
  const served = text.defaultValue; // whoever is quick has typed before this runs
  const field = writesRows(window) ? lineField(text) : plainField(text);
  const fault = form.querySelector("[data-line-fault]");
  let waiting = 0;

  const refresh = () => text.closest("[hx-post]")?.dispatchEvent(new Event("refresh"));
  const keep = () => {
    try {
      if (text.value === served) localStorage.removeItem(id);
      else localStorage.setItem(id, text.value);
    } catch {
      // A device that is full or private keeps nothing; the server still gets every save.
    }
  };
  const suggest = () => {
    const { begun, found } = suggestions(field.value().slice(0, field.caret()), known);
    shown.replaceChildren(...found.map((each) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = each;
      button.addEventListener("mousedown", (event) => event.preventDefault()); // the caret stays where it is
      button.addEventListener("click", () => field.insert(each, begun.length));
      return button;
    }));
  };

  text.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = window.setTimeout(keep, KEPT_AFTER);
    suggest();
  });
  field.element.addEventListener("click", suggest);
  field.element.addEventListener("keyup", (event) => { if (event.key.startsWith("Arrow")) suggest(); });
  document.addEventListener("visibilitychange", keep);
  form.addEventListener("submit", () => {
    clearTimeout(waiting);
    try { localStorage.setItem(id, text.value); } catch { /* as above */ }
  });
  document.addEventListener("click", (event) => {
    const line = /** @type {HTMLElement} */ (event.target).closest?.("[data-line]");
    if (!(line instanceof HTMLElement)) return;
    field.element.focus();
    field.choose(...lineRange(field.value(), Number(line.dataset.line)));
  });

  const kept = keptText(id, `written-${form.dataset.write || "new"}`);
  const notice = document.getElementById("kept");
  if (notice && kept !== null && kept !== served && !document.querySelector(".errorlist")) {
    notice.hidden = false;
    notice.querySelector("[data-take]")?.addEventListener("click", () => {
      field.write(kept);
      notice.hidden = true;
    });
    notice.querySelector("[data-drop]")?.addEventListener("click", () => {
      localStorage.removeItem(id);
      notice.hidden = true;
    });
  }

  if (fault instanceof HTMLElement) markLines(field, fault);

  const catchUp = () => {
    if (text.value === served) return;
    keep();
    refresh();
  };
  if (document.readyState === "complete") catchUp();
  else window.addEventListener("load", catchUp, { once: true });
}

if (typeof document !== "undefined") {
  const form = document.querySelector("form[data-write]");
  if (form instanceof HTMLFormElement) begin(form);
}
