import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { forgetTeams, keepTeams, keptTeams, outdated, renewed } from "./roster";

const team = (id: string, changed_at: string, name = id) => ({ id, name, changed_at });

test("teams are there again after they were kept, and gone once they were forgotten", async () => {
  expect(await keptTeams()).toEqual([]);
  await keepTeams([{ ...team("a", "1"), roster: [{ number: 4 }] } as never]);
  expect(await keptTeams()).toEqual([{ ...team("a", "1"), roster: [{ number: 4 }] }]);
  await forgetTeams();
  expect(await keptTeams()).toEqual([]);
});

test("only what is new or changed is fetched", () => {
  const listed = [team("a", "1"), team("b", "2"), team("c", "1")];
  expect(outdated([team("a", "1"), team("b", "1")], listed)).toEqual([team("b", "2"), team("c", "1")]);
});

test("a team that is not listed any more is not kept any more", () => {
  const [old, same, fresh] = [team("a", "1"), team("b", "1"), team("c", "1")];
  expect(renewed([old, same], [same, fresh], [fresh])).toEqual([same, fresh]);
});
