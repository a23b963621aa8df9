"""What a call is made for, and the options it chooses among."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from cornerwise.engine.court import Depth, Point, SpotName, Zone, depth, spot_name, zone
from cornerwise.engine.flight import MATCH_BALL, Ball, DragModel, Launch
from cornerwise.engine.outcome import OutcomeModel, Receivers
from cornerwise.engine.players import Serve, Server

from .grid import Stance


@dataclass(frozen=True, slots=True)
class Situation:
    """One serve to be called.

    error_ceiling : largest share of service errors the coach accepts, 0 to 1; None for no ceiling.
    """

    model: OutcomeModel
    receivers: Receivers
    server: Server
    net_height_m: float
    drag_model: DragModel = "B"
    error_ceiling: float | None = None
    ball: Ball = MATCH_BALL


@dataclass(frozen=True, slots=True)
class Stand:
    """One spot with one kind of serve: everything but pace and aim is decided."""

    spot: Point
    serve: Serve
    stance: Stance


Key: TypeAlias = tuple[SpotName, Zone, Depth]
"""What a call is called by: spot, zone and depth."""


@dataclass(frozen=True, slots=True)
class Option:
    """One serve that could be called, with what it is worth.

    keep : chance of winning the rally on it, and so of serving the next ball.
    p_in : chance that it is no service error.
    """

    stand: Stand
    pace: int
    landing: Point
    keep: float
    p_in: float

    @property
    def p_error(self) -> float:
        """Chance of a service error."""
        return 1.0 - self.p_in

    @property
    def key(self) -> Key:
        """What the call is called by: spot, zone and depth."""
        return spot_name(self.stand.spot.x_m), zone(self.landing), depth(self.landing)


def stand_at(situation: Situation, spot: Point, serve: Serve) -> Stand:
    """Return the stand of one serve at one spot: the contact point lies nearer the net than the feet."""
    contact = Point(spot.x_m, spot.y_m + serve.contact_inside_m)
    launches = tuple(
        Launch(speed, serve.contact_height_m, serve.spin_rev_s, situation.drag_model, situation.ball)
        for speed in serve.speeds_m_s
    )
    return Stand(spot, serve, Stance(contact, launches, situation.net_height_m, serve.scatter))


def preference(option: Option, faces: float) -> tuple[float, ...]:
    """Return a key by which the better option sorts first; ties break alike for a mirrored situation.

    Equal keeps are told apart by errors, then by side as the setter faces, then by depth.
    """
    return (
        -round(option.keep, 9),
        round(option.p_error, 9),
        -round(option.stand.spot.x_m * faces, 6),
        -round(option.landing.x_m * faces, 6),
        -round(option.landing.y_m, 6),
    )


def range_m(option: Option) -> float:
    """Return how far the ball of an option flies, from the contact point. [m]"""
    contact = option.stand.stance.contact
    return math.hypot(option.landing.x_m - contact.x_m, option.landing.y_m - contact.y_m)
