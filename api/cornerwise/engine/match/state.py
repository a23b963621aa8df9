"""The state of a match: what a log folds to. Values only; what changes them stands in the other modules.

The three largest are named tuples: a changed copy is made for every event, and theirs is the cheapest.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from cornerwise.engine.match.events import (
    NO_PARTS,
    CallShown,
    Entry,
    MatchOpened,
    Parts,
    Passer,
    SetStarted,
)
from cornerwise.engine.match.notes import RULE_OF, Contradiction, ContradictionCode, Violation, ViolationCode
from cornerwise.engine.match.profiles import FIVB_2025_2028, RuleProfile
from cornerwise.engine.match.row import Row
from cornerwise.engine.match.terms import Both, RecordEnding, Side
from cornerwise.engine.names import FormationName, System

FinishKind = Literal["ended", "abandoned", "forfeited"]


@dataclass(frozen=True, slots=True)
class Place:
    """One of the six places in a side's serving order, fixed through the set.

    number : its regular player      inferred : concluded, not given      libero : who stands in for her
    starter : who started the set here, if known      substituted : somebody was substituted here
    """

    number: int | None = None
    inferred: bool = False
    libero: int | None = None
    starter: int | None = None
    substituted: bool = False


@dataclass(frozen=True, slots=True)
class Formation:
    """A reception formation as it was seen."""

    formation: FormationName
    passers: tuple[Passer, ...]


class Team(NamedTuple):
    """One side of the net.

    places : six, in serving order; place 0 started the set in position 1
    rotation : how often the side has rotated, modulo 6: position p is held by place (rotation + p - 1) % 6
    marked : places of setters whose numbers are unknown
    entered : each player who came in by substitution, with the place of the first time
    left : who went out by substitution
    libero_ready : a rally was completed since this side's last libero replacement (FIVB 19.3.2.1)
    libero_served_from : place from which a libero of this side has served in this set
    libero_came_for : whom a libero has stood in for in this match, the latest first
    injured : replaced exceptionally, out for the match      formations : last seen, by setter's position
    """

    places: tuple[Place, ...] = (Place(),) * 6
    rotation: int = 0
    setters: tuple[int, ...] = ()
    marked: tuple[int, ...] = ()
    system: System = "one_setter"
    liberos: tuple[int, ...] = ()
    libero_ready: bool = True
    libero_served_from: int | None = None
    libero_came_for: tuple[int, ...] = ()
    substitutions: int = 0
    exceptional_substitutions: int = 0
    time_outs: int = 0
    entered: tuple[tuple[int, int], ...] = ()
    left: tuple[int, ...] = ()
    expelled: tuple[int, ...] = ()
    disqualified: tuple[int, ...] = ()
    injured: tuple[int, ...] = ()
    formations: tuple[tuple[int, Formation], ...] = ()


NEW_TEAMS: Both[Team] = Both(Team(), Team())
NONE_YET: Both[int] = Both(0, 0)
UNKNOWN: Both[int | None] = Both(None, None)
NO_EVENTS: Row[str] = Row()
NO_VIOLATIONS: Row[Violation] = Row()
NO_CONTRADICTIONS: Row[Contradiction] = Row()


class Rally(NamedTuple):
    """The record of one rally: what it was played from, what was seen of its serve, who won it.

    serving ... setter_positions are None until the rally is closed.
    server_place : the server's place in her side's order, 0 to 5
    cancelled : its point was taken back (FIVB 7.7.2)      events : ids of what was logged in it
    """

    rally_number: int
    parts: Parts = NO_PARTS
    called: CallShown | None = None
    formation: Formation | None = None
    winner: Side | None = None
    ending: RecordEnding | None = None
    cancelled: bool = False
    events: Row[str] = NO_EVENTS
    serving: Side | None = None
    server: int | None = None
    server_place: int | None = None
    points_before: Both[int] = NONE_YET
    rotations: Both[int] = NONE_YET
    setter_positions: Both[int | None] = UNKNOWN

    @property
    def decided(self) -> bool:
        return self.winner is not None


@dataclass(frozen=True, slots=True)
class ClosedSet:
    """A set that is behind us."""

    set_number: int
    points: Both[int]
    winner: Side | None
    served_first: Side | None
    rallies: tuple[Rally, ...]


@dataclass(frozen=True, slots=True)
class SetEnd:
    """The referee has ended the set; winner None when nobody was ahead."""

    winner: Side | None


@dataclass(frozen=True, slots=True)
class Finish:
    """The match is over by more than the score. sets : what stands instead of the sets played, or None."""

    kind: FinishKind
    winner: Side | None = None
    sets: Both[int] | None = None


@dataclass(frozen=True, slots=True)
class ServingTurn:
    """Serves and points of the present server since her side got the service."""

    serves: int = 0
    points: int = 0


class MatchState(NamedTuple):
    """Everything a match's log says.

    profile_fixed : the profile was given beside the log and goes before the one in it
    set_number : 0 before the first set      rally_number : the rally in play or to come
    sets_won : by closed sets only      rallies : of this set, oldest first
    present : what was logged of the rally in play
    """

    profile: RuleProfile = FIVB_2025_2028
    profile_fixed: bool = False
    opened: MatchOpened | None = None
    set_number: int = 0
    rally_number: int = 0
    set_start: SetStarted | None = None
    served_first: Side | None = None
    serving: Side | None = None
    points: Both[int] = NONE_YET
    sets_won: Both[int] = NONE_YET
    closed_sets: tuple[ClosedSet, ...] = ()
    set_end: SetEnd | None = None
    finish: Finish | None = None
    teams: Both[Team] = NEW_TEAMS
    turn: ServingTurn = ServingTurn()
    rallies: tuple[Rally, ...] = ()
    present: Rally | None = None
    sides_changed: int = 0
    side_change_noted: bool = False
    time_out_by: tuple[Side, ...] = ()
    violations: Row[Violation] = NO_VIOLATIONS
    contradictions: Row[Contradiction] = NO_CONTRADICTIONS


START = MatchState()


def with_team(state: MatchState, side: Side, team: Team) -> MatchState:
    """Return the state with one side replaced."""
    return state._replace(teams=state.teams.put(side, team))


def with_violation(
    state: MatchState,
    entry: Entry,
    code: ViolationCode,
    side: Side | None = None,
    number: int | None = None,
    rule: str | None = None,
) -> MatchState:
    """Return the state with one more breach, shown by this entry.

    rule : its number; the usual one of the code unless given
    """
    where = (entry.id, entry.set_number, entry.rally_number)
    note = Violation(code, rule or RULE_OF[code], *where, side, number)
    return state._replace(violations=state.violations.plus(note))


def with_contradiction(
    state: MatchState,
    entry: Entry,
    code: ContradictionCode,
    side: Side | None = None,
    expected: Any = None,
    seen: Any = None,
) -> MatchState:
    """Return the state with one more contradiction, shown by this entry."""
    note = Contradiction(code, entry.id, entry.set_number, entry.rally_number, side, expected, seen)
    return state._replace(contradictions=state.contradictions.plus(note))
