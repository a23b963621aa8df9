"""Smooth curves through a few points, with the standard library."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from typing import TypeAlias

Weights: TypeAlias = tuple[float, float, float, float]


def cubic_weights(nodes: Sequence[float], x: float) -> tuple[int, Weights]:
    """Return i and the weights of values i to i + 3: the cubic through the four nodes around x.

    nodes : ascending, four or more. Beyond either end the last cubic goes on.
    """
    i = min(max(bisect_right(nodes, x) - 2, 0), len(nodes) - 4)
    a, b, c, d = nodes[i : i + 4]
    xa, xb, xc, xd = x - a, x - b, x - c, x - d
    ab, ac, ad, bc, bd, cd = a - b, a - c, a - d, b - c, b - d, c - d
    return i, (
        xb * xc * xd / (ab * ac * ad),
        -xa * xc * xd / (ab * bc * bd),
        xa * xb * xd / (ac * bc * cd),
        -xa * xb * xc / (ad * bd * cd),
    )


def weighted(values: Sequence[float], i: int, weights: Weights) -> float:
    """Return the sum of values i to i + 3, each times its weight."""
    w0, w1, w2, w3 = weights
    return w0 * values[i] + w1 * values[i + 1] + w2 * values[i + 2] + w3 * values[i + 3]


def hermite(nodes: Sequence[float], values: Sequence[float], slopes: Sequence[float], x: float) -> float:
    """Return the cubic through two neighbouring points with their slopes, at x between the ends."""
    i = min(max(bisect_right(nodes, x) - 1, 0), len(nodes) - 2)
    width = nodes[i + 1] - nodes[i]
    u = (x - nodes[i]) / width
    v = 1.0 - u
    y0, y1 = values[i], values[i + 1]
    rise = y1 - y0
    bend = v * (width * slopes[i] - rise) - u * (width * slopes[i + 1] - rise)
    return v * y0 + u * y1 + u * v * bend


def crossing(f: Callable[[float], float], low: float, high: float, tolerance: float) -> float:
    """Return where f, below zero at `low` and above it at `high`, is zero to within `tolerance` of f.

    Regula falsi with the Illinois rule: an end that stays twice counts half, so both ends close in.
    """
    f_low, f_high = f(low), f(high)
    stayed = 0
    for _ in range(100):
        x = (low * f_high - high * f_low) / (f_high - f_low)
        fx = f(x)
        if abs(fx) <= tolerance or not low < x < high:
            break
        if fx < 0.0:
            low, f_low = x, fx
            f_high *= 0.5 if stayed == 1 else 1.0
            stayed = 1
        else:
            high, f_high = x, fx
            f_low *= 0.5 if stayed == -1 else 1.0
            stayed = -1
    return x
