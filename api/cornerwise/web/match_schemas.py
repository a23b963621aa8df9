"""What the requests about matches look like."""

from __future__ import annotations

from typing import Any

from marshmallow import fields

from cornerwise.engine.bridge.hands import starting_code
from cornerwise.engine.bridge.live import MOST_SETS, SERVES_AHEAD
from cornerwise.engine.match.documenting import event_schemas
from cornerwise.engine.match.profile_reading import parse_profile
from cornerwise.engine.match.readers import nullable
from cornerwise.engine.match.reading import LONGEST_LOG
from cornerwise.engine.match.terms import SIDES
from cornerwise.store.tables import LONGEST_NAME

from .fields import Choice, Items, JsonBoolean, JsonInteger, Part, QueryInteger, Strict, Text, Uuid7
from .schemas import CallRequest

LARGEST_BATCH = 500
LARGEST_PAGE = 500
MATCHES_A_PAGE = 50

EVENT_SCHEMAS = event_schemas()
EXAMPLE = {
    "id": "01900000-0000-7000-8000-000000000001",
    "device": "phone",
    "counter": 7,
    "set_number": 1,
    "rally_number": 3,
    "seen": 6,
    "type": "rally_won",
    "winner": "us",
}


def event(**kwargs: Any) -> fields.Raw:
    """Return a field for an event of a log. The engine reads it: what it cannot, it refuses by its field."""
    return fields.Raw(allow_none=True, metadata={"oneOf": [{"$ref": "#/components/schemas/Event"}]}, **kwargs)


def poses(of: str) -> Part:
    """Return a part with one pose for each name of a kind of signal."""
    names = starting_code()[of]
    schema = Strict.from_dict({name: Items(JsonBoolean(), 5, 5, required=True) for name in names})
    schema.__name__ = f"{of.capitalize()}Poses"
    return Part(schema, required=True)


class SignalsRequest(Strict):
    """The code of a team's hands: five fingers each, thumb first, true if stretched."""

    spot = poses("spot")
    zone = poses("zone")
    depth = poses("depth")


class MatchRequest(Strict):
    """A match to begin. With an id made by the device, asking twice begins one match."""

    id = Uuid7()
    name = Text(1, LONGEST_NAME, allow_none=True)


class MatchChange(Strict):
    """What to change: the name (null: none), or the code of our team's hands."""

    name = Text(1, LONGEST_NAME, allow_none=True)
    signals = Part(SignalsRequest)


class Log(Strict):
    """Something with events in it. What is text in them is looked at event by event."""

    any_text = True


class KnownEvent(Strict):
    """An event and its position in the match, as the sender knows it."""

    position = JsonInteger(1, LONGEST_LOG, required=True)
    id = Uuid7(required=True)


class EventsRequest(Log):
    """A batch of events, in the order in which the device wrote them.

    With `known` they are taken only by a log that has this event there: not by that of a server which was
    restored from a backup since, and lacks what should stand before them.
    """

    events = Items(event(), 1, LARGEST_BATCH, required=True)
    known = Part(KnownEvent)


class ReplayRequest(Log):
    """A whole log, and the rule profile to read it by, if not the one in it."""

    profile = fields.Raw(
        allow_none=True,
        metadata={
            "description": "a profile's name, or an object with its name and the fields to change",
            **nullable(parse_profile.schema),
        },
    )
    events = Items(event(), 0, LONGEST_LOG, required=True)


class ReviewRequest(ReplayRequest):
    """A whole log, whose serves of it, and of which set; ours and the whole match if not given."""

    side = Choice(SIDES)
    set_number = JsonInteger(1, MOST_SETS, allow_none=True)


class ServesRequest(ReplayRequest):
    """A whole log, and what its match is called."""

    name = Text(1, LONGEST_NAME, allow_none=True)


class MatchCallRequest(CallRequest):
    """What is known beside the log; what is given here goes before what the log says."""

    serve = JsonInteger(0, SERVES_AHEAD - 1)


class MatchesQuery(Strict):
    before = Uuid7()
    limit = QueryInteger(1, MATCHES_A_PAGE)


class EventsQuery(Strict):
    after = QueryInteger(0, LONGEST_LOG)
    limit = QueryInteger(1, LARGEST_PAGE)


class ReviewQuery(Strict):
    side = Choice(SIDES)
    set_number = QueryInteger(1, MOST_SETS)
