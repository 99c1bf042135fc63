// A play in motion, without a picture: where a mover is, what is said, which moment comes next.

/**
 * @typedef {{at: number, says: string}} Moment seconds from the start, and its sentence
 */

/**
 * Where a mover is at a time, on straight lines between the samples.
 * @param {number[]} track the samples one after the other
 * @param {number} stride numbers in a sample: 2 for a person, 3 for the ball
 * @param {number} hz samples a second
 * @param {number} seconds
 * @returns {number[]} a sample; the last one after the end
 */
export const placeAt = (track, stride, hz, seconds) => {
  const last = track.length / stride - 1;
  const exact = Math.min(seconds * hz, last);
  const low = Math.min(Math.floor(exact), Math.max(last - 1, 0));
  const high = Math.min(low + 1, last);
  const share = exact - low;
  return Array.from({ length: stride }, (_, k) => {
    const [from, to] = [track[low * stride + k] ?? 0, track[high * stride + k] ?? 0];
    return from + share * (to - from);
  });
};

/**
 * What is said at a time: the sentences of the latest moment, with those a blink before it.
 * @param {Moment[]} moments in order
 * @param {number} seconds
 */
export const saidAt = (moments, seconds) => {
  const said = moments.filter((moment) => moment.at <= seconds + 0.001);
  const latest = said.at(-1)?.at ?? -1;
  return said.filter((moment) => moment.at > latest - 0.05).map((moment) => moment.says).join(" ");
};

/**
 * The next time at which something happens, or the one before.
 * @param {number[]} times in order
 * @param {number} now
 * @param {number} way 1 or -1
 * @param {number} end where the way forth ends
 */
export const nextTime = (times, now, way, end) =>
  way > 0 ? (times.find((at) => at > now + 0.01) ?? end) : (times.findLast((at) => at < now - 0.01) ?? 0);
