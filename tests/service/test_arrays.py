"""The NumPy `Maths` gives what the plain one gives, for formulas put together at random."""

from __future__ import annotations

import math
import random
from collections.abc import Callable

import pytest
from cornerwise.engine.maths import PLAIN, Maths
from cornerwise.service.arrays import ARRAYS
from hypothesis import given
from hypothesis import strategies as st

Formula = Callable[..., float]
CLOSE = {"rel": 1e-12, "abs": 1e-12}  # a few last bits of a float, over some ten operations

numbers = st.floats(-50, 50)


def table(width: int) -> st.SearchStrategy[list[list[float]]]:
    """Columns of one length."""
    row = st.lists(numbers, min_size=width, max_size=width)
    return st.lists(row, min_size=1, max_size=8).map(lambda rows: [*map(list, zip(*rows, strict=True))])


def random_formula(m: Maths, rng: random.Random, depth: int) -> Formula:
    """Return a formula of two variables that is defined for all of them, as the engine's formulas are."""
    if depth == 0:
        constant = rng.uniform(-5, 5)
        return rng.choice([lambda x, y: x, lambda x, y: y, lambda x, y: constant])
    a, b, c = (random_formula(m, rng, depth - 1) for _ in range(3))
    return rng.choice(
        [
            lambda x, y: a(x, y) + b(x, y),
            lambda x, y: a(x, y) - b(x, y),
            lambda x, y: a(x, y) * 0.1 * m.minimum(m.absolute(b(x, y)), 10.0),
            lambda x, y: a(x, y) / (1.0 + m.absolute(b(x, y))),
            lambda x, y: m.sqrt(m.absolute(a(x, y))),
            lambda x, y: m.exp(-m.absolute(a(x, y))),
            lambda x, y: m.acos(m.minimum(m.maximum(a(x, y), -1.0), 1.0)),
            lambda x, y: m.minimum(a(x, y), b(x, y)),
            lambda x, y: m.maximum(a(x, y), b(x, y)),
            lambda x, y: m.where(a(x, y) < b(x, y), b(x, y), c(x, y)),
            lambda x, y: 1.0 / (1.0 + m.exp(m.minimum(m.maximum(a(x, y), -40.0), 40.0))),
        ]
    )


@given(table(2), st.integers(0, 2**32), st.integers(0, 4))
def test_a_formula_over_columns_gives_what_it_gives_row_by_row(columns, seed, depth):
    def result(m: Maths) -> list[float]:
        return list(m.over(random_formula(m, random.Random(seed), depth), *map(m.column, columns)))

    assert result(ARRAYS) == pytest.approx(result(PLAIN), **CLOSE)


@given(table(2))
def test_a_formula_of_several_parts_gives_a_column_for_each_even_a_constant_one(columns):
    def formula(x: float, y: float) -> tuple[float, float, float]:
        return x + y, 1.5, x

    plain, arrays = (m.over(formula, *map(m.column, columns)) for m in (PLAIN, ARRAYS))
    assert tuple(map(list, arrays)) == plain


def test_over_calls_the_formula_once_for_all_rows():
    seen = []
    ARRAYS.over(lambda x: seen.append(x) or x, ARRAYS.column(range(1000)))
    assert len(seen) == 1


@given(table(3))
def test_matrix_products_agree(rows):
    across = [list(column) for column in zip(*rows, strict=True)]
    plain, arrays = (m.lists(m.product(m.matrix(rows), m.matrix(across))) for m in (PLAIN, ARRAYS))
    assert [*map(pytest.approx, plain)] == arrays


@given(st.integers(1, 6), st.integers(1, 6), st.data())
def test_a_column_is_spread_over_the_same_matrix(height, width, data):
    places = data.draw(st.lists(st.integers(0, height * width - 1), unique=True).map(tuple))
    values = data.draw(st.lists(numbers, min_size=len(places), max_size=len(places)))
    plain, arrays = (m.lists(m.spread(m.column(values), places, (height, width))) for m in (PLAIN, ARRAYS))
    assert arrays == plain


@given(table(2))
def test_columns_are_stacked_into_the_same_rows(columns):
    plain, arrays = (m.lists(m.stack([*map(m.column, columns)])) for m in (PLAIN, ARRAYS))
    assert arrays == plain


def test_numpy_agrees_with_the_standard_library_on_one_number():
    for x in (0.0, 0.3, 0.999):
        assert ARRAYS.sqrt(x) == math.sqrt(x)
        assert ARRAYS.acos(x) == pytest.approx(math.acos(x), **CLOSE)
        assert ARRAYS.exp(x) == pytest.approx(math.exp(x), **CLOSE)
