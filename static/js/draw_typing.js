// Text beside the court that is not sent yet: kept on the device, and there again after a reload.
// @ts-check
import { all } from "./dom.js";

const REST = 300; // ms after the last key before it is kept

/** @param {{typed: (name: string) => string | null, type: (name: string, text: string | null) => void}} store */
export function typing(store) {
  let timer = 0;
  document.addEventListener("input", (event) => {
    const field = event.target instanceof HTMLInputElement ? event.target : null;
    const name = field?.dataset.rename;
    if (!field || !name) return;
    clearTimeout(timer);
    timer = window.setTimeout(() => store.type(name, field.value), REST);
  });
  return {
    /** @param {HTMLInputElement} field */
    sent: (field) => {
      clearTimeout(timer);
      store.type(field.dataset.rename ?? "", null);
    },
    /** Puts what was typed into the fields that are shown now, and opens what they stand in. */
    restore: () => {
      for (const each of all(document, "#drawn [data-rename]")) {
        const field = /** @type {HTMLInputElement} */ (each);
        const text = field === document.activeElement ? null : store.typed(field.dataset.rename ?? "");
        if (text === null || text === field.value) continue;
        field.value = text;
        const around = field.closest("details");
        if (around) around.open = true;
      }
    },
  };
}
