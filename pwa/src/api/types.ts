/**
 * What goes over the wire: `POST /api/v1/calls` and `GET /api/v1/stock`. Lengths in m, speeds in m/s, angles in degrees.
 *
 * The shapes are those of the API's own document (`schema.ts`); here they get the app's names.
 */
import type { components } from "./schema";

type Schemas = components["schemas"];

export const POSITIONS = [1, 2, 3, 4, 5, 6] as const;
export type Position = (typeof POSITIONS)[number];

/** The fields whose whole numbers from 1 to 6 are positions or zones: a range in the document, its members here. */
type Placed = "position" | "setter_position" | "zone";
type Known<T> =
  T extends readonly (infer Item)[] ? readonly Known<Item>[]
  : T extends object ? { readonly [Key in keyof T]: Key extends Placed ? Position | Exclude<T[Key], number> : Known<T[Key]> }
  : T;
/** A part of an answer or a question, by its name in the document. */
export type Of<Name extends keyof Schemas> = Known<Schemas[Name]>;
/** With some fields that the API would do without, but this app always sends. */
type Sent<T, Key extends keyof T> = T & { readonly [K in Key]-?: NonNullable<T[K]> };

export type Spot = Of<"SpotAnswer">;
export type SpotName = Spot["name"];
export const SPOT_NAMES = ["left_corner", "left", "middle", "right", "right_corner"] as const satisfies readonly SpotName[];

export type Point = Of<"PlaceAnswer">;
export type Limits = Of<"BoundsAnswer">;

// --- what is asked ---

export type PasserAsked = Of<"PasserRequest">;

export interface CallRequest extends Of<"CallRequest"> {
  readonly server: Of<"ServerRequest">;
  readonly opponent: Sent<Of<"OpponentRequest">, "setter_position">;
  readonly policy: Of<"PolicyRequest">;
}

// --- what comes back ---

export type Target = Of<"TargetAnswer">;
export type Depth = Target["depth"];
export type Passer = Of<"PasserAnswer">;
export type Ellipse = Of<"EllipseAnswer">;
export type Reason = Of<"ReasonAnswer">;

/** One part of the hand signal; fingers from thumb to little finger, true when extended. */
export type Pose = Of<"SignalAnswer">;

export type Call = Of<"CallAnswer">;
export type Kind = Call["kind"];
/** A call that is not the best one, with what it is worth against it. */
export type Alternative = Of<"AlternativeAnswer">;
export type StayOff = Of<"StayOffAnswer">;
export type CeilingStep = Of<"StepAnswer">;
export type Policy = Of<"PolicyAnswer">;
export type DragModel = Of<"DragAnswer">["model"];

/** Where a player may be moved to, and who or what holds her on each side. */
export type HeldLimits = Of<"PlayerBoundsAnswer">;
export type Player = Of<"PlayerAnswer">;
export type Situation = Of<"SituationAnswer">;
export type Level = Situation["level"];
export type System = Situation["system"];
export type Formation = NonNullable<Situation["formation"]>;
/** By the number of passers, from two on. */
export const FORMATIONS = ["two", "three", "four", "five"] as const satisfies readonly Formation[];

export type CallAnswer = Of<"CallsAnswer">;

/** A serve that somebody chose: the request of a call, with where it should land. */
export type AimedRequest = CallRequest & { readonly target: Point };
export type AimedAnswer = Of<"AimedAnswer">;

export type StockServer = Of<"StockServerAnswer">;
export type Stock = Of<"StockAnswer">;
