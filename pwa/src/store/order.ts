/** The order of a match's rows on a device: the same on every device that holds the same rows. */

export interface Ordered { readonly id: string; readonly n: number; readonly position: number; readonly stood?: number; readonly event: unknown }

interface Source { readonly device?: unknown; readonly counter?: unknown }
const deviceOf = ({ event }: Ordered): string => String((event as Source).device ?? "");
const counterOf = ({ event, n }: Ordered): number => Number((event as Source).counter ?? n);

/**
 * Returns rows without a position. First those that had one before the service lost them, as they stood. Then each device's in the
 * order of its own counter, whatever its clock did, and of the devices' next rows always the one whose id is the smallest: ids begin
 * with their time, so that is who came first.
 */
export const interleaved = <R extends Ordered>(rows: readonly R[]): readonly R[] =>
  [...rows.filter(({ stood }) => stood).sort((a, b) => (a.stood ?? 0) - (b.stood ?? 0)), ...byDevices(rows.filter(({ stood }) => !stood))];

function byDevices<R extends Ordered>(rows: readonly R[]): readonly R[] {
  const queues = new Map<string, R[]>();
  for (const row of rows) {
    const queue = queues.get(deviceOf(row)) ?? [];
    queues.set(deviceOf(row), queue);
    queue.push(row);
  }
  for (const queue of queues.values()) queue.sort((a, b) => counterOf(b) - counterOf(a) || (a.id < b.id ? 1 : -1)); // the next one last
  const order: R[] = [];
  while (order.length < rows.length) {
    const next = [...queues.values()].filter((queue) => queue.length > 0).reduce((a, b) => ((a.at(-1) as R).id < (b.at(-1) as R).id ? a : b));
    order.push(next.pop() as R);
  }
  return order;
}

/** Returns rows in their order: what the service has taken, by position, then the others interleaved. */
export const inOrder = <R extends Ordered>(rows: readonly R[]): readonly R[] =>
  [...rows.filter(({ position }) => position > 0).sort((a, b) => a.position - b.position), ...interleaved(rows.filter(({ position }) => position === 0))];
