/** From metres on the floor to pixels in a picture, and back. x grows to the server's right, y away from her. */
import type { Limits, Point } from "../../api/types";

export interface Px { readonly x: number; readonly y: number }

export interface Frame {
  readonly width: number;
  readonly height: number;
  /** Pixels per metre; in a view it is that at the net. */
  readonly scale: number;
  /** How large rings and letters are drawn, 1 on a phone. */
  readonly sign: number;
  at(place: Point): Px;
}

/** A picture from above: the same scale everywhere, so that pixels lead back to metres. */
export interface Plan extends Frame {
  readonly turned: boolean;
  back(px: Px): Point;
}

/** The part of the floor that a plan shows: the court, room for a ring or an ellipse around it, and for the server. [m] */
export const SHOWN: Limits = { x_min_m: -5.4, x_max_m: 5.4, y_min_m: -10.6, y_max_m: 9.9 };
export const PLAN_SHAPE = (SHOWN.x_max_m - SHOWN.x_min_m) / (SHOWN.y_max_m - SHOWN.y_min_m);

const signFor = (scale: number): number => Math.min(Math.max(scale / 22, 0.85), 1.35);

/** Their half of it, for their formation. [m] */
export const THEIR_HALF: Limits = { ...SHOWN, y_min_m: -0.4 };

/** Returns a plan that fills the width or the height; turned, the server is at the top. */
export function planFrame(width: number, height: number, turned: boolean, shown: Limits = SHOWN): Plan {
  const scale = Math.min(width / (shown.x_max_m - shown.x_min_m), height / (shown.y_max_m - shown.y_min_m));
  const sign = turned ? -1 : 1;
  const middle = { x_m: (shown.x_min_m + shown.x_max_m) / 2, y_m: (shown.y_min_m + shown.y_max_m) / 2 };
  return {
    width, height, scale, turned, sign: signFor(scale),
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

const EYE_BEHIND_M = 24; // chosen: far enough behind the net for the far half to stay readable
const EYE_HEIGHT_M = { low: 6, high: 120 }; // chosen: from a low gallery to nearly straight above
const LOOKS_AT_M = 0.5; // chosen: just beyond the net

/** Returns one place as the eye behind the server sees it: right, up and depth, before scaling. */
function seen({ x_m, y_m }: Point, eye_height_m: number): { right: number; up: number; depth: number } {
  const away = EYE_BEHIND_M + LOOKS_AT_M;
  const slope = Math.hypot(away, eye_height_m);
  const [cos, sin] = [away / slope, eye_height_m / slope];
  const ahead = y_m + EYE_BEHIND_M;
  const depth = ahead * cos + eye_height_m * sin;
  return { right: x_m / depth, up: (ahead * sin - eye_height_m * cos) / depth, depth };
}

/** Returns how wide and how tall the floor shown looks from an eye of this height, before scaling. */
function extent(eye_height_m: number): { width: number; low: number; high: number } {
  const near = seen({ x_m: SHOWN.x_max_m, y_m: SHOWN.y_min_m }, eye_height_m);
  const far = seen({ x_m: 0, y_m: SHOWN.y_max_m }, eye_height_m);
  return { width: 2 * near.right, low: near.up, high: far.up };
}

/** Returns the eye height whose view fills a box of this shape: the flatter the box, the lower the eye. [m] */
function eyeHeightFor(shape: number): number {
  let { low, high } = EYE_HEIGHT_M;
  for (let i = 0; i < 30; i += 1) {
    const middle = (low + high) / 2;
    const view = extent(middle);
    if (view.width / (view.high - view.low) > shape) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Returns the view from behind and above the server, as large as the box allows, centred in it. */
export function viewFrame(width: number, height: number): Frame {
  const eye_m = eyeHeightFor(width / height);
  const view = extent(eye_m);
  const stretch = Math.min(width / view.width, height / (view.high - view.low));
  const middle = (view.high + view.low) / 2;
  const scale = stretch / seen({ x_m: 0, y_m: 0 }, eye_m).depth;
  return {
    width, height, scale, sign: signFor(scale),
    at: (place) => {
      const { right, up } = seen(place, eye_m);
      return { x: width / 2 + stretch * right, y: height / 2 - stretch * (up - middle) };
    },
  };
}
