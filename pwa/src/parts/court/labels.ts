/** Where the words of a picture go: near what they name, off everything else. */
import type { Px } from "./frame";

export interface Box { readonly x: number; readonly y: number; readonly width: number; readonly height: number }
export interface Segment { readonly from: Px; readonly to: Px }

export interface Wanted {
  readonly key: string;
  readonly text: string;
  readonly size: number;
  readonly anchor: Px;
  /** How far from the anchor the text must keep. [px] */
  readonly clear: number;
  /** Where it would go if nothing else were there. [rad], 0 to the right, positive downwards */
  readonly toward: number;
}

export interface Placed { readonly key: string; readonly text: string; readonly size: number; readonly middle: Px; readonly box: Box }

const LETTER_WIDTH = 0.64; // chosen: share of the size, of the widest usual system font
const AROUND = 24;
const FURTHER = [0, 4, 8, 12, 18, 24, 32, 42, 54];

const sized = (text: string, size: number): { width: number; height: number } => ({ width: text.length * size * LETTER_WIDTH, height: size * 1.15 });
const boxAround = (middle: Px, width: number, height: number): Box => ({ x: middle.x - width / 2, y: middle.y - height / 2, width, height });

/** Returns the area that two boxes share. [px2] */
export function shared(a: Box, b: Box): number {
  const width = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const height = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return width > 0 && height > 0 ? width * height : 0;
}

/** Returns how much of a segment runs through a box. [px] (Liang and Barsky's clipping) */
export function crossing({ from, to }: Segment, box: Box): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  let [enter, leave] = [0, 1];
  const edges: [number, number][] = [
    [-dx, from.x - box.x], [dx, box.x + box.width - from.x], [-dy, from.y - box.y], [dy, box.y + box.height - from.y],
  ];
  for (const [slope, room] of edges) {
    if (slope === 0) {
      if (room < 0) return 0;
    } else if (slope < 0) enter = Math.max(enter, room / slope);
    else leave = Math.min(leave, room / slope);
  }
  return leave > enter ? (leave - enter) * Math.hypot(dx, dy) : 0;
}

const outside = (box: Box, bounds: Box): number => box.width * box.height - shared(box, bounds);

/** Returns the middles to try: the wished way first, then further round and further out. */
function candidates(wanted: Wanted, width: number, height: number): { middle: Px; wish: number }[] {
  return FURTHER.flatMap((further) =>
    Array.from({ length: AROUND }, (_, i) => {
      const step = Math.ceil(i / 2) * (i % 2 === 0 ? 1 : -1);
      const way = wanted.toward + (step * 2 * Math.PI) / AROUND;
      const reach = wanted.clear + further + Math.abs(Math.cos(way)) * (width / 2) + Math.abs(Math.sin(way)) * (height / 2);
      return {
        middle: { x: wanted.anchor.x + Math.cos(way) * reach, y: wanted.anchor.y + Math.sin(way) * reach },
        wish: Math.abs(step) + further,
      };
    }),
  );
}

/** Places each label in turn where it disturbs least: never off the picture, off boxes before off lines. */
export function placeLabels(all: readonly Wanted[], taken: readonly Box[], lines: readonly Segment[], bounds: Box): Placed[] {
  const boxes = [...taken];
  return all.map((wanted) => {
    const { width, height } = sized(wanted.text, wanted.size);
    const cost = ({ middle, wish }: { middle: Px; wish: number }): number => {
      const box = boxAround(middle, width, height);
      const hit = boxes.reduce((sum, other) => sum + shared(box, other), 0);
      const through = lines.reduce((sum, line) => sum + crossing(line, box), 0);
      return 50 * outside(box, bounds) + 10 * hit + 3 * through + wish;
    };
    const best = candidates(wanted, width, height).reduce((a, b) => (cost(b) < cost(a) ? b : a));
    const box = boxAround(best.middle, width, height);
    boxes.push(box);
    return { key: wanted.key, text: wanted.text, size: wanted.size, middle: best.middle, box };
  });
}
