"""What can happen in a match: one frozen value per kind of event, and the log entry that carries it.

Events are past tense. A log entry adds who logged it, where it belongs (set and rally) and its id.
What each event does is told where it is folded; the JSON shape of each is in `shapes`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from cornerwise.engine.court import Point
from cornerwise.engine.match.profiles import FIVB_2025_2028, RuleProfile
from cornerwise.engine.match.terms import (
    Both,
    Ending,
    FirstBall,
    ForfeitHow,
    Found,
    PenaltyReason,
    Scope,
    ServeError,
    Side,
)
from cornerwise.engine.names import FormationName, Level, ServeKind, System

Lineup: TypeAlias = tuple[int | None, ...]
"""Six shirt numbers by position 1 to 6, None where the player is unknown."""
UNKNOWN_LINEUP: Lineup = (None,) * 6


@dataclass(frozen=True, slots=True)
class TeamSheet:
    """What is known of a side at the start of a set; None means as in the set before."""

    lineup: Lineup = UNKNOWN_LINEUP
    liberos: tuple[int, ...] | None = None
    setters: tuple[int, ...] | None = None
    setter_position: int | None = None
    system: System | None = None


@dataclass(frozen=True, slots=True)
class Parts:
    """What can be known of one serve, each part by itself.

    grade : pass grade 0 to 3      passer : shirt number      landing, spot : places on the floor [m]
    """

    grade: int | None = None
    error: ServeError | None = None
    first_ball: FirstBall | None = None
    passer: int | None = None
    landing: Point | None = None
    spot: Point | None = None
    kind: ServeKind | None = None
    speed_m_s: float | None = None


NO_PARTS = Parts()


@dataclass(frozen=True, slots=True)
class Passer:
    """A place in a reception formation, with who stands there as far as known. [m]"""

    x_m: float
    y_m: float
    position: int | None = None
    number: int | None = None


@dataclass(frozen=True, slots=True)
class MatchOpened:
    profile: RuleProfile = FIVB_2025_2028
    us: str | None = None
    them: str | None = None
    level: Level | None = None


@dataclass(frozen=True, slots=True)
class SetStarted:
    serving_first: Side
    us: TeamSheet = TeamSheet()
    them: TeamSheet = TeamSheet()


@dataclass(frozen=True, slots=True)
class CallShown:
    spot: Point
    target: Point
    kind: ServeKind
    speed_m_s: float | None = None
    keep: float | None = None
    p_error: float | None = None
    p_ace: float | None = None
    grades: tuple[float, ...] | None = None


@dataclass(frozen=True, slots=True)
class ServerSeen:
    side: Side
    number: int


@dataclass(frozen=True, slots=True)
class ReceptionFormationSeen:
    side: Side
    formation: FormationName
    passers: tuple[Passer, ...] = ()


@dataclass(frozen=True, slots=True)
class PassGraded:
    parts: Parts


@dataclass(frozen=True, slots=True)
class ServeNoted:
    parts: Parts


@dataclass(frozen=True, slots=True)
class RallyWon:
    winner: Side
    ending: Ending | None = None
    parts: Parts = NO_PARTS


@dataclass(frozen=True, slots=True)
class RallyReplayed:
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class Substituted:
    side: Side
    enters: int
    leaves: int | None = None
    position: int | None = None


@dataclass(frozen=True, slots=True)
class ExceptionallySubstituted:
    side: Side
    enters: int
    leaves: int | None = None
    position: int | None = None


@dataclass(frozen=True, slots=True)
class LiberoReplaced:
    side: Side
    enters: int | None = None
    leaves: int | None = None
    position: int | None = None


@dataclass(frozen=True, slots=True)
class TimeOutTaken:
    side: Side


@dataclass(frozen=True, slots=True)
class PenaltyPointGiven:
    to: Side
    rotation: bool
    reason: PenaltyReason | None = None
    number: int | None = None


@dataclass(frozen=True, slots=True)
class LineupCorrected:
    side: Side
    lineup: Lineup | None = None
    rotate: int | None = None
    setter_position: int | None = None
    setters: tuple[int, ...] | None = None
    liberos: tuple[int, ...] | None = None
    system: System | None = None


@dataclass(frozen=True, slots=True)
class ScoreCorrected:
    us: int
    them: int
    sets: Both[int] | None = None


@dataclass(frozen=True, slots=True)
class ServerCorrected:
    side: Side
    number: int | None = None


@dataclass(frozen=True, slots=True)
class WrongServerCalled:
    side: Side
    found: Found
    from_rally: int | None = None
    right_server: int | None = None


@dataclass(frozen=True, slots=True)
class SidesChanged:
    pass


@dataclass(frozen=True, slots=True)
class Expelled:
    side: Side
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Disqualified:
    side: Side
    number: int | None = None


@dataclass(frozen=True, slots=True)
class SetEnded:
    winner: Side | None = None


@dataclass(frozen=True, slots=True)
class MatchEnded:
    pass


@dataclass(frozen=True, slots=True)
class MatchAbandoned:
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class Forfeited:
    side: Side
    scope: Scope
    how: ForfeitHow


@dataclass(frozen=True, slots=True)
class Retracted:
    event_id: str


Substitution: TypeAlias = Substituted | ExceptionallySubstituted
Opening: TypeAlias = MatchOpened | SetStarted
BeforeServe: TypeAlias = (
    Substitution
    | LiberoReplaced
    | TimeOutTaken
    | PenaltyPointGiven
    | LineupCorrected
    | ScoreCorrected
    | ServerCorrected
    | SidesChanged
    | Expelled
    | Disqualified
)
InRally: TypeAlias = CallShown | ServerSeen | ReceptionFormationSeen | PassGraded | ServeNoted
Result: TypeAlias = RallyWon | RallyReplayed
Closing: TypeAlias = SetEnded | MatchEnded | MatchAbandoned | Forfeited
Event: TypeAlias = Opening | BeforeServe | InRally | Result | WrongServerCalled | Closing | Retracted


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the log.

    id : UUIDv7 made by the device      device, counter : who logged it, and its how-manieth entry
    set_number, rally_number : where it belongs      seen : last server position the device had seen
    """

    id: str
    device: str
    counter: int
    set_number: int
    rally_number: int
    event: Event
    seen: int = 0
