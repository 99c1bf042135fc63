// Dragging the blocks of a plan into another order, with mouse or finger. The arrow buttons do
// the same without script and by keyboard.
import { all, around, token } from "./dom.js";

const ORDERED = "[data-plan][data-order]";
/** @type {HTMLElement | null} */
let held = null;

/** The plan, where somebody may order it. */
const list = () => all(document, ORDERED)[0];

const showGrips = () => {
  for (const grip of all(document, `${ORDERED} [data-grip]`)) grip.hidden = false;
};

/** @param {PointerEvent} event */
const follow = (event) => {
  const plan = list();
  if (!held || !plan) return;
  event.preventDefault();
  const after = all(plan, "[data-block]").find((block) => {
    const box = block.getBoundingClientRect();
    return block !== held && event.clientY < box.top + box.height / 2;
  });
  const last = plan.lastElementChild; // the line that says when the practice ends
  plan.insertBefore(held, after ?? last);
};

const drop = async () => {
  const plan = list();
  if (!held || !plan) return;
  held.classList.remove("is-held");
  held = null;
  const order = all(plan, "[data-block]").map((block) => block.dataset.block).join(",");
  const response = await fetch(plan.dataset.order ?? "", {
    method: "POST",
    headers: { "X-CSRFToken": token() },
    body: new URLSearchParams({ order }),
  });
  if (!response.ok || response.redirected === false) {
    window.location.reload();
    return;
  }
  const fresh = new DOMParser().parseFromString(await response.text(), "text/html");
  const found = fresh.querySelector("[data-plan]");
  if (found) plan.replaceWith(found);
  else window.location.reload();
  showGrips();
};

document.addEventListener("pointerdown", (event) => {
  const grip = around(event, `${ORDERED} [data-grip]`);
  const block = grip?.closest("[data-block]");
  if (!(block instanceof HTMLElement)) return;
  event.preventDefault();
  held = block;
  held.classList.add("is-held");
});
document.addEventListener("pointermove", follow, { passive: false });
document.addEventListener("pointerup", drop);
document.addEventListener("pointercancel", drop);
showGrips();
