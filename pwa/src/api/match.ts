/** What goes over the wire about a match: its events, and what a log says. Lengths in m. */
import type { CallRequest, Depth, Formation, Kind, Level, Point, Position, SpotName, System } from "./types";

export const SIDES = ["us", "them"] as const;
export type Side = (typeof SIDES)[number];
export const other = (side: Side): Side => (side === "us" ? "them" : "us");

export const GRADES = [1, 2, 3] as const;
export type Grade = 0 | 1 | 2 | 3;
export const SERVE_ERRORS = ["net", "long", "wide", "foot"] as const;
export type ServeError = (typeof SERVE_ERRORS)[number];
export const FIRST_BALLS = ["attack", "free_ball", "overpass", "none"] as const;
export type FirstBall = (typeof FIRST_BALLS)[number];
export type Ending = "ace" | "service_error";

export type Pair<T> = { readonly [side in Side]: T };

// --- events ---

export interface Parts {
  readonly grade?: Grade;
  readonly error?: ServeError;
  readonly first_ball?: FirstBall;
  readonly passer?: number;
  readonly landing?: Point;
  readonly spot?: Point;
  readonly kind?: Kind;
  readonly speed_m_s?: number;
}

export interface TeamSheet {
  readonly lineup?: readonly (number | null)[];
  readonly liberos?: readonly number[];
  readonly setters?: readonly number[];
  readonly setter_position?: Position | null;
  readonly system?: System;
}

export interface SeenPasser extends Point { readonly position?: Position | null; readonly number?: number | null }

export const PROFILE_NAMES = ["fivb_2025_2028", "fivb_2021_2024", "us_college_women", "us_high_school", "us_junior_club", "custom"] as const;
export type ProfileName = (typeof PROFILE_NAMES)[number];
export type ProfileAsked = ProfileName | ({ readonly name: ProfileName } & Readonly<Record<string, number | string | boolean | null>>);

export type EventBody =
  | { readonly type: "match_opened"; readonly profile?: ProfileAsked; readonly us?: string; readonly them?: string; readonly level?: Level }
  | { readonly type: "set_started"; readonly serving_first: Side; readonly us?: TeamSheet; readonly them?: TeamSheet }
  | { readonly type: "call_shown"; readonly spot: Point; readonly target: Point; readonly kind: Kind; readonly speed_m_s?: number; readonly keep?: number; readonly p_error?: number; readonly p_ace?: number; readonly grades?: readonly number[] }
  | { readonly type: "server_seen"; readonly side: Side; readonly number: number }
  | { readonly type: "reception_formation_seen"; readonly side: Side; readonly formation: Formation; readonly passers?: readonly SeenPasser[] }
  | ({ readonly type: "pass_graded"; readonly grade: Grade } & Parts)
  | ({ readonly type: "serve_noted" } & Parts)
  | ({ readonly type: "rally_won"; readonly winner: Side; readonly ending?: Ending } & Parts)
  | { readonly type: "rally_replayed"; readonly reason?: string }
  | { readonly type: "substituted" | "exceptionally_substituted"; readonly side: Side; readonly enters: number; readonly leaves?: number; readonly position?: Position }
  | { readonly type: "libero_replaced"; readonly side: Side; readonly enters?: number; readonly leaves?: number; readonly position?: Position }
  | { readonly type: "time_out_taken"; readonly side: Side }
  | { readonly type: "penalty_point_given"; readonly to: Side; readonly rotation: boolean; readonly reason?: "misconduct" | "delay" | "other" }
  | { readonly type: "lineup_corrected"; readonly side: Side; readonly lineup?: readonly (number | null)[]; readonly rotate?: number; readonly setter_position?: Position; readonly setters?: readonly number[]; readonly liberos?: readonly number[]; readonly system?: System }
  | { readonly type: "score_corrected"; readonly us: number; readonly them: number; readonly sets?: Pair<number> }
  | { readonly type: "server_corrected"; readonly side: Side; readonly number?: number }
  | { readonly type: "wrong_server_called"; readonly side: Side; readonly found: "at_service" | "after_rally"; readonly from_rally?: number; readonly right_server?: number }
  | { readonly type: "sides_changed" }
  | { readonly type: "expelled" | "disqualified"; readonly side: Side; readonly number?: number }
  | { readonly type: "set_ended"; readonly winner?: Side }
  | { readonly type: "match_ended" }
  | { readonly type: "match_abandoned"; readonly reason?: string }
  | { readonly type: "forfeited"; readonly side: Side; readonly scope: "set" | "match"; readonly how: "default" | "incomplete" }
  | { readonly type: "retracted"; readonly event_id: string };

export interface Envelope {
  readonly id: string;
  readonly device: string;
  readonly counter: number;
  readonly set_number: number;
  readonly rally_number: number;
  readonly seen: number;
}
export type MatchEvent = Envelope & EventBody;

// --- what a log says ---

export interface Standing {
  readonly position: Position;
  readonly number: number | null;
  readonly inferred: boolean;
  readonly libero: boolean;
  readonly libero_for: number | null;
  readonly setter: boolean;
}

export interface SideState {
  readonly lineup: readonly Standing[];
  readonly rotation: number;
  readonly started: readonly (number | null)[];
  readonly setter_position: Position | null;
  readonly setter_positions: readonly Position[];
  readonly setter_row: "front" | "back" | null;
  readonly setter_inferred: boolean;
  readonly system: System;
  readonly liberos: readonly number[];
  readonly setters: readonly number[];
  readonly substitutions_used: number;
  readonly substitutions_left: number | null;
  readonly time_outs_used: number;
  readonly time_outs_left: number;
  readonly libero_must_leave: boolean;
  /** Last seen with the setter where she is. */
  readonly formation: { readonly formation: Formation; readonly passers: readonly SeenPasser[] } | null;
}

export interface Called { readonly spot: Point; readonly target: Point; readonly kind: Kind; readonly speed_m_s: number | null; readonly keep: number | null; readonly p_error: number | null }

export interface RallyRecord {
  readonly rally_number: number;
  readonly serving: Side | null;
  readonly server: number | null;
  readonly points_before: Pair<number>;
  readonly rotations: Pair<number>;
  readonly setter_positions: Pair<Position | null>;
  readonly called: Called | null;
  readonly grade: Grade | null;
  readonly error: ServeError | null;
  readonly first_ball: FirstBall | null;
  readonly passer: number | null;
  readonly landing: Point | null;
  readonly spot: Point | null;
  readonly kind: Kind | null;
  readonly speed_m_s: number | null;
  readonly winner: Side | null;
  readonly ending: Ending | "wrong_server" | "replayed" | null;
  readonly cancelled: boolean;
  readonly events: readonly string[];
}

export interface Server { readonly side: Side; readonly number: number | null; readonly inferred: boolean; readonly libero: boolean }
export interface SetScore extends Pair<number> { readonly set_number: number; readonly winner: Side | null }
export type Status = "before" | "in_play" | "set_over" | "match_over" | "abandoned" | "forfeited";

export interface Profile {
  readonly name: ProfileName;
  readonly sets_to_win: number;
  readonly points: number;
  readonly liberos: number;
  readonly substitutions_per_set: number | null;
  readonly time_outs_per_set: number;
  readonly verify: boolean;
}

export interface MatchState {
  readonly status: Status;
  readonly profile: Profile;
  readonly teams: Pair<string | null>;
  readonly level: Level | null;
  readonly set_number: number;
  readonly rally_number: number;
  readonly deciding_set: boolean;
  readonly points: Pair<number>;
  readonly sets: Pair<number>;
  readonly set_scores: readonly SetScore[];
  readonly set_winner: Side | null;
  readonly winner: Side | null;
  readonly serving: Side | null;
  readonly server: Server | null;
  readonly next_server: Pair<number | null>;
  readonly serving_turn: { readonly serves: number; readonly points: number };
  readonly seconds_to_serve: number;
  readonly time_out_s: number;
  readonly side_change_due: boolean;
  readonly sides: Pair<SideState>;
  readonly situation: {
    readonly set_point: readonly Side[];
    readonly match_point: readonly Side[];
    readonly after_time_out: readonly Side[];
    readonly service_errors_in_a_row: number;
    readonly run: { readonly side: Side | null; readonly points: number };
  };
  readonly rally: RallyRecord | null;
  readonly last_rallies: readonly RallyRecord[];
}

export interface Violation { readonly code: string; readonly rule: string; readonly verify: boolean; readonly event_id: string; readonly side: Side | null; readonly set_number: number; readonly rally_number: number; readonly text: string }
export interface Contradiction { readonly code: string; readonly event_id: string; readonly side: Side | null; readonly set_number: number; readonly rally_number: number; readonly expected: unknown; readonly seen: unknown; readonly text: string }

/** One of our next serves; `request` is null while nobody knows their setter. */
export interface Coming {
  readonly side_outs: number;
  readonly set_number: number;
  readonly rally_number: number;
  readonly points: Pair<number>;
  readonly sets: Pair<number>;
  readonly server: Server;
  readonly setter_position: Position | null;
  readonly setter_row: "front" | "back" | null;
  readonly setter_inferred: boolean;
  readonly request: Partial<CallRequest> | null;
}

export interface ReplayAnswer {
  readonly state: MatchState;
  readonly next_state: MatchState | null;
  readonly violations: readonly Violation[];
  readonly contradictions: readonly Contradiction[];
  readonly coming: readonly Coming[];
  readonly sheets: Pair<Required<TeamSheet>>;
  /** For whom each side's libero may come in now, who is likeliest first; an answer kept by an earlier version lacks it. */
  readonly libero_may_replace?: Pair<readonly number[]>;
  /** Who serves first in the next set; null where the toss says. */
  readonly first_serving_next: Side | null;
}

// --- matches ---

export type Fingers = readonly boolean[];
export interface Signals { readonly spot: Readonly<Record<SpotName, Fingers>>; readonly zone: Readonly<Record<string, Fingers>>; readonly depth: Readonly<Record<Depth, Fingers>> }

export interface MatchItem {
  readonly id: string;
  readonly name: string | null;
  readonly demo: boolean;
  readonly us: string | null;
  readonly them: string | null;
  readonly status: Status;
  readonly winner: Side | null;
  readonly set_number: number;
  readonly sets: Pair<number>;
  readonly points: Pair<number>;
  readonly set_scores: readonly SetScore[];
  readonly position: number;
  readonly created_at: string;
  readonly changed_at: string;
  readonly deleting: string;
}
export interface MatchDetail extends MatchItem { readonly signals: Signals }
export interface Opponent { readonly name: string; readonly match_id: string; readonly level: Level | null; readonly sheet: Required<TeamSheet> }

export interface Placed { readonly id: string; readonly position: number }
export interface Posted {
  readonly accepted: readonly Placed[];
  readonly known: readonly Placed[];
  readonly refused: readonly { readonly index: number; readonly id: string | null; readonly error: { readonly field: string; readonly expected: string } }[];
  readonly position: number;
}

// --- review ---

export interface Share { readonly count: number; readonly of: number; readonly share: number | null }
export interface Mean { readonly mean: number | null; readonly of: number }
export interface Row {
  readonly serves: Share;
  readonly errors: Share;
  readonly errors_by_kind: Readonly<Record<ServeError | "unknown", number>>;
  readonly aces: Share;
  readonly won: Share;
  readonly pass_grade: Mean;
  readonly points_per_turn: Mean | null;
  readonly longest_run: number | null;
}
export interface CourseRally {
  readonly rally_number: number;
  readonly serving: Side | null;
  readonly server: number | null;
  readonly points_before: Pair<number>;
  readonly rotations: Pair<number>;
  readonly setter_positions: Pair<Position | null>;
  readonly winner: Side | null;
  readonly ending: RallyRecord["ending"];
  readonly cancelled: boolean;
}
export interface Course { readonly set_number: number; readonly points: Pair<number>; readonly winner: Side | null; readonly rallies: readonly CourseRally[] }
export interface Review {
  /** Up to where the log was counted, when the service counted its own copy. */
  readonly position?: number;
  readonly side: Side;
  readonly set_number: number | null;
  /** What stands out, in one sentence. */
  readonly text: string | null;
  readonly all: Row;
  readonly by_server: readonly (Row & { readonly number: number | null })[];
  readonly by_our_rotation: readonly (Row & { readonly setter_position: Position | null })[];
  readonly by_their_rotation: readonly (Row & { readonly setter_position: Position | null })[];
  readonly by_spot_and_target: readonly (Row & { readonly spot: SpotName | null; readonly zone: Position | null; readonly depth: Depth | null })[];
  readonly called: readonly (Row & { readonly served: "as_called" | "elsewhere" | "not_known" | "no_call" })[];
  readonly by_passer: readonly { readonly number: number; readonly pass_grade: Mean }[];
  readonly not_counted: Readonly<Record<"replayed" | "wrong_server" | "cancelled" | "undecided", number>>;
  readonly sets: readonly Course[];
}
