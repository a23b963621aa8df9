"""The value surface of one stand: the chance of winning the rally for a ball landing in each cell."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from cornerwise.engine.flight import reach_table
from cornerwise.engine.maths import Column, Maths, Real
from cornerwise.engine.outcome import (
    OutcomeModel,
    Receivers,
    late_part,
    move_part,
    rally_won,
    speed_part,
    standing_part,
    terms,
    win_shares,
)

from .grid import Stance, cells
from .situation import Situation, Stand


class Ground(NamedTuple):
    """What depends on spot and landing only, one value for each cell, or each a single number.

    still  : difficulty without the parts that depend on flight time and speed. [logit]
    move_m : how far the passer has to go. [m]
    one, two, three : the serving side's share of rallies won after these pass grades.
    """

    still: Real
    move_m: Real
    one: Real
    two: Real
    three: Real


def ground(m: Maths, model: OutcomeModel, receivers: Receivers, stance: Stance) -> Ground:
    """Return what every cell of a stance is worth before its flight time is known."""

    def formula(x_m: Real, y_m: Real) -> tuple[Real, ...]:
        t = terms(m, model, receivers, stance.contact, x_m, y_m)
        return standing_part(model, t), t.move_m, *win_shares(model, t.behind)

    grid = cells(stance)
    if not grid.places:
        empty = m.column(())
        return Ground(empty, empty, empty, empty, empty)
    return Ground(*m.over(formula, m.column(grid.x_m), m.column(grid.y_m)))


@lru_cache(maxsize=1024)
def flight_times(m: Maths, stance: Stance, pace: int) -> Column:
    """Return the flight time to the middle of every cell. [s]"""
    table = reach_table(stance.launches[pace])
    return m.column([table.flight_time_s(r) for r in cells(stance).range_m])


@lru_cache(maxsize=1024)
def shares_in(m: Maths, stance: Stance, pace: int) -> Column:
    """Return the share of every cell that is in, 0 to 1."""
    return m.column(cells(stance).shares[pace])


def difficulty(
    m: Maths, situation: Situation, speed_m_s: float, still: Real, move_m: Real, time_s: Real
) -> Real:
    """Return the whole difficulty from its standing part, the passer's move and the flight time. [logit]"""
    model = situation.model
    run_m = situation.receivers.setter_run_m
    return (
        still
        + move_part(model, move_m, time_s, m)
        + late_part(model, run_m, time_s, m)
        + speed_part(model, speed_m_s)
    )


def keep_column(m: Maths, situation: Situation, stand: Stand, pace: int, base: Ground) -> Column:
    """Return for every cell the chance of winning the rally, times the share of the cell that is in."""
    speed = stand.serve.speeds_m_s[pace]
    model = situation.model

    def formula(
        still: Real, move_m: Real, one: Real, two: Real, three: Real, time_s: Real, share: Real
    ) -> Real:
        hard = difficulty(m, situation, speed, still, move_m, time_s)
        return share * rally_won(m, model, hard, one, two, three)

    return m.over(formula, *base, flight_times(m, stand.stance, pace), shares_in(m, stand.stance, pace))
