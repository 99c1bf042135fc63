// The lines of a text in which something is wrong are marked in the text itself, and what is
// wrong in the line at the caret stands beneath it, so that nobody has to count lines.
// @ts-check

/**
 * The line in which a place of a text stands, from 1.
 * @param {string} text
 * @param {number} at
 */
export function lineAt(text, at) {
  return text.slice(0, at).split("\n").length;
}

/**
 * What is told at each line, by the list that the server wrote.
 * @param {ParentNode} list
 * @returns {Map<number, string>}
 */
function told(list) {
  const found = new Map();
  for (const each of list.querySelectorAll("[data-line]")) {
    const line = Number(each.getAttribute("data-line"));
    const said = each.parentElement?.querySelector("[data-told]")?.textContent?.trim() ?? "";
    found.set(line, [found.get(line), said].filter(Boolean).join(" "));
  }
  return found;
}

/**
 * Marks faulty lines of a text, and keeps the marks where the lines are.
 * @param {HTMLTextAreaElement} text
 * @param {HTMLElement} marks lies over the text and shows nothing but the marks
 * @param {HTMLElement} line says what is wrong at the caret
 */
export function markLines(text, marks, line) {
  let faults = told(document);

  const follow = () => {
    marks.style.left = `${text.offsetLeft + text.clientLeft}px`;
    marks.style.top = `${text.offsetTop + text.clientTop}px`;
    marks.style.width = `${text.clientWidth}px`;
    marks.style.height = `${text.clientHeight}px`;
    marks.scrollTop = text.scrollTop;
  };
  const draw = () => {
    marks.replaceChildren(...text.value.split("\n").map((said, index) => {
      const row = document.createElement(faults.has(index + 1) ? "mark" : "span");
      row.textContent = said || "\u200b";
      return row;
    }));
    follow();
  };
  const tell = () => {
    const number = lineAt(text.value, text.selectionStart);
    const said = document.activeElement === text ? faults.get(number) ?? "" : "";
    if (line.textContent !== said) line.textContent = said;
  };

  text.addEventListener("scroll", follow);
  text.addEventListener("input", draw);
  for (const moved of ["click", "keyup", "focus"]) text.addEventListener(moved, tell);
  document.addEventListener("htmx:afterSwap", () => {
    faults = told(document);
    draw();
    tell();
  });
  new ResizeObserver(follow).observe(text);
  draw();
}
