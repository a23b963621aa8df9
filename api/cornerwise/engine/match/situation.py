"""The situation a call is made in: set points, service errors in a row, runs, the next side-out."""

from __future__ import annotations

from dataclasses import dataclass

from cornerwise.engine.match.rally import won
from cornerwise.engine.match.score import is_deciding, sets, status, wins
from cornerwise.engine.match.serve import ending_of
from cornerwise.engine.match.state import MatchState
from cornerwise.engine.match.terms import SIDES, Side, other


@dataclass(frozen=True, slots=True)
class Run:
    """Rallies won in a row by one side."""

    side: Side | None
    points: int


def set_points(state: MatchState) -> tuple[Side, ...]:
    """Return the sides that one more point would give the set."""
    if status(state) != "in_play":
        return ()
    deciding = is_deciding(state.profile, state.set_number)
    return tuple(
        side
        for side in SIDES
        if wins(state.profile, deciding, state.points.of(side) + 1, state.points.of(other(side)))
    )


def match_points(state: MatchState) -> tuple[Side, ...]:
    """Return the sides that one more point would give the match."""
    won_sets = sets(state)
    return tuple(s for s in set_points(state) if won_sets.of(s) + 1 >= state.profile.sets_to_win)


def service_errors_in_a_row(state: MatchState) -> int:
    """Return how many of the serving side's latest serves in this set, counted back, were errors."""
    errors = 0
    for rally in reversed(state.rallies):
        if not rally.decided or rally.ending == "wrong_server" or rally.serving != state.serving:
            continue
        if rally.serving is None or ending_of(rally) != "service_error":
            break
        errors += 1
    return errors


def run(state: MatchState) -> Run:
    """Return who has won the latest rallies of this set in a row, and how many; not cancelled ones."""
    counted = [rally.winner for rally in reversed(state.rallies) if rally.decided and not rally.cancelled]
    if not counted:
        return Run(None, 0)
    ended = next((i for i, winner in enumerate(counted) if winner != counted[0]), len(counted))
    return Run(counted[0], ended)


def after_side_out(state: MatchState) -> MatchState | None:
    """Return the state after the next side-out: the receiving side wins this rally, rotates and serves.

    None when nothing is in play or nobody is known to serve. What has not been played breaks no rule, so
    the referee's checks are left out.
    """
    if status(state) != "in_play" or state.serving is None:
        return None
    return won(state, other(state.serving))
