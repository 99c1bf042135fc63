// The text of a play in the text area itself, where a browser cannot do what rows need: what is wrong
// is then told in the list and to a screen reader, and leads to its line as everywhere.
// @ts-check

const SPACE_ABOVE = 3; // lines that stay in sight above a chosen one

/**
 * Whether rows can be written in: the browser says which part of a text a key changes, and makes
 * a change that can be undone.
 * @param {Window & typeof globalThis} here
 */
export function writesRows(here) {
  const said = here.InputEvent?.prototype;
  const probe = here.document.createElement("div");
  probe.contentEditable = "true";
  return Boolean(said && "getTargetRanges" in said && probe.contentEditable === "true"
    && "setBaseAndExtent" in here.Selection.prototype && here.document.queryCommandSupported?.("insertText"));
}

/**
 * The text area as a field like that of ``write_field.js``; it has no rows.
 * @param {HTMLTextAreaElement} text
 * @returns {import("./write_field.js").LineField}
 */
export function plainField(text) {
  const follow = () => { text.dispatchEvent(new Event("input", { bubbles: true })); };
  return {
    element: text,
    value: () => text.value,
    caret: () => text.selectionEnd,
    choose: (start, end) => {
      text.setSelectionRange(start, end);
      const above = text.value.slice(0, start).split("\n").length - 1;
      text.scrollTop = Math.max(0, above - SPACE_ABOVE) * parseFloat(getComputedStyle(text).lineHeight);
    },
    rows: () => [],
    write: (now) => {
      text.value = now;
      follow();
    },
    insert: (words, over) => {
      const at = text.selectionEnd;
      text.setRangeText(words, at - over, at, "end");
      text.focus();
      follow();
    },
  };
}
