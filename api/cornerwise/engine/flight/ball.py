"""The ball, the air, and the launch: what is known at the moment of the hit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

from cornerwise.engine.names import SERVE_KINDS, ServeKind

Kind: TypeAlias = ServeKind
KINDS: tuple[Kind, ...] = SERVE_KINDS
FLOATS: frozenset[Kind] = frozenset({"standing_float", "short_float", "jump_float"})
TOPSPIN: frozenset[Kind] = frozenset({"standing_topspin", "jump_topspin"})

DragModel = Literal["A", "B"]
"""How the air acts, see `aerodynamics`: "A" constant drag, "B" drag crisis (the default)."""
DRAG_MODELS: tuple[DragModel, ...] = ("A", "B")

GRAVITY_M_S2 = 9.81  # m/s2, standard gravity 9.80665 (CGPM 1901) rounded


def _positive(name: str, value: float) -> None:
    if not 0.0 < value < math.inf:
        raise ValueError(f"{name}: expected above 0, got {value!r}")


def _not_negative(name: str, value: float) -> None:
    if not 0.0 <= value < math.inf:
        raise ValueError(f"{name}: expected 0 or above, got {value!r}")


@dataclass(frozen=True, slots=True)
class Ball:
    """A ball. Raises ValueError unless radius and mass are positive."""

    radius_m: float
    mass_kg: float

    def __post_init__(self) -> None:
        _positive("radius_m", self.radius_m)
        _positive("mass_kg", self.mass_kg)

    @property
    def area_m2(self) -> float:
        """Cross-section, pi r^2. [m2]"""
        return math.pi * self.radius_m**2


MATCH_BALL = Ball(0.105, 0.270)  # FIVB 2025-2028, 3.1: circumference 65 to 67 cm, 260 to 280 g; the middles
YOUTH_BALL = Ball(0.102, 0.250)  # circumference 63 to 65 cm, 240 to 260 g in youth rules; the middles
LIGHT_BALL = Ball(0.102, 0.220)  # the same size at 200 to 240 g, for about 12 and under; a weak source

BallName = Literal["match", "youth", "light"]
BALLS: dict[BallName, Ball] = {"match": MATCH_BALL, "youth": YOUTH_BALL, "light": LIGHT_BALL}


@dataclass(frozen=True, slots=True)
class Air:
    """Still air. Raises ValueError if the density is negative (0 is a vacuum) or the viscosity not positive.

    viscosity_m2_s : kinematic viscosity. [m2/s]
    """

    density_kg_m3: float
    viscosity_m2_s: float

    def __post_init__(self) -> None:
        _not_negative("density_kg_m3", self.density_kg_m3)
        _positive("viscosity_m2_s", self.viscosity_m2_s)


INDOOR_AIR = Air(1.20, 1.51e-5)  # dry air at 20 C and sea level; standard tables


@dataclass(frozen=True, slots=True)
class Launch:
    """A serve but for its direction: everything that decides what it can reach.

    speed_m_s        : ball speed as it leaves the hand. [m/s], >= 0
    contact_height_m : height of the ball's centre at the hit. [m], above one radius
    spin_rev_s       : topspin. [rev/s], >= 0; 0 for a float

    Raises ValueError for values outside these limits, and for infinite ones.
    """

    speed_m_s: float
    contact_height_m: float
    spin_rev_s: float
    model: DragModel = "B"
    ball: Ball = MATCH_BALL
    air: Air = INDOOR_AIR

    def __post_init__(self) -> None:
        _not_negative("speed_m_s", self.speed_m_s)
        _not_negative("spin_rev_s", self.spin_rev_s)
        radius_m = self.ball.radius_m
        if not radius_m < self.contact_height_m < math.inf:
            raise ValueError(
                f"contact_height_m: expected above the radius of {radius_m} m, got {self.contact_height_m!r}"
            )
        if self.model not in DRAG_MODELS:
            raise ValueError(f"model: expected one of {DRAG_MODELS}, got {self.model!r}")
