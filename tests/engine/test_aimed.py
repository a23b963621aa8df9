"""A serve that somebody chose is the call's own where the two are the same, and never worth more."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.errors import RuleBroken
from cornerwise.service.arrays import ARRAYS

from .asking import Request, ask, setter_in

POSITIONS = range(1, 7)


def aimed(request: Request, spot: Any, x_m: float, y_m: float) -> Request:
    chosen = {"server": {"spots": [spot]}, "target": {"x_m": x_m, "y_m": y_m}}
    return bridge.aimed(request | chosen, ARRAYS)["serve"]


@pytest.mark.parametrize("position", POSITIONS)
def test_the_best_call_chosen_by_hand_is_worth_what_the_call_says(position):
    best = ask(setter_in(position))["best"]
    spot, target = best["spot"], best["target"]
    own = {"x_m": spot["x_m"], "y_m": spot["y_m"]}
    serve = aimed(setter_in(position), own, target["x_m"], target["y_m"])
    assert serve["keep"] == pytest.approx(best["keep"], abs=1e-9)
    assert serve["words"] == best["words"]
    assert [r["part"] for r in serve["reasons"]] == [r["part"] for r in best["reasons"]]


@pytest.mark.parametrize("position", POSITIONS)
@pytest.mark.parametrize("target", [(-3.5, 7.0), (0.0, 7.0), (3.5, 6.0)])
@pytest.mark.parametrize("spot", ["left_corner", "middle", "right_corner"])
def test_no_chosen_serve_is_worth_more_than_the_best_call(position, target, spot):
    """The best of all aims, found on a grid and polished, is the best within 0.2 points in 100."""
    request = setter_in(position) | {"level": "college"}
    serve = aimed(request, spot, *target)
    assert serve["keep"] <= ask(request)["best"]["keep"] + 0.002
    assert serve["target"]["x_m"] == target[0]
    assert serve["spot"]["name"] == spot


def test_an_error_ceiling_does_not_refuse_what_was_chosen():
    request = setter_in(1) | {"level": "college", "policy": {"error_ceiling": 0.01}}
    assert aimed(request, "middle", 0.0, 8.9)["p_error"] > 0.3


@pytest.mark.parametrize(
    ("target", "rule", "words"),
    [((0.0, 0.3), "out_of_reach", "over the net"), ((0.0, -0.1), "target_outside_court", "in their court")],
)
def test_a_target_that_cannot_be_is_refused_by_name(target, rule, words):
    with pytest.raises(RuleBroken) as refused:
        aimed(setter_in(1), "middle", *target)
    assert (refused.value.field, refused.value.rule) == ("target", rule)
    assert refused.value.value == {"x_m": target[0], "y_m": target[1]}
    assert words in refused.value.expected
