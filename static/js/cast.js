// The grid: a tap opens the list of players beside it, a name dragged onto another swaps them,
// and the focus comes back to where it was. Without this every name is a link to the same list.
const chooser = () => document.getElementById("chooser");
let openedFrom = "";

const openChooser = (link) => {
  openedFrom = link.id;
  window.htmx.ajax("GET", link.href, { target: "#chooser-body", swap: "innerHTML" }).then(() => {
    if (!chooser().open) chooser().showModal();
  });
};

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-choose]");
  if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    event.preventDefault();
    openChooser(link);
  }
  if (event.target.closest("#chooser [data-close]") || event.target === chooser()) {
    event.preventDefault();
    chooser().close();
  }
});

const goBack = () => {
  const place = openedFrom && document.getElementById(openedFrom);
  if (place) place.focus();
};
document.addEventListener("close", goBack, true);

// Sends what a form would, and puts the new grid in place of the old one.
const send = (address, values) =>
  window.htmx.ajax("POST", address, { target: "#content", swap: "innerHTML", values });

const token = () => document.querySelector("[name=csrfmiddlewaretoken]").value;

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.closest("#chooser")) return;
  event.preventDefault();
  const values = Object.fromEntries(new FormData(form, event.submitter));
  send(form.action, values).then(() => {
    chooser().close();
    goBack();
  });
});

let dragged = null;
document.addEventListener("dragstart", (event) => {
  dragged = event.target.closest ? event.target.closest("a[data-player]") : null;
  if (dragged) event.dataTransfer.effectAllowed = "move";
});

// A drop makes sense on another place of the same play.
const targetOf = (event) => {
  const place = event.target.closest ? event.target.closest("a[data-choose]") : null;
  if (!dragged || !place || place === dragged) return null;
  return place.closest("tr") === dragged.closest("tr") ? place : null;
};
const unmark = () => document.querySelectorAll(".is-target").forEach((place) => place.classList.remove("is-target"));

document.addEventListener("dragover", (event) => {
  const place = targetOf(event);
  unmark();
  if (!place) return;
  event.preventDefault();
  place.classList.add("is-target");
});
document.addEventListener("drop", (event) => {
  const place = targetOf(event);
  unmark();
  if (!place) return;
  event.preventDefault();
  openedFrom = place.id;
  const values = { player: dragged.dataset.player, before: place.dataset.player || "", csrfmiddlewaretoken: token() };
  send(place.href, values).then(goBack);
});
document.addEventListener("dragend", () => { dragged = null; unmark(); });
