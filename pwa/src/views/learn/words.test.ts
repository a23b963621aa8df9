import { expect, test } from "vitest";
import type { Lesson } from "../../actions/learn";
import type { Call, CallAnswer, Position } from "../../api/types";
import { findHint, rule, spotHint, toLearn, verdict } from "./words";

const serve = (keep: number, p_error: number, part: object = {}): Call =>
  ({ keep, p_error, p_in: 1 - p_error, spot: { name: "right_corner", x_m: 4.4 }, passer: { position: 5, label: "5", number: null }, sight_angle_deg: 76, pass_angle_deg: 36, target: { on_the_line: false }, ...part }) as Call;
const BEST = serve(0.56, 0.11);
const LEFT = { spot: { name: "left_corner", x_m: -4.4 } };
const after = (mine: Call): Lesson => ({ serve: mine, answer: { best: BEST } as CallAnswer, wrong: [] as Position[] }) as unknown as Lesson;

test("a serve of the same idea that misses more is called risky, and the line is named", () => {
  const now = after(serve(0.42, 0.35, { target: { on_the_line: true } }));
  expect(verdict(now)).toBe("Good idea, but risky");
  expect(toLearn(now)).toBe("35 of 100 go out or into the net. Aim further from the line.");
});

test("a serve from elsewhere that misses no more was too easy to pass, and the better spot is named", () => {
  const now = after(serve(0.49, 0.07, { ...LEFT, sight_angle_deg: 74, pass_angle_deg: 5 }));
  expect(verdict(now)).toBe("Too easy to pass");
  expect(toLearn(now)).toBe("The passer need not turn the ball much. Better from the right corner."); // 31° less, and 2° less to look
});

test("a good serve after the best was shown says why the rotation comes back", () => {
  expect(toLearn({ ...after(BEST), first: serve(0.4, 0.11) })).toBe("Now you know. Once more, later.");
  expect(toLearn({ ...after(BEST), first: BEST, wrong: [3] })).toContain("hard to find");
  expect(toLearn({ ...after(BEST), first: BEST })).toBe("");
});

test("to another passer from the right spot: the better passer is named", () => {
  expect(toLearn(after(serve(0.49, 0.11, { passer: { position: 6 }, sight_angle_deg: 40 })))).toBe("The passer sees the setter too well. Better to the passer in 5.");
});

test("close is said from 1 to 3 points in 100, as good below", () => {
  expect(verdict(after(serve(0.54, 0.12)))).toBe("Very close!");
  expect(verdict(after(serve(0.555, 0.11)))).toBe("As good as the best!");
});

const RECEIVING = { situation: { players: [{ position: 1, role: "setter" }, { position: 3, role: "passer", x_m: -2.9, y_m: 6.3 }, { position: 6, role: "passer", x_m: 0, y_m: 6.7 }, { position: 2, role: "other" }] } } as unknown as CallAnswer;
const looking = (...wrong: Position[]): string => findHint({ wrong } as unknown as Lesson, RECEIVING);

test("who was tapped instead of the setter is said truly, and after two she is shown", () => {
  expect(looking()).toContain("The big rings pass");
  expect(looking(3)).toContain("She has come from 3 to pass");
  expect(looking(6)).toContain("That is 6, who passes"); // she stands in her own place
  expect(looking(2)).toContain("That one is in 2, at the net, left");
  expect(looking(3, 2)).toContain("Here she is");
});

const rotation = (setter_x: number, spot_x: number): CallAnswer => ({ situation: { setter_start: { x_m: setter_x } }, best: { spot: { x_m: spot_x } } }) as CallAnswer;

test("the rule of the other side is only said when every best serve follows it", () => {
  const answers = { 1: rotation(-3, 4.4), 6: rotation(0, 4.4), 5: rotation(3, -4.4) };
  expect(rule({ answers } as unknown as Lesson)).toContain("from the other side");
  expect(rule({ answers: { ...answers, 4: rotation(3, 4.4) } } as unknown as Lesson)).toContain("changes with her");
});

test("the hint of the other side is only given where it is best", () => {
  expect(spotHint(rotation(-3, 4.4))).toContain("the side away from her");
  expect(spotHint(rotation(-3, -4.4))).not.toContain("side");
  expect(spotHint(rotation(0, 4.4))).not.toContain("side"); // she starts in the middle
});
