"""The words of a match: sides, outcomes, who decides what. The room's dictionary."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, Literal, TypeVar, get_args

Side = Literal["us", "them"]
ServeError = Literal["net", "long", "wide", "foot"]
FirstBall = Literal["attack", "free_ball", "overpass", "none"]
Ending = Literal["ace", "service_error"]
RecordEnding = Literal["ace", "service_error", "wrong_server", "replayed"]
Found = Literal["at_service", "after_rally"]
Scope = Literal["set", "match"]
ForfeitHow = Literal["default", "incomplete"]
PenaltyReason = Literal["misconduct", "delay", "other"]

SIDES: tuple[Side, Side] = ("us", "them")
SERVE_ERRORS: tuple[ServeError, ...] = get_args(ServeError)
FIRST_BALLS: tuple[FirstBall, ...] = get_args(FirstBall)

FRONT_ROW = (2, 3, 4)  # FIVB 7.4.1
POSITIONS = (1, 2, 3, 4, 5, 6)

T = TypeVar("T")


def other(side: Side) -> Side:
    """Return the other side of the net."""
    return "them" if side == "us" else "us"


@dataclass(frozen=True, slots=True)
class Both(Generic[T]):
    """One value for each side."""

    us: T
    them: T

    def of(self, side: Side) -> T:
        return self.us if side == "us" else self.them

    def put(self, side: Side, value: T) -> Both[T]:
        return Both(value, self.them) if side == "us" else Both(self.us, value)
