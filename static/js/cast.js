// The grid: a tap opens the list of players beside it, a name dragged onto another swaps them,
// and the focus comes back to where it was. Without this every name is a link to the same list.
import { all, around, needed, token } from "./dom.js";

/**
 * @typedef {{target: string, swap: string, values?: Record<string, FormDataEntryValue>}} Swap
 * @typedef {{ajax(verb: string, address: string, swap: Swap): Promise<void>}} Htmx
 */
const { htmx } = /** @type {typeof globalThis & {htmx: Htmx}} */ (globalThis);

const chooser = () => needed(document, "#chooser", HTMLDialogElement);
let openedFrom = "";

/** @param {HTMLAnchorElement} link */
const openChooser = (link) => {
  openedFrom = link.id;
  htmx.ajax("GET", link.href, { target: "#chooser-body", swap: "innerHTML" }).then(() => {
    if (!chooser().open) chooser().showModal();
  });
};

document.addEventListener("click", (event) => {
  const link = around(event, "a[data-choose]");
  if (link instanceof HTMLAnchorElement && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    event.preventDefault();
    openChooser(link);
  }
  if (around(event, "#chooser [data-close]") || event.target === chooser()) {
    event.preventDefault();
    chooser().close();
  }
});

const goBack = () => {
  if (openedFrom) document.getElementById(openedFrom)?.focus();
};
document.addEventListener("close", goBack, true);

// Sends what a form would, and puts the new grid in place of the old one.
/**
 * @param {string} address
 * @param {Record<string, FormDataEntryValue>} values
 */
const send = (address, values) =>
  htmx.ajax("POST", address, { target: "#content", swap: "innerHTML", values });

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.closest("#chooser")) return;
  event.preventDefault();
  const values = Object.fromEntries(new FormData(form, event.submitter));
  send(form.action, values).then(() => {
    chooser().close();
    goBack();
  });
});

/** @type {HTMLElement | null} */
let dragged = null;
document.addEventListener("dragstart", (event) => {
  dragged = around(event, "a[data-player]");
  if (dragged && event.dataTransfer) event.dataTransfer.effectAllowed = "move";
});

// A drop makes sense on another place of the same play.
/** @param {DragEvent} event */
const targetOf = (event) => {
  const place = around(event, "a[data-choose]");
  if (!dragged || !(place instanceof HTMLAnchorElement) || place === dragged) return null;
  return place.closest("tr") === dragged.closest("tr") ? place : null;
};
const unmark = () => all(document, ".is-target").forEach((place) => place.classList.remove("is-target"));

document.addEventListener("dragover", (event) => {
  const place = targetOf(event);
  unmark();
  if (!place) return;
  event.preventDefault();
  place.classList.add("is-target");
});
document.addEventListener("drop", (event) => {
  const place = targetOf(event);
  unmark();
  if (!place || !dragged) return;
  event.preventDefault();
  openedFrom = place.id;
  const values = { player: dragged.dataset.player ?? "", before: place.dataset.player || "", csrfmiddlewaretoken: token() };
  send(place.href, values).then(goBack);
});
document.addEventListener("dragend", () => { dragged = null; unmark(); });
