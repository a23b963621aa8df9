import { beforeEach, expect, test } from "vitest";
import type { Call, CallAnswer } from "../api/types";
import { behind, find, lesson, next, ROTATIONS, seenAtOnce, type Lesson } from "./learn";

const worth = (keep: number): Call => ({ keep }) as Call;
const round = ({ serve = worth(0.49), ...part }: Partial<Lesson> = {}): void =>
  lesson.set({ step: "seen", answer: { best: worth(0.5) } as CallAnswer, serve, first: serve, wrong: [], ...part });

beforeEach(() => lesson.set({ step: "find", ahead: ROTATIONS, missed: [], done: [], answer: null, serve: null, first: null, wrong: [] }));

test("a rotation that was seen at once is done and does not come back", () => {
  round();
  next();
  expect(lesson.get()).toMatchObject({ step: "find", ahead: [6, 5, 4, 3, 2], done: [1], missed: [] });
});

test("a serve far behind the best brings the rotation back at the end", () => {
  round({ serve: worth(0.46) });
  next();
  expect(lesson.get()).toMatchObject({ ahead: [6, 5, 4, 3, 2, 1], done: [], missed: [1] });
});

test("taking another player for the setter brings the rotation back, however good the serve", () => {
  find(3);
  find(3);
  expect(lesson.get()).toMatchObject({ step: "find", wrong: [3] });
  find(1);
  expect(lesson.get().step).toBe("spot");
  round({ wrong: lesson.get().wrong });
  next();
  expect(lesson.get().ahead).toEqual([6, 5, 4, 3, 2, 1]);
});

test("it ends when every rotation was seen at once, and what came back is counted once", () => {
  lesson.set({ ahead: [2], done: [1, 6, 5, 4, 3] });
  round({ serve: worth(0.4) });
  next();
  round({ serve: worth(0.4) });
  next();
  round();
  next();
  expect(lesson.get()).toMatchObject({ step: "end", ahead: [], done: [1, 6, 5, 4, 3, 2], missed: [2] });
});

test("a serve that happens to be worth more than the best is not behind it", () => {
  round({ serve: worth(0.5001) });
  expect(behind(lesson.get())).toBe(0);
});

test("a better serve, tried after the best was shown, does not undo the first; nor does a worse one", () => {
  round({ first: worth(0.46), serve: worth(0.5) });
  expect(seenAtOnce(lesson.get())).toBe(false);
  round({ first: worth(0.5), serve: worth(0.4) });
  expect(seenAtOnce(lesson.get())).toBe(true);
});
