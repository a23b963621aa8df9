"""The few functions in which every formula is written, for one number or for a whole array.

A formula takes `m`, a `Maths`. `PLAIN` (here) works on Python floats with the standard library and
runs anywhere; the server passes a NumPy version, so that one line of code serves a single landing
point and a grid of thousands. Both give the same numbers to 1e-9.

Two rules keep a formula valid for both: never branch on a value with `if` (use `where`), and give
`where` two values that are already safe to compute (no division by zero in the branch not taken).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from operator import mul
from typing import Any, Protocol, TypeAlias

Real: TypeAlias = Any
"""A float, or an array of floats of one shape."""
Column: TypeAlias = Any
"""A flat sequence of floats: a list here, a one-dimensional array in the server."""
Matrix: TypeAlias = Any
"""Rows of floats: a list of lists here, a two-dimensional array in the server."""


class Maths(Protocol):
    """What a formula may use; one object for numbers, one for arrays."""

    def __hash__(self) -> int: ...

    def sqrt(self, x: Real) -> Real: ...
    def exp(self, x: Real) -> Real: ...
    def acos(self, x: Real) -> Real: ...
    def absolute(self, x: Real) -> Real: ...
    def minimum(self, x: Real, y: Real) -> Real: ...
    def maximum(self, x: Real, y: Real) -> Real: ...
    def where(self, condition: Any, x: Real, y: Real) -> Real:
        """Return x where the condition holds, else y; both are computed first."""

    def column(self, values: Sequence[float]) -> Column:
        """Return the values as a column that `over` takes."""

    def over(self, formula: Callable[..., Any], *columns: Column) -> Any:
        """Return formula(row) for each row of the columns.

        A formula that returns a tuple gives a tuple of columns.
        """

    def matrix(self, rows: Sequence[Sequence[float]]) -> Matrix:
        """Return the rows as a matrix."""

    def over_rows(self, formula: Callable[..., Any], rows: Matrix, *columns: Column) -> Matrix:
        """Return formula(value, rest) for every value of the rows, with the same columns beside each row."""

    def stack(self, columns: Sequence[Column]) -> Matrix:
        """Return columns of one length as the rows of a matrix."""

    def spread(self, column: Column, places: Sequence[int], shape: tuple[int, int]) -> Matrix:
        """Return a matrix of the shape with the column's values at the given flat places, else 0."""

    def product(self, a: Matrix, b: Matrix) -> Matrix:
        """Return the matrix product a b."""

    def lists(self, a: Matrix) -> list[list[float]]:
        """Return a matrix as lists of floats."""


class Plain:
    """`Maths` for numbers, with the standard library only."""

    sqrt = staticmethod(math.sqrt)
    exp = staticmethod(math.exp)
    acos = staticmethod(math.acos)
    absolute = staticmethod(abs)

    @staticmethod
    def minimum(x: float, y: float) -> float:
        return x if x < y else y

    @staticmethod
    def maximum(x: float, y: float) -> float:
        return x if x > y else y

    @staticmethod
    def where(condition: bool, x: float, y: float) -> float:
        return x if condition else y

    @staticmethod
    def column(values: Sequence[float]) -> list[float]:
        return list(values)

    @staticmethod
    def over(formula: Callable[..., Any], *columns: Sequence[float]) -> Any:
        results = list(map(formula, *columns))
        if results and isinstance(results[0], tuple):
            return tuple(map(list, zip(*results, strict=True)))
        return results

    @staticmethod
    def matrix(rows: Sequence[Sequence[float]]) -> list[list[float]]:
        return [list(row) for row in rows]

    @staticmethod
    def over_rows(
        formula: Callable[..., Any], rows: Sequence[Sequence[float]], *columns: Sequence[float]
    ) -> list[list[float]]:
        return [list(map(formula, row, *columns)) for row in rows]

    @staticmethod
    def stack(columns: Sequence[Sequence[float]]) -> list[Sequence[float]]:
        return list(columns)

    @staticmethod
    def spread(column: Sequence[float], places: Sequence[int], shape: tuple[int, int]) -> list[list[float]]:
        height, width = shape
        flat = [0.0] * (height * width)
        for place, value in zip(places, column, strict=True):
            flat[place] = value
        return [flat[i : i + width] for i in range(0, height * width, width)]

    @staticmethod
    def product(a: list[list[float]], b: list[list[float]]) -> list[list[float]]:
        columns = list(zip(*b, strict=True))
        return [[sum(map(mul, row, column)) for column in columns] for row in a]

    @staticmethod
    def lists(a: list[list[float]]) -> list[list[float]]:
        return a


PLAIN = Plain()


def normal_cdf(z: float) -> float:
    """Return the standard normal distribution function. [-]"""
    return 0.5 * math.erfc(-z * math.sqrt(0.5))
