// The text of a play as lines that are written in: each is a row of its own, so that what is wrong
// in a line can stand beneath it and the next line moves down. The field of the form stays behind
// it, holds the same text and is what is sent; without script it is what is written in.
// @ts-check

const SAID = ["aria-describedby", "aria-invalid", "spellcheck", "autocapitalize"];

/**
 * Where a place of a text is: its line and how far into it, both from 0.
 * @param {string} text
 * @param {number} at
 * @returns {[number, number]}
 */
export function rowOf(text, at) {
  const before = text.slice(0, at).split("\n");
  return [before.length - 1, before[before.length - 1].length];
}

/** @param {string} line @returns {HTMLElement} */
const rowOfText = (line) => {
  const row = document.createElement("div");
  if (line) row.textContent = line;
  else row.append(document.createElement("br")); // an empty row has a height of its own
  return row;
};

/** What a row says; a browser may write a space that does not break. @param {Node} row */
const lineOf = (row) => (row.textContent ?? "").replaceAll("\u00a0", " ").replace(/\n$/, "");

/**
 * What is written in: rows, or where there are none the text area itself.
 * @typedef {{
 *   element: HTMLElement,
 *   value: () => string,
 *   caret: () => number,
 *   choose: (start: number, end: number) => void,
 *   rows: () => HTMLElement[],
 *   write: (now: string) => void,
 *   insert: (words: string, over: number) => void,
 * }} LineField
 */

/**
 * Puts rows in the place of a text area. Its value follows every change, with an ``input`` event.
 * @param {HTMLTextAreaElement} text
 * @returns {LineField}
 */
export function lineField(text) {
  const field = document.createElement("div");
  let last = text.value.length;
  const label = text.labels?.[0];
  field.className = "lines-field";
  field.contentEditable = "true";
  field.setAttribute("role", "textbox");
  field.setAttribute("aria-multiline", "true");
  for (const name of SAID) {
    const value = text.getAttribute(name);
    if (value !== null) field.setAttribute(name, value);
  }
  text.removeAttribute("aria-invalid");
  if (label) {
    label.id = `${text.id}_label`;
    label.removeAttribute("for");
    label.addEventListener("click", () => field.focus());
    field.setAttribute("aria-labelledby", label.id);
  }

  const rows = () => /** @type {HTMLElement[]} */ ([...field.childNodes]);
  const value = () => rows().map(lineOf).join("\n");
  /** @param {string} now */
  const write = (now) => field.replaceChildren(...now.split("\n").map(rowOfText));
  /** @param {number} at @returns {{row: HTMLElement, node: Node, into: number}} */
  const place = (at) => {
    const [line, into] = rowOf(value(), at);
    const row = rows()[line];
    const words = row.firstChild;
    return words instanceof Text ? { row, node: words, into } : { row, node: row, into: 0 };
  };
  /** @param {number} start @param {number} end */
  const choose = (start, end) => {
    const [from, to] = [place(start), place(end)];
    getSelection()?.setBaseAndExtent(from.node, from.into, to.node, to.into);
    from.row.scrollIntoView({ block: "nearest" });
  };
  /** Where a place of the page is in the text. @param {Node} node @param {number} into */
  const offset = (node, into) => {
    const line = rows().findIndex((row) => row.contains(node));
    const above = rows().slice(0, line < 0 ? into : line).reduce((sum, row) => sum + lineOf(row).length + 1, 0);
    if (line < 0) return Math.min(above, value().length);
    const before = document.createRange();
    before.setStart(rows()[line], 0);
    before.setEnd(node, into);
    return above + before.toString().length;
  };
  /** Where the selection ends, or ended before the focus went elsewhere. */
  const caret = () => {
    const chosen = getSelection();
    const node = chosen?.focusNode;
    return chosen && node && field.contains(node) ? offset(node, chosen.focusOffset) : Math.min(last, value().length);
  };
  /**
   * Words in the place of others, as one step to undo. Rows go in and out whole: what a browser joins
   * of two it wraps in styles of its own.
   * @param {number} from @param {number} to @param {string} words
   */
  const splice = (from, to, words) => {
    const said = value();
    const [start, end] = [from - rowOf(said, from)[1], to + `${said.slice(to)}\n`.indexOf("\n")];
    const apart = rowOf(said, from)[0] !== rowOf(said, to)[0];
    const now = apart ? said.slice(start, from) + words + said.slice(to, end) : words;
    if (apart) choose(start, end);
    else choose(from, to);
    document.execCommand(now ? "insertText" : "delete", false, now);
    if (apart) choose(from + words.length, from + words.length);
  };
  /** A browser may leave a text or a break that is in no row: the rows are made again. */
  const mend = () => {
    if (rows().length && rows().every((row) => row instanceof HTMLDivElement)) return;
    const at = caret();
    write([...field.childNodes].map((node) => (node instanceof HTMLBRElement ? "" : lineOf(node))).join("\n"));
    choose(Math.min(at, value().length), Math.min(at, value().length));
  };
  /** What is brought from elsewhere comes as bare text. @param {DataTransfer | null} from */
  const bring = (from) => {
    const { anchorNode, anchorOffset } = getSelection() ?? {};
    const ends = [caret(), anchorNode && field.contains(anchorNode) ? offset(anchorNode, anchorOffset ?? 0) : caret()];
    splice(Math.min(...ends), Math.max(...ends), from?.getData("text/plain").replaceAll("\r\n", "\n") ?? "");
  };
  const follow = () => {
    text.value = value();
    text.dispatchEvent(new Event("input", { bubbles: true }));
  };

  field.addEventListener("beforeinput", (event) => {
    const { inputType, data, dataTransfer, isComposing } = event;
    const [range] = event.getTargetRanges();
    const [from, to] = range
      ? [offset(range.startContainer, range.startOffset), offset(range.endContainer, range.endOffset)]
      : [caret(), caret()];
    const breaks = ["insertLineBreak", "insertParagraph"].includes(inputType);
    const words = breaks ? "\n" : data ?? dataTransfer?.getData("text/plain") ?? "";
    const apart = value().slice(from, to).includes("\n");
    if (apart && !isComposing && /^(insert|delete)/.test(inputType)) splice(from, to, words);
    else if (inputType === "insertLineBreak") document.execCommand("insertParagraph");
    else if (!inputType.startsWith("format")) return; // letters have one look here
    event.preventDefault();
  });
  field.addEventListener("paste", (event) => {
    event.preventDefault();
    bring(event.clipboardData);
  });
  field.addEventListener("drop", (event) => {
    event.preventDefault();
    const at = document.caretPositionFromPoint?.(event.clientX, event.clientY);
    if (at && field.contains(at.offsetNode)) getSelection()?.collapse(at.offsetNode, at.offset);
    bring(event.dataTransfer);
  });
  field.addEventListener("input", () => {
    mend();
    follow();
  });

  document.addEventListener("selectionchange", () => {
    if (document.activeElement === field) last = caret();
  });

  const quick = document.activeElement === text; // whoever writes before this runs goes on writing
  write(text.value);
  text.after(field);
  if (quick) {
    field.focus();
    choose(text.selectionStart, text.selectionEnd);
  }
  text.hidden = true;
  return {
    element: field,
    value,
    caret,
    choose,
    rows,
    /** @param {string} now the whole text */
    write: (now) => {
      write(now);
      follow();
    },
    /** Writes words at the caret, over as many letters before it. @param {string} words @param {number} over */
    insert: (words, over) => {
      const at = caret();
      field.focus();
      splice(at - over, at, words);
    },
  };
}
