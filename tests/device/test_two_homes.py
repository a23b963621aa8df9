"""The same questions to both homes: the server's Python with NumPy, the device's with its own arrays.

Numbers agree to 1e-9, everything else exactly: words, order, refusals.
"""

from __future__ import annotations

import json
from collections import Counter
from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.bridge.doors import DOORS, through
from cornerwise.engine.maths import PLAIN
from cornerwise.service.arrays import ARRAYS

from .conftest import Ask
from .differences import differences
from .questions import RULES_OF_A_LOG, every

QUESTIONS = every()


def here(door: str, request: dict[str, Any], m: Any = ARRAYS) -> dict[str, Any]:
    return json.loads(through(door, json.dumps(request), m))


@pytest.fixture(scope="module")
def said(on_the_device: Ask) -> list[dict[str, Any]]:
    answers = on_the_device([(door, request) for _, door, request in QUESTIONS])
    return [{name: value for name, value in answer.items() if name != "took_ms"} for answer in answers]


@pytest.mark.parametrize("door", sorted(DOORS))
def test_both_homes_say_the_same(said, door):
    asked = [(at, says, request) for at, (says, d, request) in enumerate(QUESTIONS) if d == door]
    assert asked
    found = {f"{says} ({at})": differences(here(door, request), said[at]) for at, says, request in asked}
    assert {says: where for says, where in found.items() if where} == {}


def test_numbers_without_any_arrays_say_the_same(said):
    """The engine as it stands, standard library only; from one spot, since it takes its time."""
    few = [at for at, (says, *_) in enumerate(QUESTIONS) if says in ("a measured server", "aim 1")]
    assert len(few) == 2
    for at in few:
        _, door, request = QUESTIONS[at]
        assert differences(here(door, request, PLAIN), said[at]) == []


def test_the_questions_reach_what_they_are_meant_to(said):
    """So that agreement means something: answers and refusals of every sort are among them."""
    rules = {answer["refused"]["rule"] for answer in said if "refused" in answer}
    assert rules >= RULES_OF_A_LOG
    assert {"degenerate_geometry", "setter_unknown", "spot_outside_service_zone", "contact_past_net"} <= rules
    assert {"target_outside_court", "out_of_reach", "overlap", "no_passers", "too_many_passers"} <= rules
    asked = list(zip(QUESTIONS, said, strict=True))
    answered = Counter(door for (_, door, _), answer in asked if "answer" in answer)
    assert answered["call"] >= 36
    assert answered["aimed"] >= 5
    assert answered["flight"] >= 40
    assert answered["geometry"] >= 40
    assert answered["replay"] >= 100
    assert answered["review"] >= 100
    calls = [answer["answer"] for (_, door, _), answer in asked if door == "call" and "answer" in answer]
    spots = {call["best"]["spot"]["name"] for call in calls}
    assert len(spots) >= 3


def test_a_difference_of_a_billionth_is_seen():
    assert differences({"a": [1.0]}, {"a": [1.0 + 3e-9]}) == [".a.0: 1.0 here, 1.000000003 on the device"]
    assert differences({"a": 1.0}, {"a": 1.0 + 1e-12}) == []
    assert differences({"a": None}, {"a": False}) != []
    assert differences({"a": 1}, {"a": 1, "b": 2}) != []


def test_every_question_that_the_engine_answers_has_a_door_on_the_device():
    assert set(DOORS) == {name for name in bridge.__all__ if name.islower()}
