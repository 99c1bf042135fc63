// What every page gets: the menu closes, a faulty form shows its first fault, and what was
// typed is guarded. Nothing here is needed to use a page.
import { all, around } from "./dom.js";

/** @returns {HTMLDetailsElement[]} */
const openMenus = () => [...document.querySelectorAll("details.menu[open]")].filter((menu) => menu instanceof HTMLDetailsElement);

document.addEventListener("click", (event) => {
  for (const menu of openMenus()) {
    if (!(event.target instanceof Node && menu.contains(event.target))) menu.open = false;
  }
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  for (const menu of openMenus()) {
    menu.open = false;
    menu.querySelector("summary")?.focus();
  }
});

const showFirstFault = () => {
  const [fault] = [...all(document, "[aria-invalid='true']"), ...all(document, ".note-error[tabindex]")];
  fault?.focus();
};
document.addEventListener("DOMContentLoaded", showFirstFault);
document.addEventListener("htmx:afterSwap", showFirstFault);

// A form that sends by itself when a choice changes (data-auto-submit); without script its button stays.
document.addEventListener("change", (event) => {
  const form = around(event, "form[data-auto-submit]");
  if (form instanceof HTMLFormElement) form.requestSubmit();
});

// An answer that does not come leaves the page as it was: it says so, and as of when, until one comes.
// A page that the worker opened out of its store says so from the start, with the day if it is another.
/** @param {Date} at */
const asSaid = (at) => {
  const time = at.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  if (at.toDateString() === new Date().toDateString()) return time;
  return `${at.toLocaleDateString(document.documentElement.lang, { weekday: "short", day: "numeric", month: "short" })}, ${time}`;
};
const { kept } = document.documentElement.dataset;
let asOf = asSaid(kept ? new Date(kept) : new Date());
document.addEventListener("htmx:afterSwap", () => (asOf = asSaid(new Date())));
/** @param {boolean} stale */
const tellStale = (stale) => all(document, "[data-stale]").forEach((note) => {
  all(note, "[data-as-of]").forEach((time) => (time.textContent = asOf));
  note.hidden = !stale;
});
if (kept) tellStale(true);
document.addEventListener("htmx:sendError", () => tellStale(true));
document.addEventListener("htmx:timeout", () => tellStale(true));
document.addEventListener("htmx:afterSwap", () => tellStale(false));

// An answer that is a failure is told above the page, with its reference, until one comes that is
// none; what was typed stays.
const forgetFailure = () => all(document, "[data-failure]").forEach((note) => note.remove());
document.addEventListener("htmx:responseError", (event) => {
  const { xhr } = /** @type {CustomEvent<{xhr: XMLHttpRequest}>} */ (event).detail;
  const fault = new DOMParser().parseFromString(xhr.responseText, "text/html").querySelector("[data-fault]");
  const content = document.getElementById("content");
  if (!fault || !content) return;
  forgetFailure();
  const note = Object.assign(document.createElement("div"), { className: "note note-error", tabIndex: -1 });
  note.setAttribute("role", "alert");
  note.dataset.failure = "";
  note.append(...fault.children);
  content.prepend(note);
  note.scrollIntoView({ block: "nearest" });
  wake();
});
document.addEventListener("htmx:afterSwap", forgetFailure);

// Who signs out takes along the log pages that this device keeps for a hall without signal. Whose they
// are is remembered beside them: somebody who comes by a link, while another is signed in, finds none.
const WHOSE = "court-pages-of";
/** @param {string | null} whose */
const rememberWhose = (whose) => {
  try {
    const before = localStorage.getItem(WHOSE);
    if (whose === null) localStorage.removeItem(WHOSE);
    else localStorage.setItem(WHOSE, whose);
    return before;
  } catch {
    return null; // a browser that keeps nothing keeps no pages either
  }
};
const forgetPages = () => {
  rememberWhose(null);
  if (!("caches" in window)) return;
  caches.keys().then((names) => names.filter((name) => name.startsWith("court-pages")).forEach((name) => caches.delete(name)));
};
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form instanceof HTMLFormElement && new URL(form.action, window.location.href).pathname.endsWith("/sign-out/")) forgetPages();
});
const own = document.querySelector("form[action$='/sign-out/']");
if (own instanceof HTMLFormElement) {
  const whose = own.dataset.whose ?? "";
  if (rememberWhose(whose) !== whose) {
    forgetPages();
    rememberWhose(whose);
  }
} else if (!document.querySelector(".log-bar")) forgetPages();

// A pressed button rests until the answer is there, so that a nervous thumb sends a form once.
// The server sees to it as well; this only shows it.
const REST = 10_000;
/** @type {Set<HTMLButtonElement>} */
const resting = new Set();
const wake = () => {
  resting.forEach((button) => (button.disabled = false));
  resting.clear();
};
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || event.defaultPrevented || form.method !== "post") return;
  // After the form is read: a disabled button would not say which one was pressed.
  setTimeout(() => {
    for (const button of all(form, "button:not([type='button']):not(:disabled)")) {
      if (!(button instanceof HTMLButtonElement)) continue;
      button.disabled = true;
      resting.add(button);
    }
  });
  setTimeout(wake, REST);
});
window.addEventListener("pageshow", wake); // back to a page that the browser has kept
