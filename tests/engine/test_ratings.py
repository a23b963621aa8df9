"""What a passer's rating does to the call (common practice, no source)."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from .asking import Request, ask, places, setter_in

PLACES = {
    "two": [(1.9, 6.2), (-1.9, 6.2)],
    "three": [(2.9, 6.3), (0.0, 6.7), (-2.9, 6.3)],
    "four": [(3.3, 5.2), (1.2, 7.0), (-1.2, 7.0), (-3.3, 5.2)],
}
SERVER = {"level": "elite_women", "server": {"kind": "jump_float"}}
GRADES = (2.6, 2.0, 1.5, 1.0, 0.5)  # from better than average to very weak
STEP_M = 0.03  # the search ends within two centimetres
FOLLOWED = [
    ("two", 1, 0),
    ("two", 4, 1),
    ("three", 2, 2),
    ("three", 3, 0),
    ("three", 5, 1),
    ("four", 1, 3),
    ("four", 6, 1),
]


def called(formation: str, setter: int, who: int, pass_grade: float, passes: float) -> Request:
    passers = places(*PLACES[formation])
    passers[who] |= {"pass_grade": pass_grade, "passes": passes}
    return ask(SERVER | setter_in(setter, passers=passers))["best"]


def is_hers(found: Request, formation: str, who: int) -> bool:
    return (found["passer"]["x_m"], found["passer"]["y_m"]) == PLACES[formation][who]


def away_m(found: Request, formation: str, who: int) -> float:
    return math.dist((found["target"]["x_m"], found["target"]["y_m"]), PLACES[formation][who])


@pytest.mark.parametrize(("formation", "setter", "who"), FOLLOWED)
def test_a_weaker_passer_never_moves_the_target_away_from_her(formation, setter, who):
    """Until the ball is hers it comes no farther from her; once it is, it stays hers."""
    calls = [called(formation, setter, who, grade, 100) for grade in GRADES]
    for stronger, weaker in pairwise(calls):
        if is_hers(stronger, formation, who):
            assert is_hers(weaker, formation, who)
        else:
            assert away_m(weaker, formation, who) <= away_m(stronger, formation, who) + STEP_M
        assert weaker["keep"] >= stronger["keep"] - 1e-9  # and the server is never worse off


@pytest.mark.parametrize(("formation", "setter", "who"), FOLLOWED)
def test_how_far_it_moves_depends_on_how_sure_her_rating_is(formation, setter, who):
    """The same mean grade on more passes does what a weaker passer does."""
    calls = [called(formation, setter, who, 0.9, passes) for passes in (0, 5, 20, 80, 1000)]
    for vaguer, surer in pairwise(calls):
        if is_hers(vaguer, formation, who):
            assert is_hers(surer, formation, who)
        else:
            assert away_m(surer, formation, who) <= away_m(vaguer, formation, who) + STEP_M
        assert surer["keep"] >= vaguer["keep"] - 1e-9
    unknown = ask(SERVER | setter_in(setter, passers=places(*PLACES[formation])))["best"]
    assert calls[0] == unknown | {"words": calls[0]["words"]}  # a grade on no passes says nothing


def test_a_few_passes_leave_the_target_where_it_was_and_many_bring_it_to_her():
    # Setter in 2: the call is for the passer on their left, until the one on their right is known to be weak.
    five, hundred = (called("three", 2, 2, 0.9, passes) for passes in (3, 100))
    assert not is_hers(five, "three", 2)
    assert is_hers(hundred, "three", 2)
    assert away_m(hundred, "three", 2) < away_m(five, "three", 2) - 2.0


def test_ratings_that_are_the_same_for_all_leave_the_target_where_it_is():
    for grade in (1.2, 2.8):
        passers = places(*PLACES["three"], pass_grade=grade, passes=60)
        rated = ask(SERVER | setter_in(4, passers=passers))["best"]
        unrated = ask(SERVER | setter_in(4, passers=places(*PLACES["three"])))["best"]
        assert rated["spot"] == unrated["spot"]
        apart = math.dist(*((c["target"]["x_m"], c["target"]["y_m"]) for c in (rated, unrated)))
        assert apart < 0.6  # chosen: well within her scatter
        assert (rated["keep"] > unrated["keep"]) == (grade < 2.0)


def test_the_weaker_of_two_alike_passers_is_served():
    # Setter and target in the middle, passers left and right alike: only the rating tells them apart.
    middle = {"setter_start": {"x_m": 0.0, "y_m": 1.0}, "pass_target": {"x_m": 0.0, "y_m": 1.0}}
    for weak in (0, 1):
        passers = places((2.2, 6.2), (-2.2, 6.2))
        passers[weak] |= {"pass_grade": 0.6, "passes": 200}
        found = ask(SERVER | {"opponent": middle | {"passers": passers}})["best"]
        assert found["passer"]["x_m"] == passers[weak]["x_m"]
