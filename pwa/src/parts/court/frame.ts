/** From metres on the floor to pixels in a picture, and back. x grows to the server's right, y away from her. */
import type { Limits, Point } from "../../api/types";

export interface Px { readonly x: number; readonly y: number }

export interface Frame {
  readonly width: number;
  readonly height: number;
  /** Pixels per metre; in a view it is that at the net. */
  readonly scale: number;
  at(place: Point): Px;
}

/** A picture from above: the same scale everywhere, so that pixels lead back to metres. */
export interface Plan extends Frame {
  readonly turned: boolean;
  readonly shown: Limits;
  back(px: Px): Point;
}

/** The part of the floor that a plan shows: the court, room for a ring or an ellipse around it, and for the server. [m] */
export const SHOWN: Limits = { x_min_m: -5.4, x_max_m: 5.4, y_min_m: -10.6, y_max_m: 9.9 };
export const PLAN_SHAPE = (SHOWN.x_max_m - SHOWN.x_min_m) / (SHOWN.y_max_m - SHOWN.y_min_m);

/** Returns a plan that fills the width or the height; turned, the server is at the top. */
export function planFrame(width: number, height: number, turned: boolean): Plan {
  const scale = Math.min(width / (SHOWN.x_max_m - SHOWN.x_min_m), height / (SHOWN.y_max_m - SHOWN.y_min_m));
  const sign = turned ? -1 : 1;
  const middle = { x_m: (SHOWN.x_min_m + SHOWN.x_max_m) / 2, y_m: (SHOWN.y_min_m + SHOWN.y_max_m) / 2 };
  return {
    width, height, scale, turned, shown: SHOWN,
    at: ({ x_m, y_m }) => ({
      x: width / 2 + sign * scale * (x_m - middle.x_m),
      y: height / 2 - sign * scale * (y_m - middle.y_m),
    }),
    back: ({ x, y }) => ({
      x_m: middle.x_m + (sign * (x - width / 2)) / scale,
      y_m: middle.y_m - (sign * (y - height / 2)) / scale,
    }),
  };
}

const EYE_BEHIND_M = 19; // chosen: far enough behind the net for the far half to stay readable
const EYE_HEIGHT_M = 15; // chosen: as from a gallery behind the server
const LOOKS_AT_M = 0.5; // chosen: just beyond the net

/** Returns one place as seen by the eye behind the server: right, up and depth, before scaling. */
function seen({ x_m, y_m }: Point): { right: number; up: number; depth: number } {
  const away = EYE_BEHIND_M + LOOKS_AT_M;
  const length = Math.hypot(away, EYE_HEIGHT_M);
  const [cos, sin] = [away / length, EYE_HEIGHT_M / length];
  const ahead = y_m + EYE_BEHIND_M;
  const depth = ahead * cos + EYE_HEIGHT_M * sin;
  return { right: x_m / depth, up: (ahead * sin - EYE_HEIGHT_M * cos) / depth, depth };
}

/** Returns the view from behind and above the server, as large as the box allows, centred in it. */
export function viewFrame(width: number, height: number): Frame {
  const near = seen({ x_m: SHOWN.x_max_m, y_m: SHOWN.y_min_m });
  const far = seen({ x_m: 0, y_m: SHOWN.y_max_m });
  const stretch = Math.min(width / (2 * near.right), height / (far.up - near.up));
  const middle = (far.up + near.up) / 2;
  return {
    width, height, scale: stretch / seen({ x_m: 0, y_m: 0 }).depth,
    at: (place) => {
      const { right, up } = seen(place);
      return { x: width / 2 + stretch * right, y: height / 2 - stretch * (up - middle) };
    },
  };
}
