// A page for the bench: the worker keeps it, with the pictures that it opens to, for a hall without signal.
import { all, need } from "./dom.js";
import { keepPage } from "./kept.js";

/** @param {HTMLElement} picture */
const shownOf = (picture) => {
  const [source, image] = [picture.querySelector("source"), picture.querySelector("img")];
  return source && window.matchMedia(source.media).matches ? source.srcset : (image?.src ?? "");
};
const pictures = [...new Set(all(document, ".can picture").map(shownOf))].filter(Boolean);
const worker = need(document, "[data-worker]").dataset.worker ?? "";
keepPage(worker, { pictures, scope: window.location.pathname }).catch((error) => console.warn(error));
