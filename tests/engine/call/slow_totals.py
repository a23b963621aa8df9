"""What the stock servers' best calls add up to, by brute force: prints the rows of the fixture.

    PYTHONPATH=api python -m tests.engine.call.slow_totals

writes nothing; fixtures/call/slow_totals.json holds its output, three decimals, and was last made when
the flight and the stock servers were as they are. About a minute.
"""

from __future__ import annotations

import json
import math

import numpy as np

from . import brute
from .brute import Field, fields, least_error
from .situations import BY_NAME, POSITIONS, slow_passers, stock_situation
from .slow import throws


def aces(level: str, situation, f: Field) -> float:
    """Return the chance of an ace with the best aim of a field."""
    scatter, (bearing, along) = f.stand.serve.scatter, f.best
    thrown = throws(slow_passers(level, situation).ace, f.throws.tracks, f.stand.serve.speeds_m_s[f.pace])
    p_ace, _ = thrown.worth(scatter.across_m, scatter.along_m, f.bearings[[bearing]], f.ranges_m[[along]])
    return p_ace.item()


def row(name: str) -> list[float]:
    """Return keep, errors, aces and least errors, means over the six setter positions, three passers."""
    stock, found = BY_NAME[name], []
    for position in POSITIONS:
        situation = stock_situation(stock, position)
        every = fields(stock.level, situation)
        best = max(every, key=lambda f: f.keep[f.best])
        p_ace = aces(stock.level, situation, best)
        found.append((best.keep[best.best], 1.0 - best.p_in[best.best], p_ace, least_error(every)))
    return [round(float(mean), 3) for mean in np.mean(found, axis=0)]


if __name__ == "__main__":
    brute.AIM_RAD, brute.AIM_M = math.radians(0.25), 0.05
    print(json.dumps({name: row(name) for name in BY_NAME}, indent=2))
