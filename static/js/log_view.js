// Showing the courtside log: what the page carries in, drawn into its elements.

export const data = JSON.parse(document.getElementById("log-data")?.textContent || "null");
export const part = (name) => document.querySelector(`[data-log="${name}"]`);
export const said = (key, slots = {}) =>
  Object.entries(slots).reduce((text, [name, value]) => text.replace(`{${name}}`, value), data.words[key] || key);

const people = new Map((data?.players || []).map((player) => [player.id, player]));
const MARKS = { open: "…", waiting: "○", kept: "✓", held: "?", refused: "!" };

export const nameOf = (id) => people.get(id)?.name || said("nobody");

const made = (tag, text, marks = {}) => {
  const element = document.createElement(tag);
  element.textContent = text;
  for (const [name, value] of Object.entries(marks)) element.setAttribute(name, value);
  return element;
};

export const button = (text, classes, pressed, act) => {
  const element = made("button", text, { type: "button", class: classes });
  if (pressed !== null) element.setAttribute("aria-pressed", String(pressed));
  element.addEventListener("click", act);
  return element;
};

const option = (value, text) => made("option", text, { value });

export const fillChoices = () => {
  part("play").replaceChildren(...data.plays.map((play) => option(play.id, play.call)));
  part("unit").replaceChildren(option("", said("all_units")), ...data.units.map((unit) => option(unit.id, unit.name)));
};

export const showModes = (mode, act) =>
  part("modes").replaceChildren(...data.modes.map(([value, label]) => button(label, "log-mode", value === mode, () => act(value))));

export const showFive = (where, five, act, chosen = null) =>
  part(where).replaceChildren(
    ...five.map((id, index) => {
      const role = String(index + 1);
      const element = button("", `log-role${id ? "" : " is-empty"}`, chosen === null ? null : chosen === role, () => act(role));
      element.append(made("span", role, { class: "role-disc" }), made("span", nameOf(id), { class: "log-name" }));
      return element;
    }),
  );

export const showSlips = (act) =>
  part("slips").replaceChildren(...data.slips.map(([value, label]) => button(label, "button second", null, () => act(value))));

// Everybody who may stand in a role, those who cannot last; swapping two roles is allowed.
export const showPeople = (role, five, live, act) => {
  part("swap-title").textContent = said("who", { role });
  const shut = (player) => player.out;
  const order = (player) => Number(player.away) + 2 * Number(shut(player));
  part("people").replaceChildren(
    ...[...data.players].sort((a, b) => order(a) - order(b)).map((player) => {
      const place = five.indexOf(player.id);
      const hints = [
        place >= 0 && said("in_role", { role: place + 1 }),
        player.away && said("away"),
        player.out && said("out"),
        live && player.limited && said("limited"),
      ].filter(Boolean);
      const element = button(`${player.name} (${player.number})`, "log-person", place === Number(role) - 1, () => act(player.id));
      if (hints.length) element.append(made("span", hints.join(", "), { class: "small" }));
      element.disabled = shut(player);
      return element;
    }),
  );
  part("swap").showModal();
};

const callOf = (id) => data.plays.find((play) => play.id === id)?.call || "";
const slipOf = (value) => data.slips.find(([key]) => key === value)?.[1] || "";

export const showLast = (records, undone) =>
  part("last").replaceChildren(
    ...records.filter((record) => record.tap.kind === "rep").slice(-4).reverse().map((record) => {
      const { tap } = record;
      const details = tap.clean ? "" : ` ${tap.erred ? `${tap.erred} ${nameOf(tap.cast[tap.erred])}` : ""} ${slipOf(tap.slip)}`;
      const line = made("li", "", { class: undone.has(tap.id) ? "is-undone" : "", "data-state": record.state });
      const word = undone.has(tap.id) ? said("undone") : said(tap.clean ? "clean" : "error");
      line.append(
        made("span", `${MARKS[record.state]} `, { "aria-hidden": "true" }),
        made("span", word, { class: `mark mark-${undone.has(tap.id) ? "none" : tap.clean ? "good" : "bad"}` }),
        made("span", `${details} · ${callOf(tap.play)}`, { class: "small" }),
      );
      return line;
    }),
  );
