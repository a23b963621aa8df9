import { expect, test } from "vitest";
import type { Kind, Stock, StockServer } from "../api/types";
import { alike, atTier, moved, requestOf, serversOf, START, tiers, type Question } from "./question";

const server = (kind: Kind, net_height_m: number): StockServer => ({
  kind, name: kind, net_height_m, start_error_ceiling: 0.1, service_line_m: 9, speeds_m_s: [15], contact_height_m: 2.4, contact_inside_m: 0.2, spin_rev_s: 0.5,
});
const STOCK: Stock = {
  start_level: "high_school",
  levels: [
    { level: "high_school", name: "High school", net_height_m: 2.24, start_error_ceiling: 0.12, usual_kind: "standing_float", servers: [server("standing_float", 2.24), server("jump_float", 2.24), server("jump_topspin", 2.43)] },
    { level: "elite_men", name: "Elite men", net_height_m: 2.43, start_error_ceiling: 0.1, usual_kind: "jump_float", servers: [server("jump_topspin", 2.43), server("jump_float", 2.43)] },
  ],
  formations: ["three"],
  systems: ["one_setter"],
  kinds: [],
  signals: { spot: {}, zone: {}, depth: {} } as Stock["signals"],
};
const asked = (part: Partial<Question>) => ({ ...START, setter: 4, ...part }) as Question & { setter: 4 };

test("nothing but the setter is enough for a request", () => {
  expect(requestOf(asked({}))).toEqual({
    server: {}, opponent: { setter_position: 4 }, policy: { use_start_ceiling: true },
  });
});

test("what was chosen is sent as known, also when it is what would be assumed", () => {
  expect(requestOf(asked({ chosen: ["level", "kind", "formation", "system"] }))).toEqual({
    level: "high_school", net_height_m: 2.24, server: { kind: "standing_float" },
    opponent: { setter_position: 4, system: "one_setter", formation: "three" },
    policy: { use_start_ceiling: true },
  });
});

test("what was moved by hand is sent for its own setter position only", () => {
  const places = { 4: { setter_start: { x_m: 2, y_m: 2 }, passers: [{ x_m: 1, y_m: 7, position: 6 as const }] } };
  const request = requestOf(asked({ places, pass_target: { x_m: -0.5, y_m: 1 }, spot: { x_m: 3, y_m: -9.5 } }));
  expect(request.opponent).toEqual({
    setter_position: 4, setter_start: { x_m: 2, y_m: 2 }, pass_target: { x_m: -0.5, y_m: 1 }, passers: [{ x_m: 1, y_m: 7, position: 6 }],
  });
  expect(request.server.spots).toEqual([{ x_m: 3, y_m: -9.5 }]);
  expect(requestOf({ ...asked({ places }), setter: 5 }).opponent).not.toHaveProperty("passers");
});

test("a ceiling is the start's, a share, or none at all", () => {
  expect(requestOf(asked({ ceiling: 0.15 })).policy).toEqual({ error_ceiling: 0.15 });
  expect(requestOf(asked({ ceiling: null })).policy).toEqual({});
});

test("a level with two nets is two steps of the level button", () => {
  expect(tiers(STOCK).map((t) => [t.level, t.net_height_m])).toEqual([["high_school", 2.24], ["high_school", 2.43], ["elite_men", 2.43]]);
  expect(serversOf(STOCK, { level: "high_school", net_height_m: 2.43 }).map((s) => s.kind)).toEqual(["jump_topspin"]);
});

test("a change of level keeps the kind of serve where it can, and starts at that level's ceiling", () => {
  const men = tiers(STOCK)[2] as ReturnType<typeof tiers>[number];
  const chosen = ["kind"] as const;
  expect(atTier(asked({ kind: "jump_topspin", chosen, ceiling: 0.2 }), men, STOCK)).toMatchObject({ level: "elite_men", kind: "jump_topspin", ceiling: "start", chosen: ["kind", "level"] });
  expect(atTier(asked({ kind: "standing_float", chosen }), men, STOCK)).toMatchObject({ kind: "jump_float", chosen: ["level"] });
  expect(atTier(asked({ kind: "jump_topspin" }), men, STOCK)).toMatchObject({ kind: "jump_float", chosen: ["level"] });
});

test("answers are alike while only places and ceiling change", () => {
  expect(alike(asked({}), asked({ ceiling: 0.2, spot: { x_m: 0, y_m: -9.2 } }))).toBe(true);
  expect(alike(asked({}), { ...asked({}), setter: 5 })).toBe(false);
  expect(moved(asked({}))).toBe(false);
  expect(moved(asked({ places: { 4: { setter_start: { x_m: 0, y_m: 1 } } } }))).toBe(true);
  expect(moved(asked({ places: { 5: { setter_start: { x_m: 0, y_m: 1 } } } }))).toBe(false);
});
