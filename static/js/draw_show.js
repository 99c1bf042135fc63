// Which answer is before their eyes: the newest one, of the page that they have turned to, and none
// put there while the hand is at work.
// @ts-check
import { opens } from "./draw_ahead.js";
import { drawn, exchange, partOf } from "./draw_part.js";

/** @typedef {import("./draw_store.js").Step} Step */
/** @typedef {{phase: string, counter: string}} Turned the phase and the counter that are looked at */

/** @returns {Turned} */
export const turnedTo = () => {
  const { phase = "1", counter = "" } = drawn().dataset;
  return { phase, counter };
};

/**
 * @param {{
 *   fetch: (phase: string, counter: string) => Promise<string | null>,
 *   busy: () => boolean,
 *   shown: () => void,
 *   away: () => void,
 * }} door ``busy``: whether the hand is at work; ``shown`` is called once another part is there
 */
export function showing(door) {
  let late = ""; // an answer that came while the hand was at work
  let asked = 0; // pages asked for, and answers to steps: what was asked before is older
  /** @type {Turned | null} */
  let wanted = null; // asked for and not there yet

  /** @param {string} text a part of the page */
  const show = (text) => {
    if (door.busy()) late = text;
    else if (exchange(text)) door.shown();
  };
  /** @param {Turned} to */
  const turn = async (to) => {
    asked += 1;
    const mine = asked;
    wanted = to;
    const text = await door.fetch(to.phase, to.counter);
    if (mine !== asked) return;
    wanted = null;
    if (text === null) door.away();
    else show(text);
  };
  return {
    turn,
    /** What a step has led to; who has turned to another page meanwhile sees that one as it is now.
     * @param {Step} step @param {string} text */
    answered: (step, text) => {
      const to = wanted ?? turnedTo();
      if (!opens(step) && (to.phase !== step.phase || to.counter !== step.counter)) return void turn(to);
      asked += 1;
      wanted = null;
      show(text);
    },
    /** The hand rests: what came meanwhile is shown. */
    ended: () => {
      const text = late;
      late = "";
      if (text) show(text);
    },
    /** The newest content that this window knows: its name, and the document. */
    newest: () => {
      const { seen = "", document = "" } = (late ? partOf(late) : drawn())?.dataset ?? {};
      return { seen, document };
    },
  };
}
