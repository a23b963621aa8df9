"""That the API of matches keeps to its document, whatever it is sent, with matches that are there and not."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from cornerwise.app import create_app
from cornerwise.config import Config
from cornerwise.engine.bridge import RULES
from cornerwise.service import clubs, devices
from cornerwise.service.accounts import Who
from hypothesis import HealthCheck, settings
from schemathesis.specs.openapi.checks import ignored_auth, positive_data_acceptance

from ..engine.review.scripts import script

data = Path(os.environ["CORNERWISE_DATA"]) / f"contract-{os.getpid()}"
app = create_app(Config(data=data, password_work="least"))
with app.app_context():
    clubs.first_link()
    coach = Who(clubs.LOCAL_CLUB, "Local club", "coach", None, "tests")
    SIGNED_IN = {"Authorization": f"Bearer {devices.new_api_token(coach, 'tests', 'coach')['token']}"}
client = app.test_client()
client.environ_base["HTTP_AUTHORIZATION"] = SIGNED_IN["Authorization"]
schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app).include(path_regex="/matches")
thorough = settings(max_examples=100, deadline=None, derandomize=True, suppress_health_check=[*HealthCheck])


def begun(log: list[dict[str, Any]]) -> str:
    match_id = client.post("/api/v1/matches", json={}).json["id"]
    client.post(f"/api/v1/matches/{match_id}/events", json={"events": log})
    return match_id


LIVE = [begun(script(seed, sets=2, rallies=12)) for seed in range(3)] + [begun([])]


@schema.parametrize()
@thorough
def test_nothing_is_found_but_requests_that_break_a_documented_rule(case):
    """A request that fits the schema is answered, or refused by a rule of the game, never by the schema.

    Of two requests about a match, one is about a match that is there.
    """
    if "match_id" in case.path_parameters and case.path_parameters["match_id"][-1] in "02468ace":
        live = LIVE[int(case.path_parameters["match_id"][-1], 16) % len(LIVE)]
        case.path_parameters["match_id"] = begun([]) if case.method == "DELETE" else live
    response = case.call(headers=SIGNED_IN)
    errors = response.json()["errors"] if response.status_code == 422 else []
    refused_by_rule = {error["rule"] for error in errors} & RULES.keys()
    excluded = [ignored_auth, *([positive_data_acceptance] if refused_by_rule else [])]  # see test_rights
    case.validate_response(response, headers=SIGNED_IN, excluded_checks=excluded)


PATHS = ["", "/state", "/events", "/log", "/review", "/review?side=them", "/review?set_number=1"]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("match", [*range(len(LIVE)), "demo"])
def test_what_is_said_of_a_match_fits_the_document(path, match):
    page = client.get("/api/v1/matches").json
    match_id = next(m["id"] for m in page["items"] if m["demo"]) if match == "demo" else LIVE[match]
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
