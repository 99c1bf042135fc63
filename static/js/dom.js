// Finding what a page's script needs, with its kind checked once.

/**
 * The element that a page always has. An error names the selector when it is missing.
 * @param {ParentNode} within
 * @param {string} selector
 * @returns {HTMLElement}
 */
export const need = (within, selector) => {
  const found = within.querySelector(selector);
  if (!(found instanceof HTMLElement)) throw new Error(`nothing here is ${selector}`);
  return found;
};

/**
 * The same, of the kind that a page has there.
 * @template {HTMLElement} T
 * @param {ParentNode} within
 * @param {string} selector
 * @param {new () => T} kind
 * @returns {T}
 */
export const needed = (within, selector, kind) => {
  const found = need(within, selector);
  if (!(found instanceof kind)) throw new Error(`${selector} is no ${kind.name}`);
  return found;
};

/**
 * What an event happened inside of: the nearest element that a selector names, or null.
 * @param {Event} event
 * @param {string} selector
 * @returns {HTMLElement | null}
 */
export const around = (event, selector) =>
  event.target instanceof Element ? /** @type {HTMLElement | null} */ (event.target.closest(selector)) : null;

/**
 * All elements that a selector names.
 * @param {ParentNode} within
 * @param {string} selector
 * @returns {HTMLElement[]}
 */
export const all = (within, selector) => [.../** @type {NodeListOf<HTMLElement>} */ (within.querySelectorAll(selector))];

/** The token that every form on a page carries. @returns {string} */
export const token = () => needed(document, "[name=csrfmiddlewaretoken]", HTMLInputElement).value;
