"""The document at /api/openapi.json, and that the API keeps to it whatever it is sent."""

from __future__ import annotations

import copy
import functools
import operator
from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from cornerwise.app import create_app
from cornerwise.engine.bridge import RULES
from cornerwise.service.rules import RULES as ACCOUNT_RULES
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openapi_spec_validator import validate
from schemathesis.specs.openapi.checks import positive_data_acceptance

document = create_app().test_client().get("/api/openapi.json").json
schema = schemathesis.openapi.from_wsgi("/api/openapi.json", create_app()).include(
    path_regex="/(aimed|calls|geometry|flight|stock)$"
)
thorough = settings(
    max_examples=200,
    deadline=None,
    derandomize=True,
    suppress_health_check=[*HealthCheck],
)

FULL = {
    "level": "college",
    "net_height_m": 2.24,
    "drag_model": "B",
    "ball": "youth",
    "service_line_m": 9,
    "server": {
        "kind": "jump_float",
        "speeds_m_s": [15, 16.5],
        "contact_height_m": 2.7,
        "contact_inside_m": 0.5,
        "spin_rev_s": 0,
        "scatter": {"across_m": 0.8, "along_m": 1.2},
        "spots": ["left_corner", {"x_m": 1, "y_m": -9.5}],
        "has_short_float": False,
    },
    "opponent": {
        "setter_position": 1,
        "setter_start": {"x_m": -3.2, "y_m": 4.5},
        "pass_target": {"x_m": -1, "y_m": 1},
        "setter_faces": "left",
        "system": "one_setter",
        "passers": [
            {"x_m": 2.9, "y_m": 6.3, "position": 5, "number": 7, "pass_grade": 2.1, "passes": 40},
            {"x_m": 0, "y_m": 6.7, "position": 6},
            {"x_m": -2.9, "y_m": 6.3, "position": 3},
        ],
    },
    "policy": {"error_ceiling": 0.1},
}


def operations() -> dict[str, dict[str, Any]]:
    return {
        f"{method} {path}": operation
        for path, methods in document["paths"].items()
        for method, operation in methods.items()
        if method != "parameters"
    }


STATELESS = {
    "post /api/v1/aimed",
    "post /api/v1/calls",
    "post /api/v1/geometry",
    "post /api/v1/flight",
    "post /api/v1/replay",
    "post /api/v1/review",
    "get /api/v1/stock",
}


@schema.parametrize()
@thorough
def test_nothing_is_found_but_requests_that_break_a_documented_rule(case):
    """A request that fits the schema is answered, or refused by a rule of the game, never by the schema."""
    response = case.call()
    errors = response.json()["errors"] if response.status_code == 422 else []
    refused_by_rule = {error["rule"] for error in errors} & RULES.keys()
    case.validate_response(response, excluded_checks=[positive_data_acceptance] if refused_by_rule else [])


def test_the_document_is_valid_openapi_3_1():
    assert document["openapi"] == "3.1.0"
    validate(document)


JUNK = st.one_of(
    st.none(), st.booleans(), st.text(max_size=3), st.integers(), st.floats(-50, 50),
    st.just([]), st.just({}), st.just([{}] * 10), st.just({"x_m": 30}),
)  # fmt: skip


def places(value: Any, path: tuple = ()) -> Iterator[tuple]:
    """Yield the path of each value in a body."""
    for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
        yield (*path, key)
        if isinstance(inner, dict | list):
            yield from places(inner, (*path, key))


@given(st.sampled_from([*places(FULL), ("colour",), ("server", "height"), ("opponent", "a.b")]), JUNK)
@thorough
def test_a_call_with_one_bad_value_is_refused_by_its_field_or_by_a_documented_rule(client, path, junk):
    body = copy.deepcopy(FULL)
    functools.reduce(operator.getitem, path[:-1], body)[path[-1]] = junk
    response = client.post("/api/v1/calls", json=body)
    assert response.status_code in (200, 422)
    for error in response.json.get("errors", []):
        if error["rule"] == "schema":
            assert error["field"].startswith(".".join(map(named, path)))
        else:
            assert error["rule"] in RULES


def named(step: str | int) -> str:
    return '"a.b"' if step == "a.b" else str(step)


def test_a_call_with_everything_given_is_answered_for_what_was_given(client):
    response = client.post("/api/v1/calls", json=FULL)
    assert response.status_code == 200
    situation = response.json["situation"]
    assert situation["ball"] == FULL["ball"]
    assert situation["setter_start"] == FULL["opponent"]["setter_start"]
    assert situation["server"]["speeds_m_s"] == FULL["server"]["speeds_m_s"]
    assert [p["number"] for p in situation["players"] if p["role"] == "passer"] == [None, 7, None]


def test_every_stateless_operation_documents_an_example_and_the_example_is_answered(client):
    for name, operation in operations().items():
        if name not in STATELESS:
            continue
        method, path = name.split(" ")
        if method == "get":
            example = operation["responses"]["200"]["content"]["application/json"]["example"]
            assert client.get(path).json == example
        else:
            example = operation["requestBody"]["content"]["application/json"]["example"]
            assert client.post(path, json=example).status_code == 200


def test_every_operation_that_takes_a_body_documents_how_it_can_be_refused():
    taking = {name: operation for name, operation in operations().items() if "requestBody" in operation}
    changing = {name for name in operations() if name.startswith(("post ", "put ", "patch "))}
    assert changing - set(taking) == {"post /api/v1/devices/{device_id}/held/accept"}
    assert all({"400", "413", "415", "422"} <= set(operation["responses"]) for operation in taking.values())


def test_every_refusal_is_documented_as_problem_details_with_the_rules_named():
    for response in document["components"]["responses"].values():
        assert list(response["content"]) == ["application/problem+json"]
    rule = document["components"]["schemas"]["FieldError"]["properties"]["rule"]
    assert set(rule["enum"]) == {"schema", *RULES, *ACCOUNT_RULES}
    assert all(text in rule["description"] for text in RULES.values())


@pytest.mark.parametrize(("count", "status"), [(0, 422), (1, 200), (5, 200), (6, 422)])
def test_the_documented_number_of_passers_is_the_one_that_the_rules_of_the_game_take(client, count, status):
    """FIVB 7.3.1: six players in play; one of them sets, so one to five pass."""
    passers = document["components"]["schemas"]["OpponentRequest"]["properties"]["passers"]
    documented = passers["minItems"] <= count <= passers["maxItems"]
    places = [{"x_m": 2.0 - i, "y_m": 6.0 + 0.1 * i} for i in range(count)]
    body = {"opponent": {"setter_position": 1, "setter_start": {"x_m": -3, "y_m": 7}, "passers": places}}
    assert client.post("/api/v1/calls", json=body).status_code == status
    assert documented == (status == 200)


def test_no_object_of_a_body_takes_unknown_members():
    schemas = document["components"]["schemas"]
    either = [name for name, part in schemas.items() if "oneOf" in part]
    assert either == ["Event"]
    objects = [part for name, part in schemas.items() if name not in either]
    assert all(part["additionalProperties"] is False for part in objects)
