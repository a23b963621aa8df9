"""The JSON shape of every event: its type's name, its fields and how each is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, get_args

from cornerwise.engine.match import events as ev
from cornerwise.engine.match.profile_reading import parse_profile
from cornerwise.engine.match.readers import (
    Reader,
    event_id,
    lineup,
    listed,
    mapping,
    numbers,
    object_schema,
    one_of,
    passer,
    point,
    position,
    refuse,
    sets_won,
    share,
    shirt_number,
    speed_m_s,
    text,
    whole,
    within,
    yes_or_no,
)
from cornerwise.engine.match.terms import (
    FIRST_BALLS,
    SERVE_ERRORS,
    SIDES,
    Ending,
    ForfeitHow,
    Found,
    PenaltyReason,
    Scope,
)
from cornerwise.engine.names import FORMATIONS, LEVELS, SERVE_KINDS, SYSTEMS

side = one_of(*SIDES)
kind = one_of(*SERVE_KINDS)
system = one_of(*SYSTEMS)
score = whole(0, 999)
MOST_RALLIES = 999  # chosen: a set of 25 points has some 45

PARTS: Mapping[str, Reader] = {
    "grade": whole(0, 3),
    "error": one_of(*SERVE_ERRORS),
    "first_ball": one_of(*FIRST_BALLS),
    "passer": shirt_number,
    "landing": point,
    "spot": point,
    "kind": kind,
    "speed_m_s": speed_m_s,
}
CHANCES: Mapping[str, Reader] = {
    "keep": share,
    "p_error": share,
    "p_ace": share,
    "grades": listed(share, 4, 4),
}
SHEET: Mapping[str, Reader] = {
    "lineup": lineup,
    "liberos": numbers(4),
    "setters": numbers(6),
    "setter_position": position,
    "system": system,
}
EXCHANGE: Mapping[str, Reader] = {"leaves": shirt_number, "position": position}


def read_team_sheet(name: str, value: Any) -> ev.TeamSheet:
    """Read what is known of a side at the start of a set; no libero stands in the line-up beside her."""
    sheet = ev.TeamSheet(**mapping(name, value, {}, SHEET))
    if set(sheet.liberos or ()) & set(sheet.lineup):
        refuse(within(name, "liberos"), value["liberos"], "no libero in the line-up", "numbers_once")
    return sheet


team_sheet = Reader(read_team_sheet, object_schema({}, SHEET))


@dataclass(frozen=True, slots=True)
class Shape:
    """How an event looks.

    parts : parts of a serve stand beside its fields      something : one optional field at least is given
    """

    event: type[Any]
    required: Mapping[str, Reader] = field(default_factory=dict)
    optional: Mapping[str, Reader] = field(default_factory=dict)
    parts: bool = False
    something: bool = False

    @property
    def all_optional(self) -> Mapping[str, Reader]:
        """What may be left out, parts of a serve included."""
        return {**self.optional, **PARTS} if self.parts else self.optional


SHAPES: Mapping[str, Shape] = {
    "match_opened": Shape(
        ev.MatchOpened,
        optional={"profile": parse_profile, "us": text(100), "them": text(100), "level": one_of(*LEVELS)},
    ),
    "set_started": Shape(ev.SetStarted, {"serving_first": side}, {"us": team_sheet, "them": team_sheet}),
    "call_shown": Shape(
        ev.CallShown,
        {"spot": point, "target": point, "kind": kind},
        {"speed_m_s": speed_m_s, **CHANCES},
    ),
    "server_seen": Shape(ev.ServerSeen, {"side": side, "number": shirt_number}),
    "reception_formation_seen": Shape(
        ev.ReceptionFormationSeen,
        {"side": side, "formation": one_of(*FORMATIONS)},
        {"passers": listed(passer, 0, 6)},
    ),
    "pass_graded": Shape(ev.PassGraded, {"grade": PARTS["grade"]}, parts=True),
    "serve_noted": Shape(ev.ServeNoted, parts=True, something=True),
    "rally_won": Shape(ev.RallyWon, {"winner": side}, {"ending": one_of(*get_args(Ending))}, parts=True),
    "rally_replayed": Shape(ev.RallyReplayed, optional={"reason": text(200)}),
    "substituted": Shape(ev.Substituted, {"side": side, "enters": shirt_number}, EXCHANGE),
    "exceptionally_substituted": Shape(
        ev.ExceptionallySubstituted, {"side": side, "enters": shirt_number}, EXCHANGE
    ),
    "libero_replaced": Shape(ev.LiberoReplaced, {"side": side}, {"enters": shirt_number, **EXCHANGE}),
    "time_out_taken": Shape(ev.TimeOutTaken, {"side": side}),
    "penalty_point_given": Shape(
        ev.PenaltyPointGiven,
        {"to": side, "rotation": yes_or_no},
        {"reason": one_of(*get_args(PenaltyReason)), "number": shirt_number},
    ),
    "lineup_corrected": Shape(
        ev.LineupCorrected, {"side": side}, {**SHEET, "rotate": whole(-5, 5)}, something=True
    ),
    "score_corrected": Shape(ev.ScoreCorrected, {"us": score, "them": score}, {"sets": sets_won}),
    "server_corrected": Shape(ev.ServerCorrected, {"side": side}, {"number": shirt_number}),
    "wrong_server_called": Shape(
        ev.WrongServerCalled,
        {"side": side, "found": one_of(*get_args(Found))},
        {"from_rally": whole(1, MOST_RALLIES), "right_server": shirt_number},
    ),
    "sides_changed": Shape(ev.SidesChanged),
    "expelled": Shape(ev.Expelled, {"side": side}, {"number": shirt_number}),
    "disqualified": Shape(ev.Disqualified, {"side": side}, {"number": shirt_number}),
    "set_ended": Shape(ev.SetEnded, optional={"winner": side}),
    "match_ended": Shape(ev.MatchEnded),
    "match_abandoned": Shape(ev.MatchAbandoned, optional={"reason": text(200)}),
    "forfeited": Shape(
        ev.Forfeited,
        {"side": side, "scope": one_of(*get_args(Scope)), "how": one_of(*get_args(ForfeitHow))},
    ),
    "retracted": Shape(ev.Retracted, {"event_id": event_id}),
}

TYPE_NAMES: Mapping[type[Any], str] = {shape.event: name for name, shape in SHAPES.items()}
