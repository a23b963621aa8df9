"""Drag and lift of a flying ball, in the two published forms.

Both give dimensionless coefficients; the forces are F = 1/2 rho A v^2 C with A = pi r^2.

    A  constants that published worked examples use (Lithio & Webb 2006, "Optimizing a volleyball
       serve", Rose-Hulman Undergrad. Math. J. 7(2)):  Cd = 0.36,  Cl = 0.30 S.
    B  drag crisis:  Cd = 0.17 + 0.28 / (1 + exp((Re - 2.4e5) / 2.0e4)),  Cl = S / (0.4 + 2.32 S).
       Floor and critical range of Cd: Hong et al. 2020, Appl. Sci. 10(9):3256 (three match balls:
       critical Re 2.6e5 to 3.4e5, Cd 0.13 to 0.17 beyond it). Form of Cl: Nathan 2008, Am. J. Phys.
       76:119-124 (from memory).

Re = 2 r v / nu is the Reynolds number, S = 2 pi spin r / v the spin parameter. The two forms of the
lift differ three to five times; A drops a hard jump topspin serve into the net, B does not.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from .ball import INDOOR_AIR, MATCH_BALL, Air, Ball, DragModel

A_DRAG = 0.36  # Cd, Lithio & Webb 2006. [-]
A_LIFT = 0.30  # Cl per S, Lithio & Webb 2006. [-]

B_DRAG_FLOOR = 0.17  # Cd beyond the crisis, Hong et al. 2020: 0.13 to 0.17. [-]
B_DRAG_DROP = 0.28  # chosen: with the floor, 0.45 before the crisis, about that of a smooth sphere. [-]
B_CRISIS_RE = 2.4e5  # chosen: middle of the fall, so that it ends where Hong et al. 2020 saw it end. [-]
B_CRISIS_WIDTH_RE = 2.0e4  # chosen: width of the fall. [-]
B_LIFT_OFFSET = 0.4  # Nathan 2008, from memory. [-]
B_LIFT_SLOPE = 2.32  # Nathan 2008, from memory. [-]

_SLOWEST_M_S = 1e-9  # keeps S finite at the instant a ball stands still; the force there is zero

Coefficient = Callable[[float], float]
"""Speed [m/s] to coefficient [-]."""


def drag_by_speed(model: DragModel, ball: Ball = MATCH_BALL, air: Air = INDOOR_AIR) -> Coefficient:
    """Return Cd as a function of speed, for the inner loop of a trajectory."""
    if model == "A":
        return lambda speed_m_s: A_DRAG
    re_per_m_s = 2.0 * ball.radius_m / air.viscosity_m2_s
    # 1 / (1 + exp(u)) = (1 - tanh(u / 2)) / 2, which does not overflow.
    half_drop, double_width = B_DRAG_DROP / 2.0, 2.0 * B_CRISIS_WIDTH_RE
    middle, scale, shift = B_DRAG_FLOOR + half_drop, re_per_m_s / double_width, B_CRISIS_RE / double_width
    tanh = math.tanh
    return lambda speed_m_s: middle - half_drop * tanh(scale * speed_m_s - shift)


def lift_by_speed(model: DragModel, spin_rev_s: float, ball: Ball = MATCH_BALL) -> Coefficient:
    """Return Cl as a function of speed, for the inner loop of a trajectory."""
    rim_m_s = 2.0 * math.pi * spin_rev_s * ball.radius_m  # S = rim speed / speed
    if rim_m_s == 0.0:
        return lambda speed_m_s: 0.0
    if model == "A":
        return lambda speed_m_s: A_LIFT * rim_m_s / max(speed_m_s, _SLOWEST_M_S)
    return lambda speed_m_s: rim_m_s / (B_LIFT_OFFSET * speed_m_s + B_LIFT_SLOPE * rim_m_s)


def drag_coefficient(
    model: DragModel, speed_m_s: float, ball: Ball = MATCH_BALL, air: Air = INDOOR_AIR
) -> float:
    """Return Cd. [-]

    speed_m_s : ball speed relative to the air. [m/s], >= 0

    >>> [round(drag_coefficient("B", v), 3) for v in (12.0, 17.0, 25.0)]
    [0.443, 0.322, 0.171]
    """
    return drag_by_speed(model, ball, air)(speed_m_s)


def lift_coefficient(model: DragModel, speed_m_s: float, spin_rev_s: float, ball: Ball = MATCH_BALL) -> float:
    """Return Cl. [-]  With topspin the lift points down.

    speed_m_s  : ball speed relative to the air. [m/s], >= 0
    spin_rev_s : topspin. [rev/s], >= 0

    >>> round(lift_coefficient("A", 27.0, 7.0), 4), round(lift_coefficient("B", 27.0, 7.0), 4)
    (0.0513, 0.2147)
    """
    return lift_by_speed(model, spin_rev_s, ball)(speed_m_s)
