// What every page gets: the menu closes, a faulty form shows its first fault, and what was
// typed is guarded. Nothing here is needed to use a page.
document.addEventListener("click", (event) => {
  for (const menu of document.querySelectorAll("details.menu[open]")) {
    if (!menu.contains(event.target)) menu.open = false;
  }
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  for (const menu of document.querySelectorAll("details.menu[open]")) {
    menu.open = false;
    menu.querySelector("summary").focus();
  }
});

const showFirstFault = () => {
  const fault = document.querySelector("[aria-invalid='true']") || document.querySelector(".note-error[tabindex]");
  if (fault) fault.focus();
};
document.addEventListener("DOMContentLoaded", showFirstFault);
document.addEventListener("htmx:afterSwap", showFirstFault);

// A form that sends by itself when a choice changes (data-auto-submit); without script its button stays.
document.addEventListener("change", (event) => {
  const form = event.target.closest("form[data-auto-submit]");
  if (form) form.requestSubmit();
});

// Who signs out takes along the log pages that this device keeps for a hall without signal.
const forgetPages = () => {
  if (!("caches" in window)) return;
  caches.keys().then((names) => names.filter((name) => name.startsWith("court-pages")).forEach((name) => caches.delete(name)));
};
document.addEventListener("submit", (event) => {
  if (new URL(event.target.action, window.location).pathname.endsWith("/sign-out/")) forgetPages();
});
if (!document.querySelector(".log-bar, form[action$='/sign-out/']")) forgetPages();

// A pressed button rests until the answer is there, so that a nervous thumb sends a form once.
// The server sees to it as well; this only shows it.
const REST = 10_000;
const resting = new Set();
const wake = () => {
  resting.forEach((button) => (button.disabled = false));
  resting.clear();
};
document.addEventListener("submit", (event) => {
  if (event.defaultPrevented || event.target.method !== "post") return;
  // After the form is read: a disabled button would not say which one was pressed.
  setTimeout(() => {
    for (const button of event.target.querySelectorAll("button:not([type='button']):not(:disabled)")) {
      button.disabled = true;
      resting.add(button);
    }
  });
  setTimeout(wake, REST);
});
window.addEventListener("pageshow", wake); // back to a page that the browser has kept
