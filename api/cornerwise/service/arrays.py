"""The engine's formulas on whole arrays: NumPy behind `cornerwise.engine.maths.Maths`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


class Arrays:
    """`Maths` for arrays: a formula is called once, with all rows in it."""

    sqrt = staticmethod(np.sqrt)
    exp = staticmethod(np.exp)
    acos = staticmethod(np.arccos)
    absolute = staticmethod(np.absolute)
    minimum = staticmethod(np.minimum)
    maximum = staticmethod(np.maximum)
    where = staticmethod(np.where)
    product = staticmethod(np.matmul)

    @staticmethod
    def column(values: Sequence[float]) -> Array:
        return np.asarray(values, dtype=np.float64)

    @staticmethod
    def over(formula: Callable[..., Any], *columns: Array) -> Any:
        def column(result: Any) -> Array:
            if isinstance(result, np.ndarray):
                return result
            return np.full(columns[0].shape, result)  # what no row changes is one number

        results = formula(*columns)
        return tuple(map(column, results)) if isinstance(results, tuple) else column(results)

    @staticmethod
    def matrix(rows: Sequence[Sequence[float]]) -> Array:
        return np.asarray(rows, dtype=np.float64)

    @staticmethod
    def over_rows(formula: Callable[..., Any], rows: Array, *columns: Array) -> Array:
        return np.broadcast_to(formula(rows, *columns), rows.shape)

    @staticmethod
    def stack(columns: Sequence[Array]) -> Array:
        return np.stack(columns)

    @staticmethod
    def spread(column: Array, places: Sequence[int], shape: tuple[int, int]) -> Array:
        flat = np.zeros(shape[0] * shape[1])
        flat[np.asarray(places, dtype=np.intp)] = column
        return flat.reshape(shape)

    @staticmethod
    def lists(a: Array) -> list[list[float]]:
        return a.tolist()


ARRAYS = Arrays()
