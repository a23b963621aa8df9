"""The formulas' own functions against NumPy, SciPy and a printed table."""

from __future__ import annotations

import math

import numpy as np
import pytest
from cornerwise.engine.maths import PLAIN, normal_cdf
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ndtr

numbers = st.floats(-1e6, 1e6)

# M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 1964, table 26.1, P(x);
# from memory, and SciPy agrees.
PRINTED = {0.0: 0.5, 0.5: 0.691462461, 1.0: 0.841344746, 1.5: 0.933192799, 2.0: 0.977249868, 3.0: 0.998650102}


@pytest.mark.parametrize(("z", "p"), PRINTED.items())
def test_the_normal_distribution_is_that_of_the_printed_table(z, p):
    assert normal_cdf(z) == pytest.approx(p, abs=5e-10)  # the table gives nine decimals
    assert normal_cdf(-z) == pytest.approx(1 - p, abs=5e-10)


@given(st.floats(-30, 30))
def test_the_normal_distribution_is_right_far_out_in_the_tails(z):
    assert normal_cdf(z) == pytest.approx(
        float(ndtr(z)), rel=1e-11, abs=0
    )  # tails of 1e-190 keep eleven digits


@given(st.floats(-40, 40), st.floats(-40, 40))
def test_the_normal_distribution_never_falls(a, b):
    assert normal_cdf(min(a, b)) <= normal_cdf(max(a, b))


@given(numbers, numbers)
def test_numbers_are_compared_and_chosen_as_numpy_does(x, y):
    assert PLAIN.minimum(x, y) == np.minimum(x, y)
    assert PLAIN.maximum(x, y) == np.maximum(x, y)
    assert PLAIN.absolute(x) == np.absolute(x)
    assert PLAIN.where(x < y, x, y) == np.where(x < y, x, y)


@given(st.floats(0, 1e6), st.floats(-700, 700), st.floats(-1, 1))
def test_roots_exponentials_and_angles_are_those_of_numpy(positive, exponent, cosine):
    last_bits = {"rel": 1e-14, "abs": 1e-300}
    assert PLAIN.sqrt(positive) == pytest.approx(float(np.sqrt(positive)), **last_bits)
    assert PLAIN.exp(exponent) == pytest.approx(float(np.exp(exponent)), **last_bits)
    assert PLAIN.acos(cosine) == pytest.approx(float(np.arccos(cosine)), rel=1e-14, abs=1e-15)


@pytest.mark.parametrize("outside", [-1.0000001, 1.0000001])
def test_an_angle_of_an_impossible_cosine_is_refused(outside):
    with pytest.raises(ValueError, match=r"domain|range"):
        PLAIN.acos(outside)


def test_a_formula_runs_once_for_each_row_and_gives_a_column_for_each_of_its_parts():
    assert PLAIN.over(lambda x: 2 * x, PLAIN.column((1, 2, 3))) == [2, 4, 6]
    assert PLAIN.over(lambda x, y: (x + y, x * y), [1, 2], [10, 20]) == ([11, 22], [10, 40])
    assert PLAIN.over(lambda x: 2 * x, PLAIN.column(())) == []


@given(st.integers(1, 6), st.integers(1, 6), st.integers(1, 6), st.integers(0, 2**32 - 1))
def test_a_matrix_product_is_that_of_numpy(height, depth, width, seed):
    rng = np.random.default_rng(seed)
    a, b = rng.normal(size=(height, depth)), rng.normal(size=(depth, width))
    product = PLAIN.lists(PLAIN.product(PLAIN.matrix(a.tolist()), PLAIN.matrix(b.tolist())))
    np.testing.assert_allclose(product, a @ b, rtol=1e-13, atol=1e-13)


def test_a_column_is_spread_over_its_places_and_zeros_elsewhere():
    assert PLAIN.spread([7.0, 8.0], [1, 5], (2, 3)) == [[0.0, 7.0, 0.0], [0.0, 0.0, 8.0]]
    assert PLAIN.spread([], [], (1, 2)) == [[0.0, 0.0]]


def test_a_column_that_does_not_fit_its_places_is_refused():
    with pytest.raises(ValueError, match="zip"):
        PLAIN.spread([1.0], [0, 1], (2, 2))
    with pytest.raises(ValueError, match="zip"):
        PLAIN.product([[1.0, 2.0]], [[1.0], [2.0, 3.0]])


def test_columns_are_stacked_as_rows():
    assert PLAIN.stack([[1.0, 2.0], [3.0, 4.0]]) == [[1.0, 2.0], [3.0, 4.0]]


def test_a_matrix_does_not_change_with_what_it_was_made_from():
    rows = [[1.0, 2.0]]
    matrix = PLAIN.matrix(rows)
    rows[0][0] = 9.0
    assert matrix == [[1.0, 2.0]]


def test_half_of_a_normal_lies_below_its_middle_to_the_last_bit():
    assert normal_cdf(0.0) == 0.5
    assert math.isclose(normal_cdf(8.0) + normal_cdf(-8.0), 1.0, rel_tol=1e-15)
