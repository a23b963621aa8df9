"""The score sheet after known sequences of play, by the number of the rule: fixtures/match/*.json.

Expected values were worked out by hand from the rule that each case names, not with this engine.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from cornerwise.engine.match import replay_request

FOLDER = Path(__file__).parents[2] / "fixtures" / "match"
FILES = sorted(FOLDER.glob("*.json"))
CASES = [
    pytest.param(case, id=f"{path.stem}: {case['description']}")
    for path in FILES
    for case in json.loads(path.read_text())["cases"]
]
RESULTS = ("rally_won", "rally_replayed")


def entry_id(number: int) -> str:
    return f"01890000-0000-7000-8000-{number:012x}"


def with_envelopes(events: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Write the envelope of each event as a device does: see the README beside the cases."""
    log: list[dict[str, Any]] = []
    ids: dict[str, str] = {}
    set_number = rally_number = 0
    for given in events:
        event = dict(given)
        for _ in range(event.pop("times", 1)):
            if event["type"] == "set_started" and "set_number" not in event:
                set_number, rally_number = set_number + 1, 1
            entry = {"set_number": set_number, "rally_number": rally_number, "device": "phone", **event}
            entry |= {"id": entry_id(len(log)), "counter": len(log)}
            ids[entry.pop("label", "")] = entry["id"]
            if "event" in entry:
                entry["event_id"] = ids[entry.pop("event")]
            log.append(entry)
            ends = event["type"] in RESULTS or event.get("found") == "at_service"
            rally_number += ends and "rally_number" not in event
    return log


def at(answer: Any, path: str) -> Any:
    """Return what stands at a dotted path; a path that ends in # gives shirt numbers only."""
    for step in path.removesuffix("#").split("."):
        answer = answer[int(step)] if isinstance(answer, list) else answer[step]
    return [place["number"] for place in answer] if path.endswith("#") else answer


@pytest.mark.parametrize("case", CASES)
def test_the_score_sheet_reads_as_the_rules_say(case: dict[str, Any]) -> None:
    answer = replay_request({"profile": case.get("profile"), "events": with_envelopes(case["events"])})
    found = {path: at(answer, path) for path in case.get("expect", {})}
    assert found == case.get("expect", {})
    expected = case.get("violations", [])
    noted = [
        f"{violation['code']} {violation['rule']}" if " " in wanted else violation["code"]
        for violation, wanted in zip(answer["violations"], expected, strict=False)
    ]
    assert noted == expected
    assert len(answer["violations"]) == len(expected)
    assert [note["code"] for note in answer["contradictions"]] == case.get("contradictions", [])


def test_every_case_has_a_source() -> None:
    assert FILES
    for path in FILES:
        assert json.loads(path.read_text())["source"], path.name
