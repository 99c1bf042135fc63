// Steps on their way to the server: one after the other, kept until it has them.
// @ts-check

/** @typedef {import("./draw_store.js").Step} Step */
/** @typedef {{kind: "done", seen: string} | {kind: "refused", said: string} | {kind: "changed", said: string}
 * | {kind: "gone"} | {kind: "away"}} Answer */

/**
 * @param {{
 *   keep: (waiting: {base: string, steps: Step[]}) => void,
 *   post: (step: Step, seen: string) => Promise<Answer>,
 *   done: (step: Step) => void,
 *   opened: () => {phase: string, counter: string, phaseId: string},
 *   refused: (said: string) => void,
 *   changed: (said: string) => void,
 *   gone: () => void,
 *   away: () => void,
 *   later: (again: () => void) => void,
 * }} door ``opened``: what the newest answer shows
 * @param {{base: string, steps: Step[]}} waiting
 */
export function sender(door, waiting) {
  let busy = false;
  let halted = false;
  /** @type {Step | null} */
  let tried = null; // the server may have it, even where its answer got lost

  /**
   * Steps made while a phase or a counter was on its way belong into it; refused, it takes them along.
   * @param {string} opening @param {ReturnType<typeof door.opened> | null} to
   */
  const follow = (opening, to) => {
    const inside = waiting.steps.filter(({ into }) => into && into === opening);
    if (!to) waiting.steps = waiting.steps.filter((one) => !inside.includes(one));
    const { phase, counter, phaseId } = to ?? { phase: "", counter: "", phaseId: "" };
    for (const each of inside) {
      const command = JSON.parse(each.command);
      if (command.phase) command.phase = phaseId;
      Object.assign(each, { phase, counter, command: JSON.stringify(command) });
    }
  };

  const run = async () => {
    if (busy || halted) return;
    busy = true;
    while (waiting.steps.length && !halted) {
      const step = waiting.steps[0];
      tried = step;
      const answer = await door.post(step, waiting.base);
      if (answer.kind === "away") {
        door.away();
        door.later(() => { void run(); });
        break;
      }
      if (answer.kind === "changed" || answer.kind === "gone") {
        halted = true;
        if (answer.kind === "gone") door.gone();
        else door.changed(answer.said);
        break;
      }
      waiting.steps.shift();
      if (answer.kind === "done") waiting.base = answer.seen;
      follow(step.once, answer.kind === "done" ? door.opened() : null);
      door.keep(waiting);
      if (answer.kind === "done") door.done(step);
      else door.refused(answer.said);
    }
    busy = false;
  };

  return {
    /** @param {Step} step @param {string} seen the content before their eyes */
    add: (step, seen) => {
      if (!waiting.steps.length) waiting.base = seen;
      waiting.steps.push(step);
      door.keep(waiting);
      void run();
    },
    /** Begins with what was kept, or tries again. */
    run,
    /** After somebody else's change: on to the newest state, with the steps or without.
     * @param {string} seen @param {boolean} withSteps */
    resume: (seen, withSteps) => {
      waiting.base = seen;
      if (!withSteps) waiting.steps.length = 0;
      door.keep(waiting);
      halted = false;
      void run();
    },
    idle: () => waiting.steps.length === 0,
    /** What the server does not have yet. */
    steps: () => waiting.steps,
    /** Drops the newest step, if it never left the device. @returns {boolean} whether it did */
    drop: () => {
      if (!waiting.steps.length || waiting.steps.at(-1) === tried) return false;
      waiting.steps.pop();
      door.keep(waiting);
      return true;
    },
  };
}
