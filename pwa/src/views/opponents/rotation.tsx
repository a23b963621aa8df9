/** One rotation of a book: how it is named and drawn, the same on a phone, in the table and on paper. */
import type { BookCall, BookRotation } from "../../api/opponents";
import { POSITIONS } from "../../api/types";
import { Half } from "../../parts/match/Half";
import { spoken } from "../../parts/words";

/** Their six as the match screen draws them; the setter has the diamond. */
export function RotationHalf({ rotation: { receivers, setting_position } }: { rotation: BookRotation }) {
  const lineup = POSITIONS.map((position) => ({ position, number: receivers.find((one) => one.position === position)?.number ?? null, setter: position === setting_position }));
  return <Half side="them" lineup={lineup} />;
}

export const setterWords = ({ setting_position, setter_row }: BookRotation): string => `setter in ${setting_position}, ${setter_row} row`;

export const meetsWords = ({ server }: BookRotation): string => (server === null ? "" : `we serve #${server}`);

export const serverWords = ({ server, name }: Pick<BookCall, "server" | "name">): string => (name ? `#${server} ${name}` : `#${server}`);

export const comesInWords = ({ comes_in_for }: Pick<BookCall, "comes_in_for">): string => (comes_in_for.length > 0 ? `comes in for ${comes_in_for.map((n) => `#${n}`).join(", ")}` : "");

/** A call that is as good, with its kind of serve where that is another. */
export const equalWords = ({ words, kind }: BookCall["equals"][number], best: Pick<NonNullable<BookCall["call"]>, "kind">): string =>
  (kind === best.kind ? words.call : `${words.call}, ${spoken(kind)}`);
