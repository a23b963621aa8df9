"""Alternatives to a call: far enough from it to be a choice, and the best of those that are."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from itertools import combinations, pairwise
from typing import Any

import numpy as np
import pytest
from cornerwise.engine.bridge.ask import asked
from cornerwise.engine.call.alternatives import alternatives
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.court import Point, depth, spot_name, zone
from cornerwise.service.arrays import ARRAYS

from .asking import ask

HIGH_SCHOOL = {"level": "high_school", "server": {"kind": "standing_float"}}
TOPSPIN = {"level": "college", "net_height_m": 2.43, "server": {"kind": "jump_topspin"}}
SHORT_TOO = {"level": "college", "server": {"kind": "jump_float", "has_short_float": True}}
ASKED = [
    *(
        HIGH_SCHOOL | {"opponent": {"setter_position": k, "formation": f}}
        for k in (1, 4)
        for f in ("two", "three", "four")
    ),
    *(HIGH_SCHOOL | {"opponent": {"setter_position": k}} for k in (2, 3, 5, 6)),
    *(TOPSPIN | {"opponent": {"setter_position": k, "formation": "five"}} for k in (2, 6)),
    *(SHORT_TOO | {"opponent": {"setter_position": k}} for k in (1, 3)),
    HIGH_SCHOOL | {"opponent": {"setter_position": 1}, "policy": {"error_ceiling": 0.09}},
    TOPSPIN | {"opponent": {"setter_position": 4}, "policy": {"error_ceiling": 0.15}},
    {"opponent": {"setter_position": 2}, "server": {"spots": ["middle"]}},
    {"opponent": {"setter_position": 2}, "server": {"spots": ["left_corner", "middle"]}},
]
PLAYED_COARSELY = 0.3  # points in 100: what the coarse grid of aims may be off, 1 deg by 0.3 m


@cache
def answers() -> list[tuple[dict[str, Any], dict[str, Any]]]:
    return [(asked_for, ask(asked_for)) for asked_for in ASKED]


def named(call: dict[str, Any]) -> tuple[Any, ...]:
    return call["spot"]["name"], call["target"]["zone"], call["target"]["depth"], call["kind"]


def apart_m(a: dict[str, float], b: dict[str, float]) -> float:
    return math.dist((a["x_m"], a["y_m"]), (b["x_m"], b["y_m"]))


def test_alternatives_differ_from_the_call_and_from_each_other_by_name_and_by_more_than_a_step():
    # chosen: 2 m between two spots, 1.5 m between two targets
    for _, answer in answers():
        for a, b in combinations([answer["best"], *answer["alternatives"]], 2):
            assert named(a) != named(b)
            assert apart_m(a["spot"], b["spot"]) >= 2.0 or apart_m(a["target"], b["target"]) >= 1.5


def test_there_are_two_alternatives_wherever_a_server_has_the_whole_line():
    for asked_for, answer in answers():
        assert len(answer["alternatives"]) <= 2
        if "spots" not in asked_for["server"] and "policy" not in asked_for:
            assert len(answer["alternatives"]) == 2


def test_alternatives_come_best_first_and_none_beats_the_call():
    for _, answer in answers():
        keeps = [call["keep"] for call in (answer["best"], *answer["alternatives"])]
        assert all(first >= second - 1e-9 for first, second in pairwise(keeps))


def test_an_alternative_says_what_it_is_worth_and_equals_lie_within_one_point():
    seen = set()
    for _, answer in answers():
        for call in answer["alternatives"]:
            points = 100 * (call["keep"] - answer["best"]["keep"])
            assert call["points_per_100"] == pytest.approx(points, abs=1e-9)
            assert call["equal"] is (points >= -1.0)
            seen.add(call["equal"])
    assert seen == {True, False}


def test_alternatives_keep_to_the_ceiling_too():
    limited = [(a, answer) for a, answer in answers() if "policy" in a]
    assert len(limited) == 2
    for asked_for, answer in limited:
        assert answer["policy"]["met"]
        for call in answer["alternatives"]:
            assert call["p_error"] <= asked_for["policy"]["error_ceiling"] + 1e-9


def test_where_no_serve_keeps_to_the_ceiling_alternatives_miss_hardly_more_than_the_least():
    answer = ask(HIGH_SCHOOL | {"opponent": {"setter_position": 4}, "policy": {"error_ceiling": 0.0}})
    assert not answer["policy"]["met"]
    for call in answer["alternatives"]:
        assert (
            call["p_error"] <= answer["policy"]["least_error"] + 0.02 + 1e-9
        )  # chosen: one step of the ceiling


def test_alternatives_use_only_the_servers_own_spots():
    for asked_for, answer in answers():
        allowed = asked_for["server"].get("spots")
        for call in answer["alternatives"]:
            assert allowed is None or call["spot"]["name"] in allowed


def every_aim(search: Search) -> Iterator[tuple[float, float, tuple[Any, ...], Point, Point]]:
    """Yield keep, p_in, what it is called by, spot and target of every coarse aim of a server."""
    for field in search.coarse(stands(search.situation)):
        name, kind, spot = spot_name(field.stand.spot.x_m), field.stand.serve.kind, field.stand.spot
        for keep, p_in, at in zip(field.keep, field.p_in, field.landings, strict=True):
            yield keep, p_in, (name, zone(at), depth(at), kind), spot, at


@pytest.mark.parametrize("k", range(len(ASKED)))
def test_no_better_option_that_differs_enough_was_passed_over(k):
    """Every coarse aim of the server is looked at, slowly: none that differs enough is worth more."""
    of = asked(ASKED[k]).situation
    search = Search(ARRAYS, of)
    best = search.best(stands(of), of.error_ceiling)
    floor = 0.0 if of.error_ceiling is None else 1.0 - of.error_ceiling
    aims = [aim for aim in every_aim(search) if aim[1] >= floor]
    keep = np.array([aim[0] for aim in aims])
    places = np.array([(spot.x_m, spot.y_m, at.x_m, at.y_m) for _, _, _, spot, at in aims])
    free = np.ones(len(aims), dtype=bool)
    chosen = best
    for option in [*alternatives(search, stands(of), best, of.error_ceiling), None, None][:2]:
        name = (*chosen.key, chosen.stand.serve.kind)
        spot, at = chosen.stand.spot, chosen.landing
        away = places - (spot.x_m, spot.y_m, at.x_m, at.y_m)
        far = (np.hypot(away[:, 0], away[:, 1]) >= 2.0) | (np.hypot(away[:, 2], away[:, 3]) >= 1.5)
        free &= far & np.array([aim[2] != name for aim in aims])
        if option is None:
            assert not free.any()
            break
        assert 100 * (keep[free].max() - option.keep) <= PLAYED_COARSELY
        chosen = option
