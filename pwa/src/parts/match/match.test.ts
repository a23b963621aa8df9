import { expect, test } from "vitest";
import { withPose } from "../../actions/match/hands";
import { bench } from "../../actions/match/numbers";
import type { Course, CourseRally, MatchEvent, SideState, Signals } from "../../api/match";
import type { Row } from "../../store/log";
import { tapped } from "./LandingPad";
import { marksOf, rotated } from "./RunChart";

test("a tap on the landing picture is a place in metres: the middle of the net, the far left corner", () => {
  const height = 206; // 10 m to 200 units, and 6 for the net
  expect(tapped(0.5, 200 / height)).toEqual({ x_m: 0, y_m: 0 });
  expect(tapped(1 / 11, 20 / height)).toEqual({ x_m: -4.5, y_m: 9 });
});

const rally = (us: number, them: number, turns: number): CourseRally => ({
  rally_number: us + them + 1, serving: "us", server: null, points_before: { us, them }, rotations: { us: turns, them: 0 },
  setter_positions: { us: 1, them: null }, winner: null, ending: null, cancelled: false,
});

test("the run chart shows the lead after each rally, the last one from the end of the set", () => {
  const course: Course = { set_number: 1, points: { us: 2, them: 1 }, winner: null, rallies: [rally(0, 0, 0), rally(0, 1, 0), rally(1, 1, 1)] };
  expect(marksOf(course).map(({ lead }) => lead)).toEqual([-1, 0, 1]);
  expect(course.rallies.map((_, i) => rotated(course.rallies, i))).toEqual([false, false, true]);
});

test("who may come in was seen, is not on court; a libero and the player she stands in for too", () => {
  const event = { id: "a", type: "set_started", serving_first: "us", us: { lineup: [1, 2, 3, 4, 5, 6] } } as unknown as MatchEvent;
  const sub = { id: "b", type: "substituted", side: "us", enters: 21, leaves: 3 } as unknown as MatchEvent;
  const rows = [event, sub].map((e) => ({ event: e }) as Row<MatchEvent>);
  const lineup = [1, 2, 21, 4, 5, 13].map((number, i) => ({ position: i + 1, number, libero_for: number === 13 ? 6 : null }));
  expect(bench(rows, "us", { lineup, liberos: [13, 14] } as unknown as SideState)).toEqual([3, 6, 14]);
});

test("a pose that another one has is swapped with it, so that no two look the same", () => {
  const up = (n: number) => [1, 2, 3, 4, 5].map((i) => i <= n);
  const code = { spot: {}, zone: {}, depth: { short: up(0), middle: up(2), deep: up(4) } } as unknown as Signals;
  expect(withPose(code, "depth", "short", up(4)).depth).toEqual({ short: up(4), middle: up(2), deep: up(0) });
  expect(withPose(code, "depth", "short", up(1)).depth).toEqual({ short: up(1), middle: up(2), deep: up(4) });
});
