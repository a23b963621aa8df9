import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

/** A room imports only from itself and from rooms before it. */
const ROOMS = ["store", "api", "sync", "engine", "actions", "parts", "views"] as const;

const here = import.meta.dirname;
const files = (room: string): string[] =>
  readdirSync(join(here, room), { recursive: true, encoding: "utf8" }).filter((f) => /\.tsx?$/.test(f)).map((f) => join(here, room, f));

/** Returns the rooms that a file imports from. */
const rooms = (file: string): string[] =>
  [...readFileSync(file, "utf8").matchAll(/from "(?:\.\.\/)+([a-z]+)\//g)].map(([, room]) => room ?? "");

test.each(ROOMS)("%s imports only from rooms before it", (room) => {
  const later = ROOMS.slice(ROOMS.indexOf(room) + 1) as readonly string[];
  const wrong = files(room).flatMap((file) => rooms(file).filter((r) => later.includes(r)).map((r) => `${file} imports from ${r}`));
  expect(wrong).toEqual([]);
});

test("styles come from two places only, so that their order is always the same", () => {
  const bringing = ROOMS.flatMap(files).filter((file) => /import "[^"]+\.css"/.test(readFileSync(file, "utf8")));
  expect(bringing).toEqual([join(here, "views", "styles.ts")]); // and main.tsx, which is no room
});
