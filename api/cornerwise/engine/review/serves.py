"""The serves of one side that count, in serving turns, and how one was served against how it was called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from cornerwise.engine.court import Point, depth, spot_name, zone
from cornerwise.engine.match.serve import ending_of
from cornerwise.engine.match.state import MatchState, Rally
from cornerwise.engine.match.terms import Both, Side

Left = Literal["replayed", "wrong_server", "cancelled", "undecided"]
LEFT_OUT: tuple[Left, ...] = ("replayed", "wrong_server", "cancelled", "undecided")
Served = Literal["as_called", "elsewhere", "not_known", "no_call"]
SERVED: tuple[Served, ...] = ("as_called", "elsewhere", "not_known", "no_call")


class PlayedSet(NamedTuple):
    """One set as far as it was played."""

    set_number: int
    points: Both[int]
    winner: Side | None
    rallies: tuple[Rally, ...]


@dataclass(frozen=True, slots=True)
class Serve:
    """One serve that counts. Where its ending and its winner contradict each other, the winner counts.

    turn : which of its side's serving turns it belongs to, counted through the match
    """

    set_number: int
    turn: int
    side: Side
    rally: Rally

    @property
    def won(self) -> bool:
        return self.rally.winner == self.side

    @property
    def ace(self) -> bool:
        return self.won and ending_of(self.rally) == "ace"

    @property
    def missed(self) -> bool:
        return not self.won and ending_of(self.rally) == "service_error"

    @property
    def grade(self) -> int | None:
        """The pass grade allowed; an ace is a 0, a missed serve has none."""
        if self.missed:
            return None
        return 0 if self.ace and self.rally.parts.grade is None else self.rally.parts.grade


def played_sets(state: MatchState, winner: Side | None) -> list[PlayedSet]:
    """Return the sets of a match, oldest first. winner : of the present set, if it is over"""
    sets = [PlayedSet(s.set_number, s.points, s.winner, s.rallies) for s in state.closed_sets]
    if state.set_number == 0:
        return sets
    return [*sets, PlayedSet(state.set_number, state.points, winner, state.rallies)]


def left_out(rally: Rally) -> Left | None:
    """Return why a rally counts for nothing, or None when it counts.

    A replayed rally and one stopped for a wrong server were not played to an end; a cancelled one was
    taken back; an undecided one has no result in the log.
    """
    if rally.ending == "replayed" or rally.ending == "wrong_server":
        return rally.ending
    if rally.cancelled:
        return "cancelled"
    return "undecided" if rally.winner is None else None


def serves_of(sets: list[PlayedSet], side: Side) -> list[Serve]:
    """Return the serves of a side that count, in order, each with its serving turn.

    A turn goes on while the same player serves and wins; it ends with the service, and with the set.
    """
    serves: list[Serve] = []
    turn = 0
    for played in sets:
        server: tuple[int | None, int | None] | None = None
        for rally in played.rallies:
            if rally.serving != side:
                server = None
            elif left_out(rally) is None:
                serving = (rally.server, rally.server_place)
                turn += server != serving
                serves.append(Serve(played.set_number, turn, side, rally))
                server = serving if rally.winner == side else None
    return serves


def spot_of(serve: Serve) -> Point | None:
    """Return where it was served from: as logged, else as called."""
    called = serve.rally.called
    return serve.rally.parts.spot or (called.spot if called else None)


def target_of(serve: Serve) -> Point | None:
    """Return where it was to land, by its call; without a call, where it landed."""
    called = serve.rally.called
    return called.target if called else serve.rally.parts.landing


def served(serve: Serve) -> Served:
    """Return how a serve compares with its call, as far as its spot or its landing was logged.

    Elsewhere: from a spot of another name, or into another zone. A serve may also get there by missing
    its target; the log cannot tell.
    """
    called, parts = serve.rally.called, serve.rally.parts
    if called is None:
        return "no_call"
    if parts.spot is None and parts.landing is None:
        return "not_known"
    same_spot = parts.spot is None or spot_name(parts.spot.x_m) == spot_name(called.spot.x_m)
    same_zone = parts.landing is None or zone(parts.landing) == zone(called.target)
    return "as_called" if same_spot and same_zone else "elsewhere"


def flat_serves(state: MatchState, side: Side = "us") -> list[dict[str, Any]]:
    """Return each serve that counts as one flat row, for a table with the columns SERVE_COLUMNS."""
    return [flat(serve) for serve in serves_of(played_sets(state, None), side)]


def flat(serve: Serve) -> dict[str, Any]:
    rally, parts, called = serve.rally, serve.rally.parts, serve.rally.called
    return {
        "set_number": serve.set_number,
        "rally_number": rally.rally_number,
        "serving_turn": serve.turn,
        "server": rally.server,
        "points_us": rally.points_before.us,
        "points_them": rally.points_before.them,
        "our_setter_position": rally.setter_positions.us,
        "their_setter_position": rally.setter_positions.them,
        **place_columns("called_spot", called.spot if called else None),
        **place_columns("called_target", called.target if called else None),
        "called_kind": called.kind if called else None,
        "called_keep": called.keep if called else None,
        **place_columns("spot", parts.spot),
        "kind": parts.kind,
        "speed_m_s": parts.speed_m_s,
        **place_columns("landing", parts.landing),
        "landing_zone": zone(parts.landing) if parts.landing else None,
        "landing_depth": depth(parts.landing) if parts.landing else None,
        "passer": parts.passer,
        "pass_grade": serve.grade,
        "first_ball": parts.first_ball,
        "error": parts.error,
        "ending": ending_of(rally),
        "won": int(serve.won),
    }


def place_columns(name: str, place: Point | None) -> dict[str, float | None]:
    return {f"{name}_x_m": place.x_m if place else None, f"{name}_y_m": place.y_m if place else None}


SERVE_COLUMNS = tuple(flat(Serve(1, 1, "us", Rally(1))))
