import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { keep, recall } from "./kept";
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
