import type { Frame } from "./frame";
import { pathOf } from "./curves";

const at = (x_m: number, y_m: number) => ({ x_m, y_m });

/**
 * The court itself: 18 m by 9 m, attack lines 3 m from the net, the short lines that end the service
 * zone (FIVB 1.1, 1.3, 1.4.2); and the line served from behind, where it is moved up for the youngest.
 */
export function Lines({ frame, service_line_m }: { frame: Frame; service_line_m: number }) {
  const line = (...places: [number, number][]) => pathOf(frame, places.map(([x, y]) => at(x, y)));
  return (
    <g class="lines" aria-hidden="true">
      <path class="court" d={pathOf(frame, [at(-4.5, -9), at(4.5, -9), at(4.5, 9), at(-4.5, 9)], true)} />
      <path class="thin" d={`${line([-4.5, 3], [4.5, 3])} ${line([-4.5, -3], [4.5, -3])}`} />
      <path class="thin" d={`${line([-4.5, -9.2], [-4.5, -9.6])} ${line([4.5, -9.2], [4.5, -9.6])}`} />
      {service_line_m < 9 && <path class="moved-up" d={line([-4.5, -service_line_m], [4.5, -service_line_m])} />}
      <path class="net" d={line([-5, 0], [5, 0])} />
    </g>
  );
}
