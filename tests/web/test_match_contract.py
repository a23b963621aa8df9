"""That the API of matches keeps to its document, whatever it is sent, with matches that are there and not."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from random import Random
from typing import Any

import pytest
import schemathesis
from cornerwise.app import create_app
from cornerwise.config import Config
from cornerwise.engine.bridge import RULES
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match import parse_entry
from cornerwise.engine.match.shapes import SHAPES
from cornerwise.service import clubs, devices
from cornerwise.service.accounts import Who
from hypothesis import HealthCheck, settings
from jsonschema import Draft202012Validator
from schemathesis.specs.openapi.checks import (
    ignored_auth,
    negative_data_rejection,
    positive_data_acceptance,
)

from ..engine.review.scripts import script

sys.path.insert(0, str(Path(__file__).parents[1]))

from slow_match.generator import random_match

data = Path(os.environ["CORNERWISE_DATA"]) / f"contract-{os.getpid()}"
app = create_app(Config(data=data, password_work="least"))
with app.app_context():
    clubs.first_link()
    coach = Who(clubs.LOCAL_CLUB, "Local club", "coach", None, "tests")
    SIGNED_IN = {"Authorization": f"Bearer {devices.new_api_token(coach, 'tests', 'coach')['token']}"}
client = app.test_client()
client.environ_base["HTTP_AUTHORIZATION"] = SIGNED_IN["Authorization"]
schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app).include(path_regex="/matches")
schema = schema.exclude(path_regex="/events")
logs = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
logs = logs.include(path_regex="/(replay|v1/review|.*/events)$")
logs.config.phases.coverage.enabled = False  # 27 types of event: some thousand cases; each is read below
thorough = settings(max_examples=100, deadline=None, derandomize=True, suppress_health_check=[*HealthCheck])


def begun(log: list[dict[str, Any]]) -> str:
    match_id = client.post("/api/v1/matches", json={}).json["id"]
    client.post(f"/api/v1/matches/{match_id}/events", json={"events": log})
    return match_id


LIVE = [begun(script(seed, sets=2, rallies=12)) for seed in range(3)] + [begun([])]
DEMO = next(m["id"] for m in client.get("/api/v1/matches").json["items"] if m["demo"])


def checked(case: schemathesis.Case) -> None:
    """Send a request, half of those about a match to one that is there, and check what comes back."""
    spoilt = False
    if "match_id" in case.path_parameters and case.path_parameters["match_id"][-1] in "02468ace":
        spoilt = case.path_parameters["match_id"].count("-") != 4  # no id: here it is replaced by one
        live = LIVE[int(case.path_parameters["match_id"][-1], 16) % len(LIVE)]
        case.path_parameters["match_id"] = begun([]) if case.method == "DELETE" else live
    response = case.call(headers=SIGNED_IN)
    mended = [negative_data_rejection] if spoilt else []
    errors = response.json()["errors"] if response.status_code == 422 else []
    refused_by_rule = {error["rule"] for error in errors} & RULES.keys()
    excluded = [
        ignored_auth,
        *([positive_data_acceptance] if refused_by_rule else []),
        *mended,
    ]  # see test_rights
    batch = case.method == "POST" and case.path.endswith("/events")
    if batch and response.status_code == 200:
        excluded += [negative_data_rejection] if response.json()["refused"] else []  # one by one
    case.validate_response(response, headers=SIGNED_IN, excluded_checks=excluded)


@logs.parametrize()
@thorough
def test_a_log_is_answered_or_refused_by_a_rule_whatever_is_in_it(case):
    """A bad event of a batch is refused by itself; a log with one in it as a whole."""
    checked(case)


@schema.parametrize()
@thorough
def test_nothing_is_found_but_requests_that_break_a_documented_rule(case):
    """A request that fits the schema is answered, or refused by a rule of the game, never by the schema.

    Of two requests about a match, one is about a match that is there.
    """
    checked(case)


PATHS = ["", "/state", "/events", "/log", "/review", "/review?side=them", "/review?set_number=1"]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("match", [*range(len(LIVE)), "demo"])
def test_what_is_said_of_a_match_fits_the_document(path, match):
    match_id = DEMO if match == "demo" else LIVE[match]
    response = client.get(f"/api/v1/matches/{match_id}{path}")
    assert response.status_code == 200
    operation = schema["/api/v1/matches/{match_id}" + path.split("?")[0]]["GET"]
    operation.validate_response(response)


@pytest.mark.parametrize("seed", range(10))
def test_what_is_said_of_a_log_fits_the_document(seed):
    answer = client.post("/api/v1/replay", json={"events": script(seed, sets=1 + seed % 3, rallies=seed * 5)})
    assert answer.status_code == 200
    whole = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    whole["/api/v1/replay"]["POST"].validate_response(answer)
    review = client.post("/api/v1/review", json={"events": script(seed, sets=1 + seed % 3, rallies=seed * 5)})
    whole["/api/v1/review"]["POST"].validate_response(review)


EVENT = app.test_client().get("/api/openapi.json").json["components"]["schemas"]
VALIDATORS = {
    name: Draft202012Validator(EVENT[reference.rpartition("/")[2]])
    for name, reference in EVENT["Event"]["discriminator"]["mapping"].items()
}


def test_every_type_of_event_has_a_schema_of_its_own_told_apart_by_its_type():
    mapping = EVENT["Event"]["discriminator"]["mapping"]
    assert set(mapping) == set(SHAPES)
    assert [one["$ref"] for one in EVENT["Event"]["oneOf"]] == [*mapping.values()]
    for name, reference in mapping.items():
        assert EVENT[reference.rpartition("/")[2]]["properties"]["type"]["const"] == name


def test_what_can_be_read_fits_the_document_and_what_does_not_fit_cannot_be_read():
    """Random logs, each event with one thing changed; what breaks a rule between fields may still fit."""
    dice, refused = Random(7), 0
    for seed in range(20):
        for event in random_match(seed)[1][:60]:
            assert VALIDATORS[event["type"]].is_valid(event)
            changed = spoiled(dice, event)
            kind = changed.get("type")
            if not (isinstance(kind, str) and kind in VALIDATORS and VALIDATORS[kind].is_valid(changed)):
                refused += 1
                with pytest.raises(RuleBroken):
                    parse_entry(changed)
    assert refused > 300


def spoiled(dice: Random, event: dict[str, Any]) -> dict[str, Any]:
    """Return an event with a field taken out, added, or changed to something odd."""
    name = dice.choice([*event, "mood"])
    odd = dice.choice([..., None, -1, 7.5, 1000, "", "nobody", [], {}, True])
    left = {key: value for key, value in event.items() if key != name}
    return left if odd is ... else {**left, name: odd}
