// A play in motion. The server sends where everybody and the ball are so many times a second,
// and the sentences of what happens; here they are only shown, in between on straight lines.
// Nothing plays by itself, and who asks for less motion goes from moment to moment instead.
(() => {
  const LESS_MOTION = window.matchMedia("(prefers-reduced-motion: reduce)");
  const LIFT = 7; // points that a ball rises in the picture for each metre of height
  const TENTH = 0.1;

  class Stage {
    constructor(box, data) {
      this.box = box;
      this.data = data;
      this.now = 0;
      this.before = null; // the time stamp of the last frame, null while paused
      this.scale = Number(box.dataset.scale);
      this.movers = [...this.things("mover", data.roles, 2), ...this.things("guard", data.defenders || {}, 2)];
      this.movers.push(...this.things("mover", { ball: data.ball }, 3));
      this.marks = [...new Set(data.moments.map((moment) => moment.at))];
      this.parts = {};
      for (const part of box.querySelectorAll("[data-part]")) this.parts[part.dataset.part] ??= part;
      this.listen();
      this.parts.controls.hidden = false;
      this.parts.time.max = data.end;
      this.bringOut(this.parts.role.value);
      this.label();
      this.show(0);
    }

    things(kind, places, stride) {
      return Object.entries(places).map(([name, track]) => ({
        shape: this.box.querySelector(`svg [data-${kind}="${name}"]`), track, stride,
      })).filter((thing) => thing.shape);
    }

    listen() {
      const { play, back, forth, time, role } = this.parts;
      play.addEventListener("click", () => this.toggle());
      back.addEventListener("click", () => this.step(-1));
      forth.addEventListener("click", () => this.step(1));
      time.addEventListener("input", () => { this.pause(); this.show(Number(time.value)); });
      role.addEventListener("change", () => this.bringOut(role.value));
      this.box.addEventListener("keydown", (event) => this.key(event));
    }

    key(event) {
      const on = event.target;
      if (on.matches("select") || event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key === " " && !on.matches("button, [type=checkbox]")) this.toggle();
      else if (event.key === "Home") this.go(0);
      else if (event.key === "End") this.go(this.data.end);
      else if (event.key === "ArrowRight") event.shiftKey ? this.step(1) : this.go(this.now + TENTH);
      else if (event.key === "ArrowLeft") event.shiftKey ? this.step(-1) : this.go(this.now - TENTH);
      else return;
      event.preventDefault();
    }

    get playing() { return this.before !== null; }

    toggle() {
      if (LESS_MOTION.matches) this.step(1);
      else if (this.playing) this.pause();
      else this.start();
    }

    start() {
      if (this.now >= this.data.end - 0.01) this.show(0);
      this.before = performance.now();
      this.parts.says.removeAttribute("aria-live");
      this.label();
      requestAnimationFrame((stamp) => this.frame(stamp));
    }

    pause() {
      this.before = null;
      this.parts.says.setAttribute("aria-live", "polite");
      this.label();
    }

    frame(stamp) {
      if (!this.playing || !this.box.isConnected) return;
      const speed = this.parts.slow.checked ? 0.5 : 1;
      this.show(this.now + speed * Math.max(stamp - this.before, 0) / 1000);
      this.before = stamp;
      if (this.now >= this.data.end) this.pause();
      else requestAnimationFrame((next) => this.frame(next));
    }

    label() {
      const { play, pause, next } = this.box.dataset;
      this.parts.play.textContent = LESS_MOTION.matches ? next : this.playing ? pause : play;
    }

    // To the next moment at which something happens, or back to the one before.
    step(way) {
      const found = way > 0 ? this.marks.find((at) => at > this.now + 0.01) : this.marks.findLast((at) => at < this.now - 0.01);
      this.go(found ?? (way > 0 ? this.data.end : 0));
    }

    go(seconds) {
      this.pause();
      this.show(seconds);
    }

    show(seconds) {
      this.now = Math.min(Math.max(seconds, 0), this.data.end);
      for (const thing of this.movers) this.place(thing);
      const said = this.data.moments.filter((moment) => moment.at <= this.now + 0.001);
      const latest = said.length ? said[said.length - 1].at : -1;
      const text = said.filter((moment) => moment.at > latest - 0.05).map((moment) => moment.says).join(" ");
      if (this.parts.says.textContent !== text) this.parts.says.textContent = text;
      const clock = this.now.toLocaleString(document.documentElement.lang, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
      this.parts.clock.textContent = `${clock} s`;
      this.parts.time.value = this.now;
      this.parts.time.setAttribute("aria-valuetext", `${clock} s`);
      this.box.dataset.now = this.now.toFixed(2);
      for (const line of document.querySelectorAll('.strip [data-part="now"]')) {
        line.setAttribute("transform", `translate(${(this.now * Number(line.dataset.unit)).toFixed(1)} 0)`);
      }
    }

    place({ shape, track, stride }) {
      const last = track.length / stride - 1;
      const exact = Math.min(this.now * this.data.hz, last);
      const low = Math.min(Math.floor(exact), Math.max(last - 1, 0));
      const share = exact - low;
      const at = (k) => track[low * stride + k] + share * (track[Math.min(low + 1, last) * stride + k] - track[low * stride + k]);
      const x = (at(0) - track[0]) * this.scale;
      let y = (at(1) - track[1]) * this.scale;
      if (stride === 3) y -= (at(2) - track[2]) * LIFT;
      shape.setAttribute("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
    }

    bringOut(role) {
      this.box.classList.toggle("has-own", role !== "");
      for (const shape of this.box.querySelectorAll("svg [data-mover], svg [data-guard], svg [data-way]")) {
        const mine = [shape.dataset.mover, shape.dataset.guard, shape.dataset.way].includes(role);
        shape.classList.toggle("is-own", role !== "" && mine);
      }
    }
  }

  const setUp = () => {
    for (const box of document.querySelectorAll(".stage[data-motion]:not([data-ready])")) {
      box.dataset.ready = "asked";
      fetch(box.dataset.motion, { headers: { Accept: "application/json" } })
        .then((answer) => (answer.ok ? answer.json() : Promise.reject(new Error(answer.status))))
        .then((data) => { box.stage = new Stage(box, data); box.dataset.ready = "yes"; })
        .catch(() => { box.querySelector("[data-part=says]").textContent = box.dataset.fault; });
    }
    for (const button of document.querySelectorAll(".needs-script[hidden]")) button.hidden = false;
  };

  // A finding's button shows its moment.
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-at]");
    const box = document.querySelector(".stage");
    if (!button || !box?.stage) return;
    box.stage.go(Number(button.dataset.at));
    box.scrollIntoView({ block: "nearest" });
  });
  LESS_MOTION.addEventListener("change", () => {
    for (const box of document.querySelectorAll(".stage")) if (box.stage) box.stage.pause();
  });
  document.addEventListener("DOMContentLoaded", setUp);
  document.addEventListener("htmx:afterSettle", setUp);
})();
