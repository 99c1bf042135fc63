// The running view: which block is on, what is left. Times come from the plan; "begin now" and
// "next block now" move the clock on this device only.
const root = document.querySelector("[data-now]");
const lines = [...document.querySelectorAll("li[data-from]")].map((item) => ({
  item,
  from: Number(item.dataset.from),
  to: Number(item.dataset.to),
  name: item.querySelector("[data-name]").textContent,
}));
const KEY = `court-now-${root?.dataset.now}`;
const part = (name) => root.querySelector(`[data-part="${name}"]`);
const planned = () => new Date(root.dataset.starts).getTime();
const began = () => Number(localStorage.getItem(KEY)) || planned();
const minute = () => (Date.now() - began()) / 60_000;

const clock = (minutes) => {
  const seconds = Math.max(0, Math.ceil(minutes * 60));
  if (seconds >= 6000) return `${Math.floor(seconds / 3600)} h ${String(Math.floor((seconds % 3600) / 60)).padStart(2, "0")}`;
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
};

const draw = () => {
  const at = minute();
  const line = lines.find(({ from, to }) => from <= at && at < to);
  const end = lines[lines.length - 1].to;
  part("title").textContent = line ? line.name : at < 0 ? root.dataset.before : root.dataset.over;
  part("left").textContent = line ? clock(line.to - at) : at < 0 ? clock(-at) : "0:00";
  part("left").classList.toggle("is-short", Boolean(line) && line.to - at < 1);
  part("rest").textContent = clock(Math.min(end, end - at));
  for (const each of lines) {
    each.item.classList.toggle("is-done", each.to <= at);
    if (each === line) each.item.setAttribute("aria-current", "true");
    else each.item.removeAttribute("aria-current");
  }
};

const acts = {
  begin: () => localStorage.setItem(KEY, Date.now()),
  next: () => {
    const at = minute();
    const next = lines.find(({ from }) => from > at);
    if (next) localStorage.setItem(KEY, Date.now() - next.from * 60_000);
  },
  plan: () => localStorage.removeItem(KEY),
};

if (root) {
  part("controls").hidden = false;
  root.addEventListener("click", (event) => {
    const act = acts[event.target.dataset.act];
    if (act) act();
    draw();
  });
  draw();
  setInterval(draw, 500);
}
