"""The service asks the engine with arrays; the answer is the one that numbers give."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.service import calls


def flat(value: Any, path: str = "") -> dict[str, Any]:
    """Return every leaf of an answer by its path."""
    if isinstance(value, dict | list):
        items = value.items() if isinstance(value, dict) else enumerate(value)
        return {name: leaf for key, inner in items for name, leaf in flat(inner, f"{path}.{key}").items()}
    return {path: value}


@pytest.mark.parametrize(
    "question",
    [
        {"opponent": {"setter_position": 1}},
        {
            "level": "elite_men",
            "server": {"kind": "jump_topspin", "spots": ["left"], "scatter": {"across_m": 1, "along_m": 1.5}},
            "opponent": {"setter_position": 6, "passers": [{"x_m": 1.8, "y_m": 6}, {"x_m": -2, "y_m": 7}]},
            "policy": {"error_ceiling": 0.2},
        },
    ],
)
def test_arrays_and_numbers_give_the_same_answer(question):
    arrays, numbers = flat(calls.recommend(question)), flat(bridge.call(question))
    assert arrays.keys() == numbers.keys()
    for path, number in numbers.items():
        if isinstance(number, float):
            assert arrays[path] == pytest.approx(number, rel=1e-9, abs=1e-9), path
        else:
            assert arrays[path] == number, path
