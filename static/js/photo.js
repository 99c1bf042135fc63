// A photo to trace over: made small before it is sent, and its four corners marked by a press.
// @ts-check
import { all, needed } from "./dom.js";

const LONGEST = 2000; // pixels of the longer side that is sent
const SMALL = 1_000_000; // bytes up to which a small picture is sent as it is
const RING = 2.5; // hundredths of the photo's width
const SVG = "http://www.w3.org/2000/svg";

/** @param {File} file @returns {Promise<File>} */
async function smaller(file) {
  const bitmap = await createImageBitmap(file);
  const share = Math.min(1, LONGEST / Math.max(bitmap.width, bitmap.height));
  if (share === 1 && file.size < SMALL) return file;
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(bitmap.width * share);
  canvas.height = Math.round(bitmap.height * share);
  canvas.getContext("2d")?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const blob = await new Promise((done) => { canvas.toBlob(done, "image/jpeg", 0.85); });
  return blob instanceof Blob ? new File([blob], "photo.jpg", { type: "image/jpeg" }) : file;
}

/** @param {HTMLInputElement} input */
async function shrink(input) {
  const file = input.files?.[0];
  if (!file) return;
  const small = await smaller(file).catch(() => file); // the server says what is wrong with it
  const list = new DataTransfer();
  list.items.add(small);
  input.files = list.files;
}

/** @param {HTMLFormElement} form */
function mark(form) {
  const photo = needed(form, "#photo", HTMLImageElement);
  const marks = /** @type {SVGSVGElement} */ (form.querySelector("#marks"));
  const radios = /** @type {HTMLInputElement[]} */ (all(form, "[name=corner]"));
  /** @param {string} name @param {string} way */
  const number = (name, way) => needed(form, `[name=${name}_${way}]`, HTMLInputElement);
  /** @param {string} kind @param {Record<string, string>} values */
  const shape = (kind, values) => {
    const made = document.createElementNS(SVG, kind);
    for (const [name, value] of Object.entries(values)) made.setAttribute(name, value);
    return made;
  };
  const draw = () => {
    const at = radios.map(({ value }) => `${Number(number(value, "x").value)},${Number(number(value, "y").value)}`);
    const now = at[radios.findIndex((each) => each.checked)] ?? at[0];
    const [x, y] = now.split(",");
    const tall = photo.naturalWidth / photo.naturalHeight || 1; // in hundredths of both sides: a circle to the eye
    const ring = { cx: x, cy: y, rx: String(RING), ry: String(RING * tall) };
    marks.replaceChildren(shape("polygon", { points: at.join(" ") }), shape("ellipse", ring));
  };
  photo.addEventListener("click", (event) => {
    const box = photo.getBoundingClientRect();
    const chosen = radios.findIndex((each) => each.checked);
    const { value } = radios[chosen];
    number(value, "x").value = (100 * (event.clientX - box.left) / box.width).toFixed(1);
    number(value, "y").value = (100 * (event.clientY - box.top) / box.height).toFixed(1);
    radios[(chosen + 1) % radios.length].checked = true;
    draw();
  });
  form.addEventListener("input", draw);
  photo.addEventListener("load", draw);
  draw();
}

for (const input of /** @type {HTMLInputElement[]} */ (all(document, "input[data-photo]"))) {
  let ready = Promise.resolve();
  input.addEventListener("change", () => { ready = shrink(input); });
  input.form?.addEventListener("submit", (event) => {
    event.preventDefault();
    void ready.then(() => input.form?.submit());
  });
}
const corners = document.querySelector("form[data-corners]");
if (corners instanceof HTMLFormElement) mark(corners);
