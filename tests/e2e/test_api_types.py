"""The app's types of the API are those of the API's own OpenAPI document."""

from __future__ import annotations

from schema import SCHEMA, types


def test_the_types_in_the_repository_are_current():
    assert SCHEMA.read_text() == types(), "run: python pwa/scripts/schema.py"
