// A play cast by hand: the fold of a role's second and third says who stands behind it.
import { all, around, need } from "./dom.js";

document.addEventListener("change", (event) => {
  const role = around(event, ".cast-role");
  if (!role) return;
  const chosen = all(role, ".fold-rest option:checked:not([value=''])");
  need(role, "[data-behind]").textContent = chosen.map((option) => option.textContent?.trim()).join(", ");
});
