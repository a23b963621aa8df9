"""Everything that is shown of one call: its flight, its angles, its scatter, its chances."""

from __future__ import annotations

import math
from dataclasses import dataclass

from cornerwise.engine.court import Point, distance_m
from cornerwise.engine.flight import reach_table
from cornerwise.engine.maths import PLAIN, Maths, Real
from cornerwise.engine.outcome import grade_probabilities
from cornerwise.engine.passing import (
    SightBand,
    arrival_bearing_deg,
    crosses_setter_lane,
    duty,
    pass_angle_deg,
    sight_band,
)

from .aims import expected_at
from .search import Search
from .situation import Option, range_m
from .value import difficulty, flight_times, shares_in

HALF_OF_SERVES = math.sqrt(2.0 * math.log(2.0))  # sds to the ellipse that holds half of a bivariate normal


@dataclass(frozen=True, slots=True)
class Geometry:
    """One serve and its pass, as points and angles; names and units as in `cornerwise.engine.passing`."""

    pass_angle_deg: float
    sight_angle_deg: float
    sight_band: SightBand
    pass_length_m: float
    arrival_bearing_deg: float
    setter_run_m: float
    crosses_setter_lane: bool


@dataclass(frozen=True, slots=True)
class Task:
    """Whose ball it is and how she must move.

    passer : counted from 0. move_m, away_m, back_m : how far, away from the pass target, backwards.
    """

    passer: int
    move_m: float
    away_m: float
    back_m: float


@dataclass(frozen=True, slots=True)
class Ellipse:
    """The ellipse around the aim that holds half of the serves. [m], [deg]

    bearing_deg : direction of flight, 0 straight ahead, positive to the server's right.
    """

    semi_across_m: float
    semi_along_m: float
    bearing_deg: float


@dataclass(frozen=True, slots=True)
class Detail:
    """All that is known of one call.

    across_m, bearing_sd_deg : sd of the serve at the target. [m], [deg]
    grades : chance of pass grades 0 to 3, errors left out, so that they sum to p_in.
    """

    option: Option
    geometry: Geometry
    task: Task
    flight_time_s: float
    launch_angle_deg: float
    net_margin_m: float
    ellipse: Ellipse
    across_m: float
    bearing_sd_deg: float
    grades: tuple[float, float, float, float]

    @property
    def p_ace(self) -> float:
        """Chance that no second contact is possible."""
        return self.grades[0]

    @property
    def pass_grade(self) -> float:
        """Expected pass grade over serves in, aces as 0."""
        return sum(k * p for k, p in enumerate(self.grades)) / sum(self.grades)


def geometry(
    contact: Point, landing: Point, setter_start: Point, target: Point, faces: float = 1.0
) -> Geometry:
    """Return the exact geometry of one serve and its pass.

    faces : +1 if the setter faces her own left while setting, -1 if her right.
    """
    x_m, y_m = landing.x_m, landing.y_m
    sight = pass_angle_deg(PLAIN, contact, x_m, y_m, setter_start)
    return Geometry(
        pass_angle_deg(PLAIN, contact, x_m, y_m, target),
        sight,
        sight_band(sight),
        distance_m(landing, target),
        arrival_bearing_deg(PLAIN, x_m, y_m, target, faces),
        distance_m(setter_start, target),
        crosses_setter_lane(contact, landing, setter_start, target),
    )


def task(search: Search, landing: Point) -> Task:
    """Return whose ball a landing is and how she must move for it."""
    receivers = search.situation.receivers
    hers = duty(PLAIN, landing.x_m, landing.y_m, receivers.stands, receivers.target)
    return Task(int(hers.index), hers.move_m, hers.away_m, hers.back_m)


def worth_at(search: Search, option: Option) -> Option:
    """Return an option with keep and p_in computed at its own landing, on a grid of aims or not."""
    stance, pace = option.stand.stance, option.pace
    shares = shares_in(search.m, stance, pace)
    keep, p_in = expected_at(search.m, stance, option.landing, search.values(option.stand, pace), shares)
    return Option(option.stand, pace, option.landing, keep, p_in)


def grades_at(m: Maths, search: Search, option: Option) -> tuple[float, float, float, float]:
    """Return the chance of each pass grade, errors left out."""
    situation, stance = search.situation, option.stand.stance
    speed = option.stand.serve.speeds_m_s[option.pace]

    def formula(still: Real, move_m: Real, time_s: Real, share: Real) -> tuple[Real, ...]:
        hard = difficulty(m, situation, speed, still, move_m, time_s)
        return tuple(share * p for p in grade_probabilities(m, situation.model, hard))

    base = search.ground(option.stand)
    columns = m.over(
        formula,
        base.still,
        base.move_m,
        flight_times(m, stance, option.pace),
        shares_in(m, stance, option.pace),
    )
    ace, one, two, three = expected_at(m, stance, option.landing, *columns)
    return ace, one, two, three


def detail(search: Search, option: Option) -> Detail:
    """Return all that is shown of one call."""
    stance, receivers = option.stand.stance, search.situation.receivers
    table = reach_table(stance.launches[option.pace])
    along_m = range_m(option)
    dx, dy = option.landing.x_m - stance.contact.x_m, option.landing.y_m - stance.contact.y_m
    to_net_m = -stance.contact.y_m * along_m / dy
    height_m = table.height_m(along_m, to_net_m)
    across_m = along_m * stance.scatter.bearing_sd_rad
    return Detail(
        option,
        geometry(stance.contact, option.landing, receivers.setter_start, receivers.target, receivers.faces),
        task(search, option.landing),
        table.flight_time_s(along_m),
        math.degrees(table.launch_angle_rad(along_m)),
        height_m - stance.launches[option.pace].ball.radius_m - stance.net_height_m,
        Ellipse(
            HALF_OF_SERVES * across_m,
            HALF_OF_SERVES * stance.scatter.along_m,
            math.degrees(math.atan2(dx, dy)),
        ),
        across_m,
        math.degrees(stance.scatter.bearing_sd_rad),
        grades_at(search.m, search, option),
    )
