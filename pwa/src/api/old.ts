/** What goes over the wire: `POST /api/v1/calls` and `GET /api/v1/stock`. Lengths in m, speeds in m/s, angles in degrees. */

export const POSITIONS = [1, 2, 3, 4, 5, 6] as const;
export type Position = (typeof POSITIONS)[number];

export const SPOT_NAMES = ["left_corner", "left", "middle", "right", "right_corner"] as const;
export type SpotName = (typeof SPOT_NAMES)[number];

export type Level = "under_14" | "high_school" | "college" | "elite_women" | "elite_men";
export type Kind =
  | "underhand" | "plain_overhand" | "standing_float" | "short_float" | "jump_float" | "standing_topspin" | "jump_topspin";
export type Depth = "short" | "middle" | "deep";
export type System = "one_setter" | "two_setters_back_sets" | "two_setters_front_sets";
export type Formation = "two" | "three" | "four" | "five";
export type DragModel = "A" | "B";

export interface Point { readonly x_m: number; readonly y_m: number }
export interface Limits { readonly x_min_m: number; readonly x_max_m: number; readonly y_min_m: number; readonly y_max_m: number }
export interface Spot extends Point { readonly name: SpotName }

// --- what is asked ---

export interface PasserAsked extends Point {
  readonly position?: Position;
  readonly number?: number;
  readonly pass_grade?: number;
  readonly passes?: number;
}

export interface CallRequest {
  readonly level: Level;
  readonly net_height_m?: number;
  readonly drag_model?: DragModel;
  readonly server: { readonly kind: Kind; readonly spots?: readonly (SpotName | Point)[]; readonly has_short_float?: boolean };
  readonly opponent: {
    readonly setter_position: Position;
    readonly setter_start?: Point;
    readonly pass_target?: Point;
    readonly system?: System;
    readonly formation?: Formation;
    readonly passers?: readonly PasserAsked[];
  };
  readonly policy: { readonly error_ceiling: number } | { readonly use_start_ceiling: true } | Record<string, never>;
}

// --- what comes back ---

export interface Target extends Point {
  readonly zone: Position;
  readonly depth: Depth;
  readonly on_the_line: boolean;
}

export interface Passer extends Point {
  readonly position: Position | null;
  readonly number: number | null;
  readonly label: string;
}

export interface Ellipse extends Point {
  readonly semi_across_m: number;
  readonly semi_along_m: number;
  readonly bearing_deg: number;
  readonly share: number;
}

export interface Reason { readonly part: string; readonly name: string; readonly points_per_100: number; readonly text: string }

/** One part of the hand signal; fingers from thumb to little finger, true when extended. */
export interface Pose { readonly of: "spot" | "zone" | "depth"; readonly text: string; readonly fingers: readonly boolean[] }

export interface Call {
  readonly spot: Spot;
  readonly contact: Point;
  readonly target: Target;
  readonly kind: Kind;
  readonly speed_m_s: number;
  readonly flight_time_s: number;
  readonly net_margin_m: number;
  readonly pass_angle_deg: number;
  readonly sight_angle_deg: number;
  readonly sight_band: string;
  readonly pass_length_m: number;
  readonly setter_run_m: number;
  readonly passer: Passer;
  readonly scatter: { readonly across_m: number; readonly along_m: number; readonly ellipse: Ellipse };
  readonly p_error: number;
  readonly p_ace: number;
  readonly pass_grade: number;
  readonly keep: number;
  readonly plain: { readonly spot: Spot; readonly target: Target; readonly keep: number };
  readonly reasons: readonly Reason[];
  readonly words: {
    readonly call: string; readonly spot: string; readonly target: string; readonly place: string;
    readonly reason: string; readonly odds: string; readonly kind: string;
  };
  readonly signal: readonly Pose[];
}

export interface Alternative extends Call { readonly points_per_100: number; readonly equal: boolean }

export interface StayOff {
  readonly spot: Spot;
  readonly contact: Point;
  readonly target: Target;
  readonly points_per_100: number;
  readonly why: string;
  readonly text: string;
}

export interface CeilingStep {
  readonly error_ceiling: number | null;
  readonly met: boolean;
  readonly points_per_100: number;
  readonly p_error: number;
}

export interface Policy {
  readonly error_ceiling: number | null;
  readonly met: boolean;
  readonly least_error: number;
  readonly start_error_ceiling: number;
  readonly break_even_error: number | null;
  readonly steps: readonly CeilingStep[];
  readonly text: string;
}

/** Where a player may be moved to, and who or what holds her on each side. */
export interface HeldLimits extends Limits { readonly by: Readonly<Record<keyof Limits, string>> }

export interface Player extends Point {
  readonly position: Position | null;
  readonly role: "setter" | "passer" | "other";
  readonly number: number | null;
  readonly label: string;
  readonly limits: HeldLimits;
  readonly pass_grade: number | null;
  readonly passes: number | null;
}

export interface Situation {
  readonly level: Level;
  readonly net_height_m: number;
  readonly service_line_m: number;
  readonly setter_position: Position | null;
  readonly setter_row: "front" | "back" | null;
  readonly setter_start: Point;
  readonly pass_target: Point;
  readonly pass_target_limits: Limits;
  readonly system: System;
  readonly formation: Formation | null;
  readonly players: readonly Player[];
  readonly server: {
    readonly kind: Kind;
    readonly speeds_m_s: readonly number[];
    readonly contact_height_m: number;
    readonly spot_limits: Limits;
    readonly spots: readonly (Spot & { readonly allowed: boolean })[];
  };
}

export interface CallAnswer {
  readonly best: Call;
  readonly alternatives: readonly Alternative[];
  readonly stay_off: readonly StayOff[];
  readonly ceiling_cost_per_100: number;
  readonly policy: Policy;
  readonly limits: { readonly missing_spots: readonly { readonly spot: SpotName; readonly points_per_100: number; readonly text: string }[] };
  readonly drag: { readonly model: DragModel; readonly other: DragModel; readonly other_agrees: boolean | null; readonly text: string | null };
  readonly assumed: readonly { readonly name: string; readonly text: string }[];
  readonly situation: Situation;
}

export interface StockServer { readonly kind: Kind; readonly name: string; readonly net_height_m: number; readonly start_error_ceiling: number }

export interface Stock {
  readonly start_level: Level;
  readonly levels: readonly {
    readonly level: Level;
    readonly name: string;
    readonly net_height_m: number;
    readonly start_error_ceiling: number;
    readonly usual_kind: Kind;
    readonly servers: readonly StockServer[];
  }[];
  readonly formations: readonly Formation[];
  readonly systems: readonly System[];
}
