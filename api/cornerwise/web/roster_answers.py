"""What the answers about teams, players and opponents look like, member by member."""

from __future__ import annotations

from typing import get_args

from marshmallow import fields

from cornerwise.engine.court import SPOT_NAMES
from cornerwise.engine.flight import KINDS
from cornerwise.engine.names import LEVELS, SYSTEMS
from cornerwise.engine.reception import Role
from cornerwise.engine.roster import JOBS, RATINGS
from cornerwise.service.player_columns import COLUMNS, HANDS, ROLES
from cornerwise.service.table import DELIMITERS, MOST_COLUMNS, MOST_ROWS
from cornerwise.service.teams import MOST_PLAYERS

from .answers import (
    Answer,
    AssumedAnswer,
    MissingSpotAnswer,
    NextJobAnswer,
    PlaceAnswer,
    PlayerBoundsAnswer,
    ScatterAnswer,
    SignalAnswer,
    SpotAnswer,
    TargetAnswer,
    WordsAnswer,
    chance,
    choice,
    flag,
    listed,
    part,
    parts,
    real,
    string,
    whole,
)
from .match_parts import perhaps, shirt, stands
from .roster_schemas import OPPONENTS_A_PAGE, TEAMS_A_PAGE
from .schemas import SETTER_FACES

MOST_SERVERS = MOST_PLAYERS + 6


def numbers(high: int) -> fields.List:
    return listed(shirt(), high)


def lineup() -> fields.List:
    return fields.List(
        shirt(null=True), required=True, allow_none=True, metadata={"minItems": 6, "maxItems": 6}
    )


class TeamAnswer(Answer):
    """One of our teams."""

    id = string()
    name = string()
    level = choice(LEVELS, null=True)
    lineup = lineup()
    players = whole(0, MOST_PLAYERS)
    changed_at = string("date and time, UTC")
    deleting = string("what deleting it would mean")


class TeamsAnswer(Answer):
    """Teams by name; `next` is the `after` of the next page."""

    items = parts(TeamAnswer, TEAMS_A_PAGE)
    next = string(null=True)


class MeasuredScatterAnswer(ScatterAnswer):
    """Scatter as it was measured."""

    serves = whole(1, 999, null=True)


class ServeAnswer(Answer):
    """One kind of serve of a player."""

    kind = choice(KINDS)
    speeds_m_s = fields.List(real(minimum=0), required=True, allow_none=True)
    spots = fields.List(choice(SPOT_NAMES), required=True, allow_none=True)
    level = choice(LEVELS, null=True)
    scatter = perhaps(MeasuredScatterAnswer)
    error_ceiling = chance(null=True)
    next_job = fields.Integer(required=True, allow_none=True, metadata={"enum": [*JOBS, None]})


class ReadPlayer(Answer):
    name = string(null=True)
    role = choice(ROLES, null=True)
    handedness = choice(HANDS, null=True)
    reach_m = real(null=True, minimum=0)


class RosterPlayerAnswer(ReadPlayer):
    """A player of ours, with her serves and whom she may come in for."""

    id = string()
    number = shirt()
    serves = parts(ServeAnswer, len(KINDS))
    comes_in_for = numbers(MOST_PLAYERS)


class TeamDetailAnswer(TeamAnswer):
    """A team with its players, by number."""

    roster = parts(RosterPlayerAnswer, MOST_PLAYERS)


class TeamRemovedAnswer(Answer):
    """What was deleted. traces_gone: nothing of it is left in the database's file."""

    id = string()
    players_removed = whole(0, MOST_PLAYERS)
    traces_gone = flag()


class GoneAnswer(Answer):
    """What was deleted. traces_gone: nothing of it is left in the database's file."""

    id = string()
    traces_gone = flag()


class MissingAnswer(Answer):
    """What a spot that a server cannot use would bring, over some rotations."""

    spot = choice(SPOT_NAMES)
    points_per_100 = real("mean over the rotations")
    most_per_100 = real("in the rotation where it would bring most")
    text = string()


class OpponentMissingAnswer(Answer):
    """The same against one opponent."""

    name = string()
    missing = parts(MissingAnswer, len(SPOT_NAMES))


class CornersAnswer(Answer):
    """What the spots cost that a player cannot use, against the opponents that were changed last."""

    missing = parts(MissingAnswer, len(SPOT_NAMES))
    opponents = parts(OpponentMissingAnswer, 10)


class ColumnAnswer(Answer):
    """A column of a table, and what it was taken for; null for nothing."""

    header = string()
    field = choice(COLUMNS, null=True)


class ReadValuesAnswer(Answer):
    """What a table says of a player; what is missing stays as it is."""

    name = fields.String()
    role = fields.String(metadata={"enum": list(ROLES)})
    handedness = fields.String(metadata={"enum": list(HANDS)})
    reach_m = fields.Float()


class ReadPlayerAnswer(Answer):
    """A player as a table gives her: from which rows, and whether the team has her number already."""

    number = shirt()
    rows = listed(whole(1, 1_000_000), MOST_ROWS)
    exists = flag()
    values = part(ReadValuesAnswer)
    serves = fields.List(fields.Nested(ServeAnswer), required=True, allow_none=True)
    comes_in_for = fields.List(shirt(), required=True, allow_none=True)


class CellErrorAnswer(Answer):
    """What is wrong in a table. row: as a spreadsheet counts; null for the table as a whole."""

    row = whole(1, 1_000_000, null=True)
    column = choice(COLUMNS, null=True)
    value = fields.Raw(required=True, allow_none=True)
    expected = string()


class ImportAnswer(Answer):
    """What a table comes to. imported: how many players were kept, 0 for a dry run."""

    delimiter = choice(DELIMITERS)
    columns = parts(ColumnAnswer, MOST_COLUMNS)
    players = parts(ReadPlayerAnswer, MOST_ROWS)
    errors = parts(CellErrorAnswer, MOST_ROWS * MOST_COLUMNS)
    imported = whole(0, MOST_ROWS)


class ListedOpponentAnswer(Answer):
    """An opponent, in a list."""

    id = string()
    name = string()
    level = choice(LEVELS, null=True)
    formations_entered = whole(0, 6)
    changed_at = string("date and time, UTC")


class ListedOpponentsAnswer(Answer):
    """Opponents by name; `next` is the `after` of the next page."""

    items = parts(ListedOpponentAnswer, OPPONENTS_A_PAGE)
    next = string(null=True)


class RatingAnswer(Answer):
    """A passer's rating, as it was given."""

    number = shirt()
    rating = fields.String(allow_none=True, metadata={"enum": [*RATINGS, None]})
    pass_grade = fields.Float(allow_none=True)
    passes = fields.Float(allow_none=True)


class EnteredPlayerAnswer(PlaceAnswer):
    """One of the six receivers, as she was entered."""

    position = stands()
    passes = flag()
    number = shirt(null=True)


class EnteredFormationAnswer(Answer):
    """A formation as it was entered."""

    setter_position = stands()
    players = parts(EnteredPlayerAnswer, 6, 6)


class SlotAnswer(Answer):
    """One of nine slots, and how far off the net."""

    slot = whole(1, 9)
    off_net_m = real(minimum=0)


class OpponentProfileAnswer(ListedOpponentAnswer):
    """An opponent, as far as it is known."""

    lineup = lineup()
    setters = numbers(6)
    setter_position = stands(null=True)
    system = choice(SYSTEMS)
    liberos = numbers(4)
    pass_target = perhaps(PlaceAnswer)
    pass_slot = perhaps(SlotAnswer)
    setter_faces = choice(SETTER_FACES, null=True)
    ratings = parts(RatingAnswer, 30)
    notes = string(null=True)
    formations = parts(EnteredFormationAnswer, 6)


class FormationPlayerAnswer(EnteredPlayerAnswer):
    """One of the six receivers, with the box she may be moved in."""

    role = choice(get_args(Role))
    limits = part(PlayerBoundsAnswer)


class BreachAnswer(Answer):
    """Two players out of order."""

    positions = listed(stands(), 2, 2)
    axis = choice(("x", "y"))
    rule = string()
    text = string()


class CheckedFormationAnswer(Answer):
    """Six receivers, and whether they stand in their order. While somebody does not, no box holds anybody."""

    setter_position = stands()
    setting_position = stands()
    setter_row = choice(("front", "back"))
    system = choice(SYSTEMS)
    legal = flag()
    breaches = parts(BreachAnswer, 7)
    players = parts(FormationPlayerAnswer, 6, 6)


class KeptFormationAnswer(CheckedFormationAnswer):
    """A formation of an opponent. entered: false for a stock one, which is not kept."""

    entered = flag()


class NotCopiedAnswer(Answer):
    """A position of their setter for which six players cannot stand like that, and why."""

    setter_position = stands()
    expected = string()
    rule = string()


class CopiedAnswer(Answer):
    """The formations that were kept, and the positions for which it was not possible."""

    copied = parts(KeptFormationAnswer, 6)
    refused = parts(NotCopiedAnswer, 6)


class BookServeAnswer(Answer):
    """One serve, as short as a card has room for."""

    spot = part(SpotAnswer)
    target = part(TargetAnswer)
    kind = choice(KINDS)
    speed_m_s = real(minimum=0)
    keep = chance()
    p_error = chance()
    words = part(WordsAnswer)
    signal = parts(SignalAnswer, 3, 3)


class BookedServeAnswer(BookServeAnswer):
    """A server's call."""

    next_job = perhaps(NextJobAnswer)


class BookCallAnswer(Answer):
    """The call of one server in one rotation. call: null when no serve of hers reaches the court.

    meets: she, or whom she comes in for, serves in this rotation of theirs.
    text: what her error ceiling does, or why there is no call.
    """

    server = shirt()
    name = string(null=True)
    comes_in_for = numbers(MOST_PLAYERS)
    call = perhaps(BookedServeAnswer)
    equals = parts(BookServeAnswer, 20)
    missing_spots = parts(MissingSpotAnswer, len(SPOT_NAMES))
    text = string()
    meets = flag()


class ReceiverPlaceAnswer(PlaceAnswer):
    """One of their six in this rotation."""

    position = stands(null=True)
    number = shirt(null=True)
    role = choice(get_args(Role))


class BookRotationAnswer(Answer):
    """One of their rotations. server: ours who meets it, if both line-ups and the first server are known."""

    turn = whole(1, 6)
    setter_position = stands()
    setting_position = stands()
    setter_row = choice(("front", "back"))
    server = shirt(null=True)
    formation_entered = flag()
    receivers = parts(ReceiverPlaceAnswer, 6)
    calls = parts(BookCallAnswer, MOST_SERVERS)


class BookServerAnswer(Answer):
    """A server of the book, and what each spot would bring that she cannot use, over its rotations."""

    number = shirt()
    name = string(null=True)
    comes_in_for = numbers(MOST_PLAYERS)
    missing = parts(MissingAnswer, len(SPOT_NAMES))


class BookTeamAnswer(Answer):
    """Whose book it is."""

    id = string()
    name = string()


class BookOpponentAnswer(BookTeamAnswer):
    """Against whom it is."""

    notes = string(null=True)


class BookAnswer(Answer):
    """All six of their rotations, in the order in which they are met, with a call for each server of ours."""

    team = part(BookTeamAnswer)
    opponent = part(BookOpponentAnswer)
    level = choice(LEVELS)
    order_known = flag()
    rotations = parts(BookRotationAnswer, 6, 1)
    servers = parts(BookServerAnswer, MOST_SERVERS)
    assumed = parts(AssumedAnswer, 20)


class PreparedAnswer(Answer):
    """A request for a call, with what is kept of the server and of the opponent."""

    request = fields.Dict(required=True, metadata={"description": "a request as POST /calls takes it"})
