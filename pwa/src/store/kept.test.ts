import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { forgetBelow, keep, recall } from "./kept";
import { createStore } from "./store";

test("what is kept is recalled, and what never was is undefined", async () => {
  await keep("settings", { length: "ft" });
  expect(await recall("settings")).toEqual({ length: "ft" });
  expect(await recall("last")).toBeUndefined();
});

test("keeping again replaces", async () => {
  await keep("question", { setter: 1 });
  await keep("question", { setter: 4 });
  expect(await recall("question")).toEqual({ setter: 4 });
});

test("what is below a name is forgotten, and nothing beside it", async () => {
  for (const name of ["match/a", "match/ab", "review/a/all", "review/a/1"]) await keep(name, 1);
  await forgetBelow("match/a/");
  await forgetBelow("review/a/");
  expect(await Promise.all(["match/a", "match/ab", "review/a/all", "review/a/1"].map(recall))).toEqual([undefined, 1, undefined, undefined]);
});

test("a value that cannot be stored is lost without stopping anything", async () => {
  await keep("odd", () => 1); // functions cannot be cloned
  expect(await recall("odd")).toBeUndefined();
});

test("a store tells its watchers until they leave", () => {
  const store = createStore({ n: 0 });
  let heard = 0;
  const leave = store.watch(() => void (heard += 1));
  store.set({ n: 1 });
  leave();
  store.set({ n: 2 });
  expect([heard, store.get().n]).toEqual([1, 2]);
});
