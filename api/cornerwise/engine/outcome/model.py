"""From one landing to the chance of winning the rally.

The pass grade, 0 to 3, is a cumulative logit: P(grade <= k) = logistic(difficulty - cut_k), where the
difficulty is a sum of named parts. The rally is then won with the level's share for that grade, more
when the pass comes from behind the setter.

The weights are tuned so that the calls agree with common practice; that agreement is a check of
consistency, not a validation. The direction of each part is published (less alignment of passer, ball
and target gives poorer passes: J Sports Sci 2018;36(22):2621-2630; longer fore-aft moves and deeper
starts lower the pass: Front Psychol 2016;7:1694); no paper gives a slope. A team's own log replaces them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal, NamedTuple, get_args

from cornerwise.engine.court import Point, distance_m
from cornerwise.engine.maths import Maths, Real
from cornerwise.engine.names import Level
from cornerwise.engine.passing.duty import Stand, duty
from cornerwise.engine.passing.serve_pass import arrival_bearing_deg, pass_angle_deg

Part = Literal[
    "pass_angle",
    "sight_angle",
    "pass_length",
    "move",
    "away",
    "back",
    "seam",
    "setter_late",
    "serve_speed",
    "passer",
    "behind",
    "errors",
]

PARTS: tuple[Part, ...] = get_args(Part)

CUTS = (2.5, 1.3, -0.15)  # tuned: cut points of grades 0, 1 and 2. [logit]
OFFSET = -0.95  # tuned. [logit]
ANGLE_UNIT_DEG = 45.0  # chosen: the angle that each angle weight is per
ANGLE_MIDDLE = 0.6  # chosen: an angle of 27 deg shifts nothing
LENGTH_MIDDLE_M = 5.5  # chosen: a pass of this length shifts nothing
SPEED_MIDDLE_M_S = 16.0  # chosen: a serve of this speed shifts nothing
REACTION_S = 0.35  # chosen: between simple (0.19 to 0.22 s) and choice reaction (0.30 to 0.45 s), from memory
FEET_M_S = 2.6  # chosen: how fast a passer's feet carry her once she has reacted
PLATFORM_M = 0.75  # chosen: reach of her platform without a step
SHORTEST_RUN_S = 0.05  # chosen: keeps the reach positive for the fastest serves
SETTER_SPEED_M_S = 4.0  # chosen: a setter's run to the pass target
PASS_TIME_S = 1.2  # chosen: flight time of a pass
SETTER_READY_S = 0.9  # chosen: what she needs at the target before the ball is there

LEVEL_SHIFT: dict[Level, float] = {
    "under_14": 0.65,
    "high_school": 0.30,
    "college": -0.60,
    "elite_women": -1.10,
    "elite_men": -1.20,
}  # tuned. [logit]
# Serving side's share of rallies won after pass grades 0 to 3: one minus the side-out share, which is
# from memory and low in confidence (the order is safe, the gaps are not). Grade 0 is an ace.
WIN_SHARES: dict[Level, tuple[float, float, float, float]] = {
    "under_14": (1.0, 0.61, 0.50, 0.42),
    "high_school": (1.0, 0.61, 0.50, 0.42),
    "college": (1.0, 0.60, 0.45, 0.37),
    "elite_women": (1.0, 0.60, 0.45, 0.37),
    "elite_men": (1.0, 0.54, 0.35, 0.26),
}

BEHIND_FROM_DEG = 80.0  # tuned: arrival bearing from which a pass begins to come from behind the setter


@dataclass(frozen=True, slots=True)
class Behind:
    """What a pass from behind the setter is worth to the serving side, at most.

    grade_1 : added share of rallies won. [-]
    grade_2 : share of the gap to grade 1 that is closed. [-]
    grade_3 : share of the gap to grade 2 that is closed. [-]
    from_deg, width_deg : arrival bearing from which this begins, and over which it comes in full.
    """

    grade_1: float = 0.05
    grade_2: float = 1.00
    grade_3: float = 0.30
    from_deg: float = BEHIND_FROM_DEG
    width_deg: float = 40.0


@dataclass(frozen=True, slots=True)
class OutcomeModel:
    """All weights, so that a log or a test can replace any of them. The defaults are tuned.

    offset is the level's own; weights are logit per unit named in `terms`.
    """

    offset: float
    shares: tuple[float, float, float, float]
    pass_angle: float = 0.60
    sight_angle: float = 1.10
    pass_length: float = 0.12
    move: float = 0.50
    away: float = 0.50
    back: float = 0.30
    seam: float = 0.12
    setter_late: float = 0.55
    serve_speed: float = 0.06
    passer: float = 1.0
    behind: Behind = Behind()
    cuts: tuple[float, float, float] = CUTS
    cut_factors: tuple[float, float, float] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        k0, k1, k2 = (math.exp(cut) for cut in self.cuts)
        object.__setattr__(self, "cut_factors", (k0, k1, k2))  # kept, since every cell needs them


def outcome_model(level: Level) -> OutcomeModel:
    """Return the stock model of a level."""
    return OutcomeModel(OFFSET + LEVEL_SHIFT[level], WIN_SHARES[level])


@dataclass(frozen=True, slots=True)
class Receivers:
    """The receiving side as the formulas need it.

    faces : +1 if the setter faces her own left (+x) while setting, -1 if her right.
    """

    stands: tuple[Stand, ...]
    setter_start: Point
    target: Point
    faces: float = 1.0

    @property
    def setter_run_m(self) -> float:
        """Distance from the setter's starting place to the pass target. [m]"""
        return distance_m(self.setter_start, self.target)


class Terms(NamedTuple):
    """The parts of the difficulty of one landing, each in logit, and two more quantities.

    behind : 0 to 1, how far the pass comes from behind the setter.
    move_m : how far the passer has to go; `move` follows from it and the flight time. [m]
    """

    pass_angle: Real
    sight_angle: Real
    pass_length: Real
    away: Real
    back: Real
    seam: Real
    passer: Real
    behind: Real
    move_m: Real


def terms(m: Maths, model: OutcomeModel, receivers: Receivers, contact: Point, x_m: Real, y_m: Real) -> Terms:
    """Return the parts that depend on spot and landing only, not on the flight time. [logit]

    pass angle and sight angle: weight * (angle/45 deg - 0.6); pass length: weight * (length - 5.5 m);
    away, back: weight * metres, each 0 to 2; seam: weight * (0 to 1); passer: her rating.
    """
    target = receivers.target
    angle = pass_angle_deg(m, contact, x_m, y_m, target)
    sight = pass_angle_deg(m, contact, x_m, y_m, receivers.setter_start)
    tx, ty = x_m - target.x_m, y_m - target.y_m
    length = m.sqrt(tx * tx + ty * ty)
    bearing = arrival_bearing_deg(m, x_m, y_m, target, receivers.faces)
    hers = duty(m, x_m, y_m, receivers.stands, target)
    return Terms(
        model.pass_angle * (angle / ANGLE_UNIT_DEG - ANGLE_MIDDLE),
        model.sight_angle * (sight / ANGLE_UNIT_DEG - ANGLE_MIDDLE),
        model.pass_length * (length - LENGTH_MIDDLE_M),
        model.away * hers.away_m,
        model.back * hers.back_m,
        model.seam * hers.seam,
        model.passer * hers.shift,
        m.minimum(m.maximum((bearing - model.behind.from_deg) / model.behind.width_deg, 0.0), 1.0),
        hers.move_m,
    )


def standing_part(model: OutcomeModel, t: Terms) -> Real:
    """Return the difficulty without the parts that depend on flight time and speed. [logit]"""
    return model.offset + t.pass_angle + t.sight_angle + t.pass_length + t.away + t.back + t.seam + t.passer


def move_part(model: OutcomeModel, move_m: Real, flight_time_s: Real, m: Maths) -> Real:
    """Return weight * (move/reachable)^2, reachable = 0.75 + 2.6 * max(t - 0.35, 0.05). [logit]"""
    reachable_m = PLATFORM_M + FEET_M_S * m.maximum(flight_time_s - REACTION_S, SHORTEST_RUN_S)
    share = move_m / reachable_m
    return model.move * share * share


def late_part(model: OutcomeModel, setter_run_m: float, flight_time_s: Real, m: Maths) -> Real:
    """Return weight * max(run/4 - (t + 1.2) + 0.9, 0): the setter is late at the target. [logit]"""
    late_s = setter_run_m / SETTER_SPEED_M_S - (flight_time_s + PASS_TIME_S) + SETTER_READY_S
    return model.setter_late * m.maximum(late_s, 0.0)


def speed_part(model: OutcomeModel, speed_m_s: float) -> float:
    """Return weight * (speed - 16 m/s), the serve's speed at contact. [logit]"""
    return model.serve_speed * (speed_m_s - SPEED_MIDDLE_M_S)


def at_most(m: Maths, model: OutcomeModel, difficulty: Real) -> tuple[Real, Real, Real]:
    """Return P(grade <= 0), P(grade <= 1), P(grade <= 2), each logistic(difficulty - cut).

    difficulty : above -700, so that exp(-difficulty) is a float; those of this court lie above -20. [logit]
    """
    against = m.exp(-difficulty)
    k0, k1, k2 = model.cut_factors
    return 1.0 / (1.0 + k0 * against), 1.0 / (1.0 + k1 * against), 1.0 / (1.0 + k2 * against)


def grade_probabilities(m: Maths, model: OutcomeModel, difficulty: Real) -> tuple[Real, Real, Real, Real]:
    """Return the chances of pass grades 0 to 3; they sum to 1."""
    c0, c1, c2 = at_most(m, model, difficulty)
    return c0, c1 - c0, c2 - c1, 1.0 - c2


def win_shares(model: OutcomeModel, behind: Real) -> tuple[Real, Real, Real]:
    """Return the serving side's share of rallies won after pass grades 1, 2 and 3.

    A pass from behind the setter gains 0.05 at grade 1, the whole gap to grade 1 at grade 2, and 0.30 of
    the gap to grade 2 at grade 3, each times `behind`.
    """
    _, one, two, three = model.shares
    return (
        one + behind * model.behind.grade_1,
        two + behind * (model.behind.grade_2 * (one - two)),
        three + behind * (model.behind.grade_3 * (two - three)),
    )


def rally_won(m: Maths, model: OutcomeModel, difficulty: Real, one: Real, two: Real, three: Real) -> Real:
    """Return the chance that the serving side wins the rally on a serve that is in.

    one, two, three : what `win_shares` says for this landing.
    """
    c0, c1, c2 = at_most(m, model, difficulty)
    return three + c0 * (model.shares[0] - one) + c1 * (one - two) + c2 * (two - three)
