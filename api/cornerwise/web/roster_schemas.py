"""What the requests about teams, players and opponents look like."""

from __future__ import annotations

import re
from typing import Any, TypeVar

from marshmallow import fields

from cornerwise.engine.court import HALF_LENGTH_M, HALF_WIDTH_M, SPOT_NAMES
from cornerwise.engine.flight import KINDS
from cornerwise.engine.match.terms import SIDES
from cornerwise.engine.names import FORMATIONS, LEVELS, SYSTEMS
from cornerwise.engine.roster import HIGHEST_REACH_M, LOWEST_REACH_M, RATINGS
from cornerwise.service.player_columns import COLUMNS, HANDS, ROLES
from cornerwise.store.roster_tables import LONGEST_NOTES
from cornerwise.store.tables import LONGEST_NAME

from .fields import (
    Choice,
    Items,
    JsonBoolean,
    JsonInteger,
    JsonNumber,
    Part,
    QueryInteger,
    Strict,
    Text,
    Uuid7,
)
from .schemas import SETTER_FACES, CallRequest, Job, Place, ScatterRequest, speed

TEAMS_A_PAGE = 50
OPPONENTS_A_PAGE = 50
LONGEST_TABLE = 250_000  # characters; chosen: the fullest team there can be, twice

F = TypeVar("F", bound=fields.Field)


def nullable(field: F) -> F:
    """Return a field that takes null too: nothing known."""
    field.allow_none = True
    if "enum" in field.metadata:
        field.metadata["enum"] = [*field.metadata["enum"], None]
    return field


def number(**kwargs: Any) -> JsonInteger:
    return JsonInteger(0, 99, **kwargs)


def position(**kwargs: Any) -> JsonInteger:
    return JsonInteger(1, 6, **kwargs)


def name(**kwargs: Any) -> Text:
    return Text(1, LONGEST_NAME, **kwargs)


def level() -> Choice:
    return nullable(Choice(LEVELS))


def lineup() -> Items:
    return nullable(Items(nullable(number()), 6, 6))


class TeamFields(Strict):
    level = level()
    lineup = lineup()


class TeamRequest(TeamFields):
    """A team: its name, its level, and the six numbers it usually starts with, positions 1 to 6."""

    name = name(required=True)


class TeamChange(TeamFields):
    """What to change of a team."""

    name = name()


class MeasuredScatter(ScatterRequest):
    """Scatter as it was measured, and over how many serves."""

    serves = nullable(JsonInteger(1, 999))


class ServeRequest(Strict):
    """One kind of serve of a player; what is null is taken from the stock server of its level.

    speeds_m_s: her usual pace alone, or up to four that she has. level: whose stock scatter hers is like.
    next_job: where she defends after it, 1, 5 or 6.
    """

    kind = Choice(KINDS, required=True)
    speeds_m_s = nullable(Items(speed(), 1, 4))
    spots = nullable(Items(Choice(SPOT_NAMES), 1, len(SPOT_NAMES)))
    level = level()
    scatter = Part(MeasuredScatter, allow_none=True)
    error_ceiling = nullable(JsonNumber(0, 1))
    next_job = nullable(Job())


class PlayerFields(Strict):
    name = nullable(name())
    role = nullable(Choice(ROLES))
    handedness = nullable(Choice(HANDS))
    reach_m = nullable(JsonNumber(LOWEST_REACH_M, HIGHEST_REACH_M, "m"))
    serves = Items(Part(ServeRequest), 0, len(KINDS))
    comes_in_for = Items(number(), 0, 12)


class PlayerRequest(PlayerFields):
    """A player; her number suffices. comes_in_for: numbers of those for whom she may come in to serve."""

    number = number(required=True)


class PlayerChange(PlayerFields):
    """What to change of a player; serves and comes_in_for are replaced as a whole."""

    number = number()


class CourtPlace(Strict):
    """A place in their court, at the hit."""

    x_m = JsonNumber(-HALF_WIDTH_M, HALF_WIDTH_M, "m", required=True)
    y_m = JsonNumber(0, HALF_LENGTH_M, "m", required=True)


class SlotRequest(Strict):
    """One of nine slots along the net, counted from their own left, and how far off the net."""

    slot = JsonInteger(1, 9, required=True)
    off_net_m = JsonNumber(0, HALF_LENGTH_M, "m", required=True)


class RatingRequest(Strict):
    """A passer's rating: a word, or a mean pass grade with how many passes it rests on."""

    number = number(required=True)
    rating = nullable(Choice(RATINGS))
    pass_grade = nullable(JsonNumber(0, 3))
    passes = nullable(JsonNumber(0, 100_000))


class OpponentFields(Strict):
    level = level()
    lineup = lineup()
    setters = Items(number(), 0, 6)
    setter_position = nullable(position(note="where the first setter stands at the start of a set"))
    system = Choice(SYSTEMS)
    liberos = Items(number(), 0, 4)
    pass_target = Part(CourtPlace, allow_none=True)
    pass_slot = Part(SlotRequest, allow_none=True)
    setter_faces = nullable(Choice(SETTER_FACES))
    ratings = Items(Part(RatingRequest), 0, 30)
    notes = nullable(Text(0, LONGEST_NOTES))


class NewOpponent(OpponentFields):
    """An opponent; everything but its name is optional."""

    name = name(required=True)


class OpponentChange(OpponentFields):
    """What to change of an opponent."""

    name = name()


class StandingRequest(CourtPlace):
    """One of the six receivers: her position, her place, and whether she passes.

    number: who stands there, where it is not the player of the rotation, as with a libero.
    """

    position = position(required=True)
    passes = JsonBoolean()
    number = nullable(number())


class SeenPasser(CourtPlace):
    """A passer as she was seen; which position she holds may be left open."""

    position = position()
    number = number()


class FormationFields(Strict):
    players = Items(Part(StandingRequest), 6, 6)
    passers = Items(Part(SeenPasser), 1, 5)
    setter_start = Part(Place)
    formation = Choice(FORMATIONS)


class FormationRequest(FormationFields):
    """A formation: six players as they stand; or passers and the setter's start; or a stock one by name."""


class FormationQuestion(FormationFields):
    """A formation to look at, for a position of their setter."""

    setter_position = position(required=True)
    system = Choice(SYSTEMS)


class KeptFormation(Strict):
    """A formation as it was entered."""

    setter_position = position(required=True)
    players = Items(Part(StandingRequest), 6, 6, required=True)


class KeptOpponent(OpponentFields):
    """An opponent, with its formations."""

    formations = Items(Part(KeptFormation), 0, 6)


class KeptServer(Strict):
    """What a call takes of a player: her reach, her serves."""

    reach_m = nullable(JsonNumber(LOWEST_REACH_M, HIGHEST_REACH_M, "m"))
    serves = Items(Part(ServeRequest), 0, len(KINDS))


class PreparedRequest(Strict):
    """A request for a call, and what is known beside it; what the request says goes first.

    kind: which of her serves is meant; null for the first of them, and where a call is asked for, for all.
    """

    request = Part(CallRequest, required=True)
    opponent = Part(KeptOpponent, allow_none=True)
    player = Part(KeptServer, allow_none=True)
    kind = nullable(Choice(KINDS))


class CopyRequest(Strict):
    """For which other positions of their setter a formation is to be kept too."""

    to = Items(position(), 1, 6, required=True)


class TableRequest(Strict):
    """A table of players, as text."""

    text = Text(0, LONGEST_TABLE, required=True)
    takes_csv = True


class TeamsQuery(Strict):
    after = Uuid7()
    limit = QueryInteger(1, TEAMS_A_PAGE)


class QueryText(Text):
    """Text as it stands in an address; U+0000, which no database holds, is none."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        found = super()._deserialize(value, attr, data, **kwargs)
        if "\0" in found:
            raise self.make_error("invalid", input=value)
        return found


class OpponentsQuery(Strict):
    after = Uuid7()
    limit = QueryInteger(1, OPPONENTS_A_PAGE)
    name = QueryText(1, LONGEST_NAME)


class ColumnsText(fields.String):
    """Columns, one for each header, separated by commas; empty for a header that stands for none."""

    EXPECTED = "columns separated by commas, each empty or one of " + ", ".join(COLUMNS)

    def __init__(self, **kwargs: Any):
        one = f"({'|'.join(COLUMNS)})?"
        metadata = {"pattern": f"^{one}(,{one}){{0,59}}$", "description": self.EXPECTED}
        super().__init__(error_messages={"invalid": self.EXPECTED}, metadata=metadata, **kwargs)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        found = str(value).split(",")
        if len(found) > 60 or not {*found} <= {"", *COLUMNS}:
            raise self.make_error("invalid", input=value)
        return [column or None for column in found]


class ImportQuery(Strict):
    dry_run = QueryInteger(0, 1)
    columns = ColumnsText()


class LineupText(fields.String):
    """Six shirt numbers separated by commas, positions 1 to 6; empty where not known."""

    EXPECTED = "six shirt numbers from 0 to 99 separated by commas, empty where not known"
    PATTERN = "^[0-9]{0,2}(,[0-9]{0,2}){5}$"

    def __init__(self, **kwargs: Any):
        metadata = {"pattern": self.PATTERN, "description": self.EXPECTED}
        super().__init__(error_messages={"invalid": self.EXPECTED}, metadata=metadata, **kwargs)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        found = str(value).split(",")
        if len(found) != 6 or any(re.fullmatch("[0-9]{0,2}", one) is None for one in found):
            raise self.make_error("invalid", input=value)
        return [int(one) if one else None for one in found]


class BookQuery(Strict):
    team = Uuid7()
    serving_first = Choice(SIDES)
    lineup = LineupText()
    turn = QueryInteger(1, 6)
