import type { ToServe } from "../../actions/match/calls";
import type { Live } from "../../actions/match/live";
import type { Prefs } from "../../actions/match/prefs";
import type { ReplayAnswer } from "../../api/match";
import { BenchSheet } from "./sheets/Bench";
import { HandsSheet } from "./sheets/Hands";
import { LikedSheet } from "./sheets/Liked";
import { MoreSheet } from "./sheets/More";
import { PenaltySheet } from "./sheets/Penalty";
import { PutRightSheet } from "./sheets/PutRight";
import { RalliesSheet } from "./sheets/Rallies";
import { ServedSheet } from "./sheets/Served";
import { ServerSheet } from "./sheets/Server";
import { SetterSheet } from "./sheets/Setter";
import { TimeOutSheet } from "./sheets/TimeOut";
import { WrongServerSheet } from "./sheets/WrongServer";
import { NotesSheet } from "./sheets/Notes";

export type SheetName = "more" | "bench" | "setter" | "server" | "rallies" | "served" | "penalty" | "wrong-server" | "put-right" | "time-out" | "hands" | "liked" | "notes";

export interface SheetProps {
  readonly now: Live;
  readonly answer: ReplayAnswer;
  readonly liked: Prefs;
  readonly serves: readonly ToServe[];
  readonly onOpen: (name: SheetName | null) => void;
}

const SHEETS = {
  more: MoreSheet, bench: BenchSheet, setter: SetterSheet, server: ServerSheet, rallies: RalliesSheet, served: ServedSheet, penalty: PenaltySheet,
  "wrong-server": WrongServerSheet, "put-right": PutRightSheet, "time-out": TimeOutSheet, hands: HandsSheet, liked: LikedSheet, notes: NotesSheet,
} as const satisfies Record<SheetName, unknown>;

/** The sheet that is open, if any. */
export function Sheets({ name, ...props }: SheetProps & { name: SheetName | null }) {
  if (name === null) return null;
  const Open = SHEETS[name];
  return <Open key={name} {...props} />;
}
