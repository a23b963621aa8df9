/** What a match came to, in short, for the list: kept beside its log. */
import type { MatchItem, ReplayAnswer } from "../../api/match";

export type Summed = Pick<MatchItem, "us" | "them" | "status" | "winner" | "set_number" | "sets" | "points" | "set_scores">;

export const summaryOf = ({ state }: ReplayAnswer): Summed => ({
  us: state.teams.us, them: state.teams.them, status: state.status, winner: state.winner, set_number: state.set_number,
  sets: state.sets, points: state.points, set_scores: state.set_scores,
});

export const NOT_COUNTED: Summed = {
  us: null, them: null, status: "before", winner: null, set_number: 0, sets: { us: 0, them: 0 }, points: { us: 0, them: 0 }, set_scores: [],
};
