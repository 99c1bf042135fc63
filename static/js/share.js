// Copy and share buttons beside a link. Plain http in a hall has neither the clipboard nor the
// phone's own share sheet; then the address is marked and copied the old way.
import { all, around, needed } from "./dom.js";

const setUp = () => {
  for (const button of all(document, "[data-share] [data-act=copy]")) button.hidden = false;
  if (!("share" in navigator)) return;
  for (const button of all(document, "[data-share] [data-act=share]")) button.hidden = false;
};

/** @param {HTMLElement} box */
const copied = async (box) => {
  if (navigator.clipboard) {
    await navigator.clipboard.writeText(box.dataset.share ?? "");
    return true;
  }
  needed(box, "input", HTMLInputElement).select();
  return document.execCommand("copy");
};

/** @param {HTMLElement} button @param {HTMLElement} box */
const copy = async (button, box) => {
  const before = button.textContent;
  if (!(await copied(box).catch(() => false))) {
    needed(box, "input", HTMLInputElement).select(); // to copy by hand
    return;
  }
  button.textContent = button.dataset.done ?? "";
  setTimeout(() => (button.textContent = before), 2000);
};

document.addEventListener("click", (event) => {
  const box = around(event, "[data-share]");
  const button = around(event, "[data-act]");
  if (!box || !button) return;
  if (button.dataset.act === "copy") copy(button, box);
  else navigator.share({ url: box.dataset.share ?? "" }).catch(() => {}); // closed without choosing
});
document.addEventListener("DOMContentLoaded", setUp);
document.addEventListener("htmx:afterSettle", setUp);
