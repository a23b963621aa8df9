"""The app's types of the API are those of the API's own OpenAPI document."""

from __future__ import annotations

import runpy
from pathlib import Path

SCHEMA = runpy.run_path(str(Path(__file__).resolve().parents[2] / "pwa/scripts/schema.py"))


def test_the_types_in_the_repository_are_current():
    assert SCHEMA["SCHEMA"].read_text() == SCHEMA["types"](), "run: python pwa/scripts/schema.py"
