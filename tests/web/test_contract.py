"""The document at /api/openapi.json, and that the API keeps to it whatever it is sent."""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from cornerwise.app import create_app
from cornerwise.engine.bridge import RULES
from hypothesis import HealthCheck, given, settings
from openapi_spec_validator import validate
from schemathesis.specs.openapi.checks import positive_data_acceptance

schema = schemathesis.openapi.from_wsgi("/api/openapi.json", create_app())
document = schema.raw_schema
thorough = settings(
    max_examples=200,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


def errors_of(response: Any) -> list[dict[str, Any]]:
    return response.json()["errors"] if response.status_code == 422 else []


def in_schema(field: str, part: dict[str, Any]) -> bool:
    """Return whether a dotted field stands in a schema of the document."""
    part = resolved(part)
    if "oneOf" in part:
        return any(in_schema(field, choice) for choice in part["oneOf"])
    if field == "":
        return True
    name, _, rest = field.partition(".")
    if "items" in part:
        return name.isdecimal() and in_schema(rest, part["items"])
    return name in part.get("properties", {}) and in_schema(rest, part["properties"][name])


def resolved(part: dict[str, Any]) -> dict[str, Any]:
    return document["components"]["schemas"][part["$ref"].rsplit("/", 1)[1]] if "$ref" in part else part


def operations() -> dict[str, dict[str, Any]]:
    return {
        f"{method} {path}": operation
        for path, methods in document["paths"].items()
        for method, operation in methods.items()
    }


@schema.parametrize()
@thorough
def test_nothing_is_found_but_requests_that_break_a_documented_rule(case):
    """A request that fits the schema is answered, or refused by a rule of the game, never by the schema."""
    response = case.call()
    refused_by_rule = {error["rule"] for error in errors_of(response)} & RULES.keys()
    case.validate_response(response, excluded_checks=[positive_data_acceptance] if refused_by_rule else [])


def test_the_document_is_valid_openapi_3_1():
    assert document["openapi"] == "3.1.0"
    validate(document)


def test_the_document_describes_these_operations():
    assert set(operations()) == {
        "post /api/v1/calls",
        "post /api/v1/geometry",
        "post /api/v1/flight",
        "get /api/v1/stock",
    }


@schema.include(path="/api/v1/calls").parametrize()
@thorough
def test_each_refused_call_names_a_documented_rule_or_a_field_of_the_schema(case):
    body = document["components"]["schemas"]["CallRequest"]
    for error in errors_of(case.call()):
        if error["rule"] == "schema":
            unknown = error["expected"] == "no such field"
            assert in_schema(error["field"], body) != unknown
        else:
            assert error["rule"] in RULES
