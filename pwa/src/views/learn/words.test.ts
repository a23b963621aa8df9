import { expect, test } from "vitest";
import type { Lesson } from "../../actions/learn";
import type { Call, CallAnswer, Position } from "../../api/types";
import { findHint, rule, toLearn, verdict } from "./words";

const serve = (keep: number, p_error: number, part: object = {}): Call =>
  ({ keep, p_error, p_in: 1 - p_error, spot: { name: "right_corner", x_m: 4.4 }, passer: { position: 5, label: "5" }, target: { on_the_line: false }, ...part }) as Call;
const BEST = serve(0.56, 0.11);
const LEFT = { spot: { name: "left_corner", x_m: -4.4 } };
const after = (mine: Call): Lesson => ({ serve: mine, answer: { best: BEST } as CallAnswer, wrong: [] as Position[] }) as unknown as Lesson;

test("a serve of the same idea that misses more is called risky, and the line is named", () => {
  const now = after(serve(0.42, 0.35, { target: { on_the_line: true } }));
  expect(verdict(now)).toBe("Good idea, but risky");
  expect(toLearn(now)).toBe("35 of 100 go out or into the net. Aim further from the line.");
});

test("a serve from elsewhere that misses no more was too easy to pass, and the better spot is named", () => {
  const now = after(serve(0.49, 0.07, LEFT));
  expect(verdict(now)).toBe("Too easy to pass");
  expect(toLearn(now)).toContain("Better from the right corner.");
});

test("to another passer from the right spot: the better passer is named", () => {
  expect(toLearn(after(serve(0.49, 0.11, { passer: { position: 6, label: "6" } })))).toContain("Better to the passer in 5.");
});

test("close is said from 1 to 3 points in 100, as good below", () => {
  expect(verdict(after(serve(0.54, 0.12)))).toBe("Very close!");
  expect(verdict(after(serve(0.555, 0.11)))).toBe("As good as the best!");
});

const RECEIVING = { situation: { players: [{ position: 1, role: "setter" }, { position: 3, role: "passer" }, { position: 2, role: "other" }] } } as unknown as CallAnswer;
const looking = (...wrong: Position[]): string => findHint({ wrong } as unknown as Lesson, RECEIVING);

test("who was tapped instead of the setter is said truly, and after two she is shown", () => {
  expect(looking()).toContain("The big rings pass");
  expect(looking(3)).toContain("She has come from 3 to pass");
  expect(looking(2)).toContain("That one is in 2, at the net, left");
  expect(looking(3, 2)).toContain("Here she is");
});

const rotation = (setter_x: number, spot_x: number): CallAnswer => ({ situation: { setter_start: { x_m: setter_x } }, best: { spot: { x_m: spot_x } } }) as CallAnswer;

test("the rule of the other side is only said when every best serve follows it", () => {
  const answers = { 1: rotation(-3, 4.4), 6: rotation(0, 4.4), 5: rotation(3, -4.4) };
  expect(rule({ answers } as unknown as Lesson)).toContain("from the other side");
  expect(rule({ answers: { ...answers, 4: rotation(3, 4.4) } } as unknown as Lesson)).toContain("changes with her");
});
