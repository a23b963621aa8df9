"""The two homes of the engine: plain numbers, as on the phone, and whole arrays, as on the server.

Both go through the same formulas; here the whole answer is compared, number by number, and every word of
it: which spot, aim and pace, which alternatives, what to stay off, what the ceiling costs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from cornerwise.engine.call.recommend import recommend
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.court import Point
from cornerwise.engine.maths import PLAIN
from cornerwise.engine.passing import Stand
from cornerwise.service.arrays import ARRAYS

from .situations import BY_NAME, random_situation, stock_situation, with_scatter

CLOSE = 1e-9


def differences(a: Any, b: Any, at: str = "answer") -> Iterator[str]:
    """Yield where two answers differ: numbers by more than 1e-9, anything else at all."""
    if is_dataclass(a) and type(a) is type(b):
        for field in fields(a):
            yield from differences(getattr(a, field.name), getattr(b, field.name), f"{at}.{field.name}")
    elif isinstance(a, dict) and isinstance(b, dict):
        if list(a) != list(b):
            yield f"{at}: {list(a)} and {list(b)}"
        for key in a.keys() & b.keys():
            yield from differences(a[key], b[key], f"{at}.{key}")
    elif isinstance(a, list | tuple) and isinstance(b, list | tuple):
        if len(a) != len(b):
            yield f"{at}: {len(a)} and {len(b)}"
        for i, (x, y) in enumerate(zip(a, b, strict=False)):
            yield from differences(x, y, f"{at}[{i}]")
    elif is_number(a) and is_number(b):
        if not math.isclose(a, b, rel_tol=0.0, abs_tol=CLOSE):
            yield f"{at}: {a!r} and {b!r}"
    elif a != b:
        yield f"{at}: {a!r} and {b!r}"


def is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def limited(situation, *spots: int):
    """The same server at some of her spots only."""
    server = situation.server
    return replace(situation, server=replace(server, spots=tuple(server.spots[i] for i in spots)))


def with_rated_passers(situation):
    places = (Point(2.5, 5.5), Point(0.2, 7.5), Point(-2.9, 6.0), Point(-0.5, 4.0))
    passers = tuple(Stand(place, shift) for place, shift in zip(places, (0.3, -0.2, 0.0, 0.45), strict=True))
    return replace(
        situation,
        receivers=replace(situation.receivers, stands=passers, target=Point(0.7, 1.4), faces=-1.0),
    )


VARIED = {
    "a stock float": ("college", stock_situation(BY_NAME["college-jump_float-224"], 4), False),
    "the ceiling to start from": (
        "high_school", stock_situation(BY_NAME["high_school-standing_float-224"], 1), True
    ),
    "a ceiling that cannot be met": (
        "under_14", stock_situation(BY_NAME["under_14-underhand-213"], 6, "two", 0.05), False
    ),
    "topspin, and so both drag models": (
        "elite_men", stock_situation(BY_NAME["elite_men-jump_topspin-243"], 3, "four", 0.16), False
    ),
    "corners missing": (
        "college", limited(stock_situation(BY_NAME["college-standing_float-224"], 2, "five"), 2, 4, 5), False
    ),
    "rated passers, another target, a setter who faces right": (
        "high_school", with_rated_passers(stock_situation(BY_NAME["high_school-jump_float-243"], 5)), True
    ),
    "a scatter of her own": (
        "college", with_scatter(stock_situation(BY_NAME["college-jump_topspin-224"], 5), 0.7, 1.6), False
    ),
}  # fmt: skip


@pytest.mark.parametrize(("level", "situation", "start"), VARIED.values(), ids=VARIED)
def test_both_homes_give_the_same_answer(level, situation, start):
    numbers = recommend(PLAIN, situation, level, start)
    arrays = recommend(ARRAYS, situation, level, start)
    assert numbers is not None
    assert not list(differences(numbers, arrays))


@pytest.mark.parametrize("seed", [301, 302, 304, 305])
def test_both_homes_make_the_same_call_for_random_situations(seed):
    _, situation = random_situation(seed)
    numbers, arrays = Search(PLAIN, situation), Search(ARRAYS, situation)
    among = stands(situation)
    for ceiling in (None, 0.2, 0.1):
        assert not list(differences(numbers.best(among, ceiling), arrays.best(among, ceiling)))
    assert not list(differences(numbers.fewest_errors(among), arrays.fewest_errors(among)))


def test_a_difference_would_be_seen():
    """The comparison itself: another number, another word, another length, deep inside."""
    situation = stock_situation(BY_NAME["college-jump_float-224"], 4)
    answer = recommend(ARRAYS, situation, "college")
    assert not list(differences(answer, answer))
    option = answer.best.detail.option
    for changed in (
        replace(option, keep=option.keep + 2e-9),
        replace(option, landing=Point(option.landing.x_m, option.landing.y_m + 2e-9)),
        replace(option, pace=1 - option.pace),
    ):
        best = replace(answer.best, detail=replace(answer.best.detail, option=changed))
        assert len(list(differences(answer, replace(answer, best=best)))) == 1
    assert list(differences(answer, replace(answer, alternatives=answer.alternatives[:1])))
    assert list(differences(answer, replace(answer, met=not answer.met)))
