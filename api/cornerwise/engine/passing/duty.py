"""Which passer a landing falls to, and what she has to do to reach it.

The nearest passer takes the ball, as she did in 95 % of 182 receptions (J Sports Sci
2018;36(22):2621-2630).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from cornerwise.engine.court import HALF_WIDTH_M, Point
from cornerwise.engine.maths import Maths, Real

SEAM_M = 0.6  # chosen: how much nearer one passer must be before it is clear whose ball it is
SEAM_MOVE_M = 1.2  # chosen: the move from which a seam counts in full; a ball at her feet has no seam
CAP_M = 2.0  # chosen: a move away or backwards counts up to here
SHORTEST_PASS_M = 1e-9  # keeps a landing on the pass target itself from dividing by zero
LEVEL_M = 1e-9  # chosen: so near to equal is equal, or rounding would say whose ball it is
ALONE_M = 1e3  # how far away the second passer is when there is only one


@dataclass(frozen=True, slots=True)
class Stand:
    """One passer as the formulas need her.

    place : where she stands. [m]
    shift : what her rating adds to the difficulty of her balls. [logit]
    """

    place: Point
    shift: float = 0.0


class Duty(NamedTuple):
    """What a landing asks of the passer nearest to it.

    move_m : distance from her place to the landing. [m]
    away_m : part of the move along the line from the pass target to the landing, outwards, 0 to 2. [m]
    back_m : part of the move that leads backwards, away from the net, 0 to 2. [m]
    seam   : 0 to 1, how unclear it is whose ball it is, or how near the sideline it makes her reach.
    shift  : her rating. [logit]
    index  : which of the passers, counted from 0 (as a float, so that arrays hold it).
    """

    move_m: Real
    away_m: Real
    back_m: Real
    seam: Real
    shift: Real
    index: Real


def duty(m: Maths, x_m: Real, y_m: Real, stands: Sequence[Stand], target: Point) -> Duty:
    """Return whose ball a landing at (x, y) is and how she must move for it.

    seam = max(exp(-(gap/0.6)^2), exp(-(distance to the sideline/0.6)^2)) * min(move/1.2, 1), where gap
    is by how much the second nearest passer is farther than the nearest; at the outside she has to
    move or reach away from the setter.

    stands : at least one passer; of two at equal distance the first takes the ball.
    """
    out_x, out_y = x_m - target.x_m, y_m - target.y_m
    length = m.maximum(m.sqrt(out_x * out_x + out_y * out_y), SHORTEST_PASS_M)
    nearest, second = ALONE_M, ALONE_M
    away = back = shift = index = 0.0
    for k, stand in enumerate(stands):
        dx, dy = x_m - stand.place.x_m, y_m - stand.place.y_m
        gone = m.sqrt(dx * dx + dy * dy)
        hers = gone + LEVEL_M < nearest
        second = m.where(hers, nearest, m.minimum(second, gone))
        nearest = m.where(hers, gone, nearest)
        away = m.where(hers, (dx * out_x + dy * out_y) / length, away)
        back = m.where(hers, dy, back)
        shift = m.where(hers, stand.shift, shift)
        index = m.where(hers, float(k), index)
    between = (second - nearest) / SEAM_M
    outside = (HALF_WIDTH_M - m.absolute(x_m)) / SEAM_M
    unclear = m.maximum(
        m.exp(-m.minimum(between * between, 700.0)), m.exp(-m.minimum(outside * outside, 700.0))
    )
    return Duty(
        nearest,
        m.minimum(m.maximum(away, 0.0), CAP_M),
        m.minimum(m.maximum(back, 0.0), CAP_M),
        unclear * m.minimum(nearest / SEAM_MOVE_M, 1.0),
        shift,
        index,
    )
