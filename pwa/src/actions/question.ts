/** What the user asks, and how it is put to the engine. */
import { SPOT_NAMES } from "../api/types";
import type { CallRequest, Formation, Kind, Level, PasserAsked, Point, Position, SpotName, Stock, StockServer, System } from "../api/types";

/** What was moved by hand while their setter is in one position. */
export interface Places { readonly setter_start?: Point; readonly passers?: readonly PasserAsked[] }

/** What is shown from the start and only sent, as known, once it was chosen. */
export const CHOICES = ["level", "kind", "formation", "system"] as const;
export type Choice = (typeof CHOICES)[number];

export interface Question {
  readonly setter: Position | null;
  readonly level: Level;
  readonly net_height_m: number;
  readonly kind: Kind;
  /** The share of misses allowed; "start" follows the server, null means no ceiling. */
  readonly ceiling: number | "start" | null;
  readonly formation: Formation;
  readonly system: System;
  readonly places: Partial<Record<Position, Places>>;
  readonly pass_target: Point | null;
  readonly spot: Point | null;
  /** Where the server is willing to stand, when no spot is fixed by hand. */
  readonly spots: readonly SpotName[];
  readonly chosen: readonly Choice[];
}

export const START: Question = {
  setter: null, level: "high_school", net_height_m: 2.24, kind: "standing_float", ceiling: "start",
  formation: "three", system: "one_setter", places: {}, pass_target: null, spot: null, spots: SPOT_NAMES, chosen: [],
};

/** A level with one of its nets; the level button steps through these. */
export interface Tier { readonly level: Level; readonly name: string; readonly net_height_m: number }

export function tiers(stock: Stock): Tier[] {
  return stock.levels.flatMap(({ level, name, servers }) =>
    [...new Set(servers.map((s) => s.net_height_m))].map((net_height_m) => ({ level, name, net_height_m })),
  );
}

export const serversOf = (stock: Stock, { level, net_height_m }: Pick<Tier, "level" | "net_height_m">): StockServer[] =>
  (stock.levels.find((l) => l.level === level)?.servers ?? []).filter((s) => s.net_height_m === net_height_m);

/** Returns what was chosen, with one thing more. */
export const withChoice = ({ chosen }: Question, choice: Choice): readonly Choice[] => [...new Set([...chosen, choice])];

/** Moves to another level and net; keeps a chosen kind of serve where that level has it, else takes the level's usual one. */
export function atTier(q: Question, tier: Tier, stock: Stock): Question {
  const kinds = serversOf(stock, tier).map((s) => s.kind);
  const usual = stock.levels.find((l) => l.level === tier.level)?.usual_kind;
  const liked = q.chosen.includes("kind") ? q.kind : undefined;
  const kind = [liked, usual].find((k) => k !== undefined && kinds.includes(k)) ?? kinds[0] ?? q.kind;
  const chosen = withChoice(q, "level").filter((choice) => choice !== "kind" || kind === q.kind);
  return { ...q, level: tier.level, net_height_m: tier.net_height_m, kind, ceiling: "start", chosen: kind === usual ? chosen : withChoice({ ...q, chosen }, "kind") };
}

function policyOf({ ceiling }: Question): CallRequest["policy"] {
  if (ceiling === "start") return { use_start_ceiling: true };
  return ceiling === null ? {} : { error_ceiling: ceiling };
}

function spotsOf({ spot, spots }: Question): Pick<CallRequest["server"], "spots"> {
  if (spot) return { spots: [spot] };
  return spots.length < SPOT_NAMES.length ? { spots } : {};
}

/** Returns the request for a question whose setter is known. */
export function requestOf(q: Question & { setter: Position }): CallRequest {
  const { setter_start, passers } = q.places[q.setter] ?? {};
  const is = (choice: Choice): boolean => q.chosen.includes(choice);
  return {
    ...(is("level") && { level: q.level, net_height_m: q.net_height_m }),
    server: { ...(is("kind") && { kind: q.kind }), ...spotsOf(q) },
    opponent: {
      setter_position: q.setter,
      ...(is("system") && { system: q.system }),
      ...(passers ? { passers } : is("formation") && { formation: q.formation }),
      ...(setter_start && { setter_start }),
      ...(q.pass_target && { pass_target: q.pass_target }),
    },
    policy: policyOf(q),
  };
}

export const asksSomething = (q: Question): q is Question & { setter: Position } => q.setter !== null;

/** Whether anything was moved by hand that counts for the present setter position. */
export const moved = (q: Question): boolean =>
  q.pass_target !== null || q.spot !== null || (q.setter !== null && q.places[q.setter] !== undefined);

/** Whether an answer to one question may be shown for the other while the exact one is on its way. */
export const alike = (a: Question, b: Question): boolean =>
  a.setter === b.setter && a.level === b.level && a.net_height_m === b.net_height_m && a.kind === b.kind;
