"""What the requests look like: shapes, types and ranges. Volleyball's own rules are the engine's."""

from __future__ import annotations

from typing import Any

from cornerwise.engine.court import SPOT_NAMES
from cornerwise.engine.flight import BALLS, DRAG_MODELS, KINDS
from cornerwise.engine.names import FORMATIONS, LEVELS, SYSTEMS
from cornerwise.engine.reception.checks import MOST_PASSERS
from cornerwise.engine.roster import JOBS

from .fields import Choice, Items, JsonBoolean, JsonInteger, JsonNumber, NameOrPart, Part, Strict

# All ranges are chosen: generous, so that they refuse slips of the finger and nothing that is played.
FARTHEST_M = 20.0  # a place, from the middle of the net, along either axis
SETTER_FACES = ("left", "right")


def speed(**kwargs: Any) -> JsonNumber:
    return JsonNumber(3, 40, "m/s", **kwargs)


class Job(JsonInteger):
    """Where a server defends next: one of three positions."""

    def __init__(self) -> None:
        super().__init__(min(JOBS), max(JOBS))
        expected = "one of 1, 5, 6"
        self.error_messages = dict.fromkeys(self.error_messages, expected)
        self.metadata |= {"enum": list(JOBS), "description": expected}

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        found = super()._deserialize(value, attr, data, **kwargs)
        if found not in JOBS:
            raise self.make_error("invalid", input=value)
        return found


def contact_height(**kwargs: Any) -> JsonNumber:
    return JsonNumber(0.5, 4, "m", **kwargs)


def spin(**kwargs: Any) -> JsonNumber:
    return JsonNumber(0, 15, "rev/s", **kwargs)


def net_height(**kwargs: Any) -> JsonNumber:
    return JsonNumber(1.5, 2.6, "m", **kwargs)


class Place(Strict):
    """A place on the floor: x to the server's right, y away from her, from under the middle of the net."""

    x_m = JsonNumber(-FARTHEST_M, FARTHEST_M, "m", required=True)
    y_m = JsonNumber(-FARTHEST_M, FARTHEST_M, "m", required=True)


class GeometryRequest(Strict):
    """The four places that decide a serve's angles; `spot` is the contact point here."""

    spot = Part(Place, required=True)
    landing = Part(Place, required=True)
    setter_start = Part(Place, required=True)
    pass_target = Part(Place, required=True)
    setter_faces = Choice(SETTER_FACES)


class FlightRequest(Strict):
    """One serve, seen from the side."""

    kind = Choice(KINDS, required=True)
    speed_m_s = speed(required=True)
    contact_height_m = contact_height(required=True)
    spin_rev_s = spin(required=True)
    range_m = JsonNumber(0, 40, "m", above=True, required=True)
    net_height_m = net_height(required=True)
    distance_to_net_m = JsonNumber(0, 20, "m", above=True)
    drag_model = Choice(DRAG_MODELS)


class ScatterRequest(Strict):
    """How precisely she serves, as standard deviations for a serve of 15 m.

    Below 0.2 m no server is known to be.
    """

    across_m = JsonNumber(0.2, 5, "m", required=True)
    along_m = JsonNumber(0.2, 5, "m", required=True)


class ServerRequest(Strict):
    """What is known of the server; the rest is the stock server of the level and kind."""

    kind = Choice(KINDS)
    speeds_m_s = Items(speed(), 1, 4)
    contact_height_m = contact_height()
    contact_inside_m = JsonNumber(0, 3, "m")
    spin_rev_s = spin()
    scatter = Part(ScatterRequest)
    spots = Items(NameOrPart(SPOT_NAMES, Place), 1, 9)
    has_short_float = JsonBoolean()
    next_job = Job()


class PasserRequest(Strict):
    """One passer: where she stands, and what is known of her."""

    x_m = JsonNumber(-FARTHEST_M, FARTHEST_M, "m", required=True)
    y_m = JsonNumber(-FARTHEST_M, FARTHEST_M, "m", required=True)
    position = JsonInteger(1, 6)
    number = JsonInteger(0, 99, note="named in the answer; no two passers have the same")
    pass_grade = JsonNumber(0, 3)
    passes = JsonNumber(0, 100_000)


class OpponentRequest(Strict):
    """What is known of the receivers: at least `setter_position` or `setter_start`.

    The number of passers is a rule of the game: the engine refuses others, as it does on the phone.
    """

    setter_position = JsonInteger(1, 6)
    setter_start = Part(Place)
    pass_target = Part(Place)
    setter_faces = Choice(SETTER_FACES)
    system = Choice(SYSTEMS)
    formation = Choice(FORMATIONS, note="with passers given, only the setter's usual start follows it")
    passers = Items(Part(PasserRequest), 1, MOST_PASSERS, by_rule=True)


class PolicyRequest(Strict):
    """What the coach accepts."""

    error_ceiling = JsonNumber(0, 1)
    use_start_ceiling = JsonBoolean()


class CallRequest(Strict):
    """One serve to be called. Everything is optional but one way to know the setter."""

    level = Choice(LEVELS)
    net_height_m = net_height()
    drag_model = Choice(DRAG_MODELS)
    ball = Choice(tuple(BALLS))
    service_line_m = JsonNumber(6, 9, "m")
    server = Part(ServerRequest)
    opponent = Part(OpponentRequest)
    policy = Part(PolicyRequest)


class AimedRequest(CallRequest):
    """A serve that somebody chose: by `server.spots` where from, by `target` where to."""

    target = Part(Place, required=True)
