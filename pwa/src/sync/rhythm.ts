/** When to try again: soon after the first failure, ever more rarely, and never all devices at once. */

export const EVERY_MS = 5000; // chosen: what another phone logs is here within some seconds
const FIRST_MS = 1000; // chosen
const LONGEST_MS = 60_000; // chosen: a server that comes back is noticed within a minute
const SPREAD = 0.25; // chosen: so that the phones of a hall do not knock together

/**
 * Returns how long to wait before the next exchange. [ms]
 *
 * failures: in a row until now; 0 after a success. wait_s: what the service asked for. chance: 0 to 1.
 */
export function pauseAfter(failures: number, wait_s = 0, chance: number = Math.random()): number {
  const base_ms = failures === 0 ? EVERY_MS : Math.min(LONGEST_MS, FIRST_MS * 2 ** (failures - 1));
  return Math.max(base_ms * (1 + SPREAD * (2 * chance - 1)), wait_s * 1000);
}
