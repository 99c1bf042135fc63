// Seconds as people read them.

/**
 * Minutes and seconds; from 100 minutes on hours and minutes. What is over is 0:00.
 * @param {number} seconds whole ones
 */
export const clock = (seconds) => {
  const left = Math.max(0, seconds);
  if (left >= 6000) return `${Math.floor(left / 3600)} h ${two(Math.floor((left % 3600) / 60))}`;
  return `${Math.floor(left / 60)}:${two(left % 60)}`;
};

/** @param {number} number */
const two = (number) => String(number).padStart(2, "0");
