// Dragging the blocks of a plan into another order, with mouse or finger. The arrow buttons do
// the same without script and by keyboard.
const list = () => document.querySelector("[data-plan][data-order]");
const token = () => document.querySelector("[name=csrfmiddlewaretoken]").value;
let held = null;

const blocks = () => [...list().querySelectorAll("[data-block]")];

const showGrips = () => {
  if (list()) list().querySelectorAll("[data-grip]").forEach((grip) => (grip.hidden = false));
};

const follow = (event) => {
  if (!held) return;
  event.preventDefault();
  const after = blocks().find((block) => {
    const box = block.getBoundingClientRect();
    return block !== held && event.clientY < box.top + box.height / 2;
  });
  const last = list().lastElementChild; // the line that says when the practice ends
  list().insertBefore(held, after || last);
};

const drop = async () => {
  if (!held) return;
  held.classList.remove("is-held");
  held = null;
  const order = blocks().map((block) => block.dataset.block).join(",");
  const response = await fetch(list().dataset.order, {
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
  if (!found) window.location.reload();
  list().replaceWith(found);
  showGrips();
};

document.addEventListener("pointerdown", (event) => {
  const grip = event.target.closest("[data-grip]");
  if (!grip || !list()) return;
  event.preventDefault();
  held = grip.closest("[data-block]");
  held.classList.add("is-held");
});
document.addEventListener("pointermove", follow, { passive: false });
document.addEventListener("pointerup", drop);
document.addEventListener("pointercancel", drop);
showGrips();
