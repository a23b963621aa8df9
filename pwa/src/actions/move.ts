/** Moving players, pass target and spot by hand, inside what the engine allows. */
import type { CallAnswer, Limits, PasserAsked, Player, Point } from "../api/types";
import { change } from "./change";
import { moved, type Places, type Question } from "./question";
import { state } from "./state";

export interface Handle {
  readonly key: string;
  readonly name: string;
  readonly place: Point;
  readonly limits: Limits & { readonly by?: Readonly<Record<keyof Limits, string>> };
}

const passerKey = ({ position, label }: Pick<Player, "position" | "label">): string => `passer-${position ?? label}`;

/** Returns everything that can be moved, where the question has it, else where the answer has it. */
export function handlesOf(answer: Pick<CallAnswer, "situation"> & { best: Pick<CallAnswer["best"], "spot"> }, question: Question): Handle[] {
  const { situation, best } = answer;
  const mine: Places = (question.setter !== null && question.places[question.setter]) || {};
  const players = situation.players.filter(({ role }) => role !== "other").map((player): Handle => {
    const { label, limits, position, role } = player;
    if (role === "setter") return { key: "setter", name: "Their setter", place: mine.setter_start ?? player, limits };
    const placed = mine.passers?.find((p) => p.position === position);
    return { key: passerKey(player), name: `Passer ${label}`, place: placed ?? player, limits };
  });
  return [
    ...players,
    { key: "target", name: "Pass target", place: question.pass_target ?? situation.pass_target, limits: situation.pass_target_limits },
    { key: "server", name: "Server", place: question.spot ?? best.spot, limits: situation.server.spot_limits },
  ];
}

const point = ({ x_m, y_m }: Point): Point => ({ x_m, y_m });

const asked = ({ position, number, pass_grade, passes, ...place }: Player): PasserAsked => ({
  ...point(place),
  ...(position !== null && { position }),
  ...(number !== null && { number }),
  ...(pass_grade !== null && { pass_grade }),
  ...(passes !== null && { passes }),
});

/** Returns the question with one thing moved. Passers are sent together, so the others stay where they are. */
export function withMoved(question: Question, answer: Pick<CallAnswer, "situation">, key: string, to: Point): Question {
  const place = point(to);
  if (key === "target") return { ...question, pass_target: place };
  if (key === "server") return { ...question, spot: place };
  if (question.setter === null) return question;
  const mine = question.places[question.setter] ?? {};
  const stay = (places: Places): Question => ({ ...question, places: { ...question.places, [question.setter as number]: places } });
  if (key === "setter") return stay({ ...mine, setter_start: place });
  const passers = answer.situation.players.filter(({ role }) => role === "passer");
  return stay({
    ...mine,
    passers: passers.map((player) => {
      const before = mine.passers?.find((p) => p.position === player.position) ?? asked(player);
      return passerKey(player) === key ? { ...before, ...place } : before;
    }),
  });
}

/** Moves one thing to a place that the picture has already kept inside its limits. */
export function move(key: string, to: Point): void {
  const { question, answer } = state.get();
  if (answer) change(withMoved(question, answer, key, to));
}

export const hold = (held: string | null): void => state.set({ held });

/** Puts everything back to the stock places of this setter position. */
export function putBack(): void {
  const { question } = state.get();
  if (!moved(question) || question.setter === null) return;
  const { [question.setter]: _, ...places } = question.places;
  hold(null);
  change({ places, pass_target: null, spot: null });
}
