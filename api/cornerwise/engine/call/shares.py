"""What each part of the model is worth in one call: Shapley values against the plain serve.

The plain serve goes from the middle of the end line to (0, 7), with the same kind and pace. Both serves
scatter alike: one grid of offsets from the aim, in bearing and range, is laid over both. A coalition of
parts takes its terms from the call and all others from the plain serve; its worth is the expected chance
of winning the rally. A part's Shapley value is its mean contribution over all orders in which the parts
could be put in place, so the values add up to the difference between the two serves.
Source: L. S. Shapley, "A value for n-person games", Contributions to the Theory of Games II, 1953.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from cornerwise.engine.court import Point
from cornerwise.engine.flight import reach_table
from cornerwise.engine.maths import Column, Maths, Real, normal_cdf
from cornerwise.engine.outcome import Part, late_part, move_part, rally_won, speed_part, terms, win_shares

from .grid import Stance, exit_range_m, masses, shortest_m
from .situation import Option, Situation, stand_at

PLAIN_LANDING = Point(0.0, 7.0)  # chosen: from the middle, deep to the middle
EDGES_SD = (-6.0, *(0.5 * k - 3.25 for k in range(14)), 6.0)  # chosen: 15 cells of half an sd
SMALLEST_MASS = 2e-5  # chosen: corners of the grid that hold less are left out
SUB_CELLS = 8  # as in the grid: a sideline runs along a bearing
NOTHING = 1e-9  # a part that differs by less between the two serves has no share. [logit]

SUMMED: tuple[Part, ...] = (
    "pass_angle",
    "sight_angle",
    "pass_length",
    "move",
    "away",
    "back",
    "seam",
    "setter_late",
    "passer",
)


@dataclass(frozen=True, slots=True)
class Spread:
    """One serve over the grid of offsets.

    parts   : for each part in SUMMED, its value in every cell. [logit]
    behind  : 0 to 1 in every cell.
    weights : chance of every cell, times the share of it that is in.
    """

    parts: dict[Part, Sequence[float]]
    behind: Sequence[float]
    weights: Sequence[float]


def _mean_between(low: float, high: float) -> float:
    """Return the mean of a standard normal variable that falls between two values."""
    density = [math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi) for z in (low, high)]
    return (density[0] - density[1]) / (normal_cdf(high) - normal_cdf(low))


MEANS_SD = tuple(_mean_between(low, high) for low, high in pairwise(EDGES_SD))


@lru_cache(maxsize=1)
def offsets() -> tuple[tuple[int, int], ...]:
    """Return the cells of the grid of offsets that hold enough: index in bearing and in range."""
    mass = masses(0.0, EDGES_SD, 1.0)
    every = ((i, j) for i in range(len(mass)) for j in range(len(mass)))
    return tuple((i, j) for i, j in every if mass[i] * mass[j] >= SMALLEST_MASS)


def plain_option(situation: Situation, option: Option) -> Option:
    """Return the plain serve of the same kind and pace; its worth is left at zero."""
    y_m = option.stand.spot.y_m
    return Option(
        stand_at(situation, Point(0.0, y_m), option.stand.serve), option.pace, PLAIN_LANDING, 0.0, 0.0
    )


def spread(m: Maths, situation: Situation, option: Option) -> Spread:
    """Return every part of one serve over the grid of offsets around its aim."""
    stance, model = option.stand.stance, situation.model
    table = reach_table(stance.launches[option.pace])
    dx, dy = option.landing.x_m - stance.contact.x_m, option.landing.y_m - stance.contact.y_m
    bearings = [math.atan2(dx, dy) + z * stance.scatter.bearing_sd_rad for z in MEANS_SD]
    ranges = [math.hypot(dx, dy) + z * stance.scatter.along_m for z in MEANS_SD]
    places = [
        (
            stance.contact.x_m + ranges[j] * math.sin(bearings[i]),
            stance.contact.y_m + ranges[j] * math.cos(bearings[i]),
        )
        for i, j in offsets()
    ]

    def formula(x_m: Real, y_m: Real, time_s: Real) -> tuple[Real, ...]:
        t = terms(m, model, situation.receivers, stance.contact, x_m, y_m)
        return (
            t.pass_angle,
            t.sight_angle,
            t.pass_length,
            move_part(model, t.move_m, time_s, m),
            t.away,
            t.back,
            t.seam,
            late_part(model, situation.receivers.setter_run_m, time_s, m),
            t.passer,
            t.behind,
        )

    times = [table.flight_time_s(r) for r in ranges]
    columns = m.over(
        formula,
        m.column([x for x, _ in places]),
        m.column([y for _, y in places]),
        m.column([times[j] for _, j in offsets()]),
    )
    *summed, behind = columns
    return Spread(
        dict(zip(SUMMED, summed, strict=True)), behind, _weights(stance, option.pace, option.landing)
    )


@lru_cache(maxsize=256)
def _weights(stance: Stance, pace: int, landing: Point) -> tuple[float, ...]:
    """Return the chance that a serve falls into each cell and is in, exact along range on sub-bearings."""
    dx, dy = landing.x_m - stance.contact.x_m, landing.y_m - stance.contact.y_m
    bearing, along_m = math.atan2(dx, dy), math.hypot(dx, dy)
    rows = [_row_in(stance, pace, bearing, along_m, left, right) for left, right in pairwise(EDGES_SD)]
    return tuple(rows[i][j] for i, j in offsets())


def _row_in(
    stance: Stance, pace: int, bearing: float, along_m: float, left_sd: float, right_sd: float
) -> list[float]:
    """Return for one column of bearings the chance of each range cell, in only."""
    row = [0.0] * (len(EDGES_SD) - 1)
    step = (right_sd - left_sd) / SUB_CELLS
    for s in range(SUB_CELLS):
        near, far = left_sd + s * step, left_sd + (s + 1) * step
        mass = normal_cdf(far) - normal_cdf(near)
        angle = bearing + (near + far) / 2.0 * stance.scatter.bearing_sd_rad
        low = (shortest_m(stance, pace, angle) - along_m) / stance.scatter.along_m
        edge = exit_range_m(stance.contact, math.sin(angle), math.cos(angle))
        high = max((edge - along_m) / stance.scatter.along_m, low)
        below = [normal_cdf(min(max(e, low), high)) for e in EDGES_SD]
        for j, (a, b) in enumerate(pairwise(below)):
            row[j] += mass * (b - a)
    return row


def shares(m: Maths, situation: Situation, option: Option) -> dict[Part, float]:
    """Return each part's worth in chance of winning the rally, call against plain serve.

    Parts that do not differ between the two are left out.
    """
    call, plain = spread(m, situation, option), spread(m, situation, plain_option(situation, option))
    speed = option.stand.serve.speeds_m_s[option.pace]
    base = situation.model.offset + speed_part(situation.model, speed)
    active = [part for part in SUMMED if _differs(call.parts[part], plain.parts[part])]
    still = _sum_columns(m, base, [plain.parts[part] for part in SUMMED])
    gains = [_difference(m, call.parts[part], plain.parts[part]) for part in active]
    worth = _coalitions(m, situation, still, gains, plain, call)
    values = shapley(worth, len(active) + 2)
    return dict(zip([*active, "behind", "errors"], values, strict=True))


def _differs(a: Sequence[float], b: Sequence[float]) -> bool:
    return any(abs(x - y) > NOTHING for x, y in zip(a, b, strict=True))


def _difference(m: Maths, a: Column, b: Column) -> Column:
    return m.over(lambda x, y: x - y, a, b)


def _sum_columns(m: Maths, base: float, columns: Sequence[Column]) -> Column:
    def formula(*values: Real) -> Real:
        total = base
        for value in values:
            total = total + value
        return total

    return m.over(formula, *columns)


def _coalitions(
    m: Maths, situation: Situation, still: Column, gains: Sequence[Column], plain: Spread, call: Spread
) -> list[float]:
    """Return the worth of every coalition, by bit mask: the gains first, then `behind`, then `errors`."""
    model = situation.model

    def won(difficulty: Real, one: Real, two: Real, three: Real) -> Real:
        return rally_won(m, model, difficulty, one, two, three)

    sums = [still]
    for gain in gains:
        sums += [m.over(lambda x, y: x + y, total, gain) for total in sums]
    by_weight = m.matrix(list(zip(plain.weights, call.weights, strict=True)))
    worth = []
    for spread in (plain, call):
        after = m.over(lambda behind: win_shares(model, behind), spread.behind)
        worth.append(m.lists(m.product(m.stack([m.over(won, d, *after) for d in sums]), by_weight)))
    return [row[e] for e in (0, 1) for rows in worth for row in rows]


def shapley(worth: Sequence[float], players: int) -> list[float]:
    """Return the Shapley value of each player of a game given by bit mask: worth[mask], 2^players values.

    phi_i = sum over S without i of |S|! (n - |S| - 1)! / n! * (worth(S + i) - worth(S)).
    """
    n = players
    factor = [math.factorial(s) * math.factorial(n - s - 1) / math.factorial(n) for s in range(n)]
    values = []
    for i in range(n):
        bit = 1 << i
        values.append(
            math.fsum(
                factor[mask.bit_count()] * (worth[mask | bit] - worth[mask])
                for mask in range(1 << n)
                if not mask & bit
            )
        )
    return values
