"""The blurred values of all aims against a Monte Carlo of the same scatter, with scrambled Sobol points.

A server's errors are independent normals in bearing and range from her contact point. A ball is in when
it lands inside the lines, 5 cm of margin included, and not shorter than the shortest landing that clears
the net at its bearing; past the longest reach it takes the longest ball's time. The Monte Carlo values
every landing by formulas of its own (`slow`), and shares neither grid nor cells with the engine.

Sobol points and their scrambling: scipy.stats.qmc (A. B. Owen, "Randomly permuted (t,m,s)-nets and
(t,s)-sequences", 1995). The standard error is that of the mean of eight independent scramblings:
measured, over all aims, 0.02 points in keep and 0.06 in the chance to be in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
from cornerwise.engine.call.search import Field, Search, stands
from cornerwise.service.arrays import ARRAYS
from scipy.stats import norm, qmc

from .situations import BY_NAME, slow_passers, stock_situation
from .slow import IN_M, Passers, flights

WITHIN = 0.0015  # keep: 0.15 points in 100
WITHIN_IN = 0.0025  # chances to be in: a quarter of a point, where whole points are shown
SCRAMBLINGS = 8


@dataclass(frozen=True)
class Thrower:
    """One place and pace: where she throws from, how far, how well, and against whom."""

    passers: Passers
    field: Field
    sx: float
    sy: float

    @property
    def across_rad(self):
        return self.field.stand.serve.scatter.across_m / 15.0

    @property
    def along_m(self):
        return self.field.stand.serve.scatter.along_m

    @property
    def aims(self):
        """Bearing and range of every aim."""
        dx = np.array([landing.x_m for landing in self.field.landings]) - self.sx
        dy = np.array([landing.y_m for landing in self.field.landings]) - self.sy
        return np.arctan2(dx, dy), np.hypot(dx, dy)

    def worth(self, bearing, range_m):
        """Is it in, and is the rally won: one row each, for every ball thrown."""
        stance = self.field.stand.stance
        launch = stance.launches[self.field.pace]
        flown = flights(launch, stance.net_height_m)
        x, y = self.sx + range_m * np.sin(bearing), self.sy + range_m * np.cos(bearing)
        over_net = flown.clears(range_m, -self.sy / np.cos(bearing))
        is_in = over_net & (np.abs(x) <= 4.5 + IN_M) & (y <= 9.0 + IN_M)
        wins = self.passers.win((self.sx, self.sy), x, y, flown.time_s(range_m), launch.speed_m_s)
        return np.array([np.where(is_in, wins, 0.0), is_in])


def thrower(name, formation, position, spot, pace):
    """A stock server at spot 0 to 8 with one of her paces, against stock passers and a setter."""
    stock = BY_NAME[name]
    situation = stock_situation(stock, position, formation)
    stand = stands(situation)[spot]
    field = Search(ARRAYS, situation).field(stand, pace, "fine")
    contact = stand.stance.contact
    return Thrower(slow_passers(stock.level, situation), field, contact.x_m, contact.y_m)


def engine_says(t):
    return np.array([t.field.keep, t.field.p_in])


def mean_and_error(estimates):
    estimates = np.array(estimates)
    return estimates.mean(0), estimates.std(0, ddof=1) / math.sqrt(len(estimates))


def density(off, sd):
    return np.exp(-0.5 * (off / sd) ** 2) / (sd * math.sqrt(2 * math.pi))


def all_aims_at_once(t, seed, log2_balls):
    """Balls spread evenly over all bearings and ranges; every aim weighs each by its own scatter."""
    low = [math.atan2(-4.5 - IN_M - t.sx, -t.sy), -t.sy]
    high = [math.atan2(4.5 + IN_M - t.sx, -t.sy), math.hypot(4.5 + abs(t.sx) + IN_M, 9.0 + IN_M - t.sy)]
    unit = qmc.Sobol(2, seed=seed).random_base2(log2_balls)
    bearing, range_m = qmc.scale(unit, low, high).T
    area = (high[0] - low[0]) * (high[1] - low[1])
    aim_bearings, aim_ranges = t.aims
    bearings, row = np.unique(np.round(aim_bearings, 9), return_inverse=True)
    ranges, column = np.unique(np.round(aim_ranges, 9), return_inverse=True)
    across = density(bearing - bearings[:, None], t.across_rad)
    along = density(range_m - ranges[:, None], t.along_m)
    return [
        area / len(unit) * ((across * worth) @ along.T)[row, column] for worth in t.worth(bearing, range_m)
    ]


def one_aim(t, aim, seed, log2_balls):
    """Balls thrown at one aim as the server throws them."""
    unit = qmc.Sobol(2, seed=seed).random_base2(log2_balls)
    z = norm.ppf(np.clip(unit, 1e-12, 1.0 - 1e-12))
    bearings, ranges = t.aims
    return t.worth(bearings[aim] + t.across_rad * z[:, 0], ranges[aim] + t.along_m * z[:, 1]).mean(1)


CASES = {
    "a float from the right corner": ("college-jump_float-224", "three", 1, 8, 1),
    "a weak server from the middle, out of reach of the end line": (
        "under_14-standing_float-213", "three", 4, 4, 0
    ),
    "an underhand serve from the left corner": ("under_14-underhand-213", "three", 3, 0, 1),
    "a hard topspin serve from the left corner, five passers": (
        "elite_men-jump_topspin-243", "five", 1, 0, 1
    ),
    "a precise float from between, four passers": ("elite_men-jump_float-243", "four", 4, 2, 0),
    "the worst of 1710 fields looked at": ("college-jump_topspin-224", "four", 4, 1, 1),
}  # fmt: skip
every_case = pytest.mark.parametrize("case", CASES.values(), ids=CASES)


@every_case
def test_every_aim_is_worth_what_the_monte_carlo_says(case):
    t = thrower(*case)
    mean, error = mean_and_error([all_aims_at_once(t, seed, 16) for seed in range(SCRAMBLINGS)])
    off = np.abs(engine_says(t) - mean).max(1)
    assert len(t.field.landings) > 400
    assert error[0].max() < 0.0003  # the standard error: of any aim's keep at most 0.03 points,
    assert error[1].max() < 0.0008  # of its chance to be in 0.08
    assert off[0] < WITHIN
    assert off[1] < WITHIN_IN


@every_case
def test_balls_thrown_at_single_aims_agree(case):
    """The same without weighing: every ball thrown at its aim, for a dozen aims of the field."""
    t = thrower(*case)
    for aim in range(0, len(t.field.landings), len(t.field.landings) // 11):
        mean, error = mean_and_error([one_aim(t, aim, seed, 12) for seed in range(SCRAMBLINGS)])
        assert error.max() < 0.0005
        assert np.abs(engine_says(t)[:, aim] - mean).max() < WITHIN + 3 * error.max()
