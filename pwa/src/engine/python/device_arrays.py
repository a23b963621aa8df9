"""The engine's formulas on whole arrays, on the device: JavaScript's arithmetic behind `Maths`.

Not one formula is here: as in the server, each is called once with all rows in it.
"""

from __future__ import annotations

import math
from array import array
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import floats  # floats.mjs, as the worker registers it
from cornerwise.engine.maths import PLAIN

MOST_KEPT = 256  # chosen: more than the stances that one question has


class Array:
    """A column of floats, or rows of `width`; its floats stay on JavaScript's side."""

    __slots__ = ("data", "width")

    def __init__(self, data: Any, width: int) -> None:
        self.data = data
        self.width = width

    def __len__(self) -> int:
        return int(self.data.length)

    def __iter__(self) -> Iterator[float]:
        return iter(self.tolist())

    def tolist(self) -> list[float]:
        return self.data.to_memoryview().tolist() if len(self) else []

    def __neg__(self) -> Array:
        return Array(floats.negative(self.data), self.width)

    def __add__(self, other: Any) -> Array:
        return pair(floats.add, self, other)

    def __radd__(self, other: Any) -> Array:
        return pair(floats.add, other, self)

    def __sub__(self, other: Any) -> Array:
        return pair(floats.subtract, self, other)

    def __rsub__(self, other: Any) -> Array:
        return pair(floats.subtract, other, self)

    def __mul__(self, other: Any) -> Array:
        return pair(floats.multiply, self, other)

    def __rmul__(self, other: Any) -> Array:
        return pair(floats.multiply, other, self)

    def __truediv__(self, other: Any) -> Array:
        return pair(floats.divide, self, other)

    def __rtruediv__(self, other: Any) -> Array:
        return pair(floats.divide, other, self)

    def __lt__(self, other: Any) -> Array:
        return pair(floats.less, self, other)

    def __gt__(self, other: Any) -> Array:
        return pair(floats.less, other, self)


def pair(operation: Callable[..., Any], a: Any, b: Any) -> Array:
    """Return an operation of two, at least one of them an array; a column counts for every row."""
    if not isinstance(b, Array):
        return Array(operation(a.data, b), a.width)
    if not isinstance(a, Array):
        return Array(operation(a, b.data), b.width)
    return Array(operation(a.data, b.data), (a if len(a) > len(b) else b).width)


def of_one(plain: Callable[[float], float], whole: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """Return a function for a number or an array."""
    return lambda x: Array(whole(x.data), x.width) if isinstance(x, Array) else plain(x)


def of_two(plain: Callable[..., float], whole: Callable[..., Any]) -> Callable[..., Any]:
    """Return a function for numbers or arrays."""
    return lambda x, y: pair(whole, x, y) if isinstance(x, Array) or isinstance(y, Array) else plain(x, y)


class DeviceArrays:
    """`Maths` for arrays of the device."""

    sqrt = staticmethod(of_one(math.sqrt, floats.sqrt))
    exp = staticmethod(of_one(math.exp, floats.exp))
    acos = staticmethod(of_one(math.acos, floats.acos))
    absolute = staticmethod(of_one(abs, floats.absolute))
    minimum = staticmethod(of_two(PLAIN.minimum, floats.minimum))
    maximum = staticmethod(of_two(PLAIN.maximum, floats.maximum))

    def __init__(self) -> None:
        self._places: dict[int, tuple[Sequence[int], Any]] = {}

    def where(self, condition: Any, x: Any, y: Any) -> Any:
        if not isinstance(condition, Array):
            return x if condition else y
        one, other = (v.data if isinstance(v, Array) else v for v in (x, y))
        return Array(floats.where(condition.data, one, other), condition.width)

    def column(self, values: Sequence[float]) -> Array:
        return Array(floats.taken(array("d", values)), len(values))

    def over(self, formula: Callable[..., Any], *columns: Array) -> Any:
        def column(result: Any) -> Array:
            if isinstance(result, Array):
                return result
            return Array(floats.full(len(columns[0]), result), columns[0].width)

        results = formula(*columns)
        return tuple(map(column, results)) if isinstance(results, tuple) else column(results)

    def matrix(self, rows: Sequence[Sequence[float]]) -> Array:
        flat = array("d")
        for row in rows:
            flat.extend(row)
        return Array(floats.taken(flat), len(rows[0]))

    def over_rows(self, formula: Callable[..., Any], rows: Array, *columns: Array) -> Array:
        nothing = Array(floats.full(len(rows), 0.0), rows.width)  # what no row changes is said for each
        result = nothing + formula(rows, *columns)
        return Array(result.data, rows.width)

    def stack(self, columns: Sequence[Array]) -> Array:
        return Array(floats.joined(*(column.data for column in columns)), len(columns[0]))

    def spread(self, column: Array, places: Sequence[int], shape: tuple[int, int]) -> Array:
        height, width = shape
        return Array(floats.spread(column.data, self._on_the_other_side(places), height * width), width)

    def _on_the_other_side(self, places: Sequence[int]) -> Any:
        """Return places as JavaScript has them: kept, since a stance's own come again with every question."""
        known = self._places.get(id(places))  # they are held here, so that no others can have their id
        if known is None:
            if len(self._places) >= MOST_KEPT:
                self._places.clear()
            known = self._places[id(places)] = places, floats.taken(array("d", places))
        return known[1]

    def product(self, a: Array, b: Array) -> Array:
        return Array(floats.product(a.data, b.data, a.width, b.width), b.width)

    def lists(self, a: Array) -> list[list[float]]:
        flat = a.tolist()
        return [flat[i : i + a.width] for i in range(0, len(flat), a.width)]


ARRAYS = DeviceArrays()
