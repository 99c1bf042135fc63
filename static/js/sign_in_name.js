// A name to sign in with is suggested while the person's name is typed, until it is typed itself.
import { needed } from "./dom.js";

const field = needed(document, "[data-suggested-from]", HTMLInputElement);
const name = needed(document, `[name="${field.dataset.suggestedFrom}"]`, HTMLInputElement);
let suggested = "";
name.addEventListener("input", () => {
  if (field.value !== suggested) return;
  const [first = ""] = name.value.normalize("NFKC").toLowerCase().split(/\s+/).filter(Boolean);
  suggested = first;
  field.value = first;
});
