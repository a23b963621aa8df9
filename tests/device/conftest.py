"""The engine on the device's own Python, under Node: the very files that the built app gets."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKED = ROOT / "pwa" / "dist" / "py"
RUNNER = Path(__file__).with_name("run.mjs")

Question = tuple[str, dict[str, Any]]
"""The name of a door, and a request."""
Ask = Callable[[list[Question]], list[dict[str, Any]]]


@pytest.fixture(scope="session")
def on_the_device() -> Ask:
    """Return a function that puts questions to the device, all in one run, and gives what is said to each."""

    def ask(questions: list[Question]) -> list[dict[str, Any]]:
        assert (PACKED / "cornerwise.zip").exists(), "the app is not built: cd pwa && npm run build"
        lines = "".join(json.dumps({"door": door, "request": request}) + "\n" for door, request in questions)
        command = ["node", RUNNER, PACKED]
        ran = subprocess.run(command, input=lines, capture_output=True, text=True)
        assert ran.returncode == 0, ran.stderr[-2000:]
        said = [json.loads(line) for line in ran.stdout.splitlines()]
        assert len(said) == len(questions)
        return said

    return ask
