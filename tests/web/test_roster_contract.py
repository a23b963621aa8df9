"""That the API of teams and opponents keeps to its document, whatever it is sent, with things that are there
and not."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
import schemathesis
from cornerwise.app import create_app
from cornerwise.config import Config
from cornerwise.engine.bridge import RULES
from cornerwise.service import clubs, devices
from cornerwise.service.accounts import Who
from hypothesis import HealthCheck, settings
from schemathesis.specs.openapi.checks import ignored_auth, positive_data_acceptance

data = Path(os.environ["CORNERWISE_DATA"]) / f"roster-contract-{os.getpid()}"
app = create_app(Config(data=data, password_work="least"))
with app.app_context():
    clubs.first_link()
    coach = Who(clubs.LOCAL_CLUB, "Local club", "coach", None, "tests")
    SIGNED_IN = {"Authorization": f"Bearer {devices.new_api_token(coach, 'tests', 'coach')['token']}"}
client = app.test_client()
client.environ_base["HTTP_AUTHORIZATION"] = SIGNED_IN["Authorization"]
schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app).include(
    path_regex="/api/v1/(teams|opponents|formations)"
)
SLOW = ("/book", "/corners")  # asked below: each answer is some ten calls
thorough = settings(max_examples=25, deadline=None, derandomize=True, suppress_health_check=[*HealthCheck])


def posted(path: str, body: dict) -> str:
    return client.post(f"/api/v1/{path}", json=body).json["id"]


def things() -> dict[str, str]:
    """Make one thing of each kind; return the parameters of paths that lead to them."""
    team = posted("teams", {"name": f"Team {os.urandom(4).hex()}", "lineup": [4, 7, None, None, None, None]})
    serve = {"kind": "underhand", "spots": ["middle"], "next_job": 6}
    player = posted(f"teams/{team}/players", {"number": 4, "serves": [serve], "comes_in_for": []})
    posted(f"teams/{team}/players", {"number": 7, "name": "Runa Sill", "comes_in_for": [4]})
    known = {"lineup": [3, 8, 12, 5, 17, 10], "setters": [3], "liberos": [1], "notes": "They start slowly"}
    ratings = [{"number": 8, "rating": "weak"}, {"number": 5, "pass_grade": 2.2, "passes": 31}]
    slot = {"slot": 6, "off_net_m": 1}
    name = f"Opponent {os.urandom(4).hex()}"
    opponent = posted("opponents", {"name": name, **known, "ratings": ratings, "pass_slot": slot})
    client.put(f"/api/v1/opponents/{opponent}/formations/1", json={"formation": "two"})
    return {"team_id": team, "player_id": player, "opponent_id": opponent}


THERE = things()


@schema.exclude(path_regex="|".join(SLOW)).parametrize()
@thorough
def test_nothing_is_found_but_requests_that_break_a_documented_rule(case):
    """A request that fits the schema is answered, or refused by a rule of the game, never by the schema.

    Of two requests about a thing, one is about a thing that is there.
    """
    ids = [name for name in case.path_parameters if name.endswith("_id")]
    if ids and case.path_parameters[ids[0]][-1] in "02468ace":
        there = things() if case.method == "DELETE" else THERE
        case.path_parameters |= {name: there[name] for name in ids}
    response = case.call(headers=SIGNED_IN)
    errors = response.json()["errors"] if response.status_code == 422 else []
    refused_by_rule = {error["rule"] for error in errors} & RULES.keys()
    beside = [ignored_auth, *([positive_data_acceptance] if refused_by_rule else [])]  # see test_rights
    case.validate_response(response, headers=SIGNED_IN, excluded_checks=beside)


@pytest.mark.parametrize(
    ("path", "query"),
    [
        ("/teams", ""),
        ("/teams/{team_id}", ""),
        ("/teams/{team_id}/players/{player_id}/corners", ""),
        ("/opponents", ""),
        ("/opponents/{opponent_id}", ""),
        ("/opponents/{opponent_id}/formations/{setter_position}", ""),
        ("/opponents/{opponent_id}/book", "?serving_first=them&lineup=4,7,,,,&team={team_id}"),
        ("/opponents/{opponent_id}/book", "?team={team_id}&turn=3"),
    ],
)
def test_what_is_said_of_a_team_or_an_opponent_fits_the_document(path, query):
    there = things() | {"setter_position": "1"}
    response = client.get(f"/api/v1{path}{query}".format(**there))
    assert response.status_code == 200
    schema[f"/api/v1{path}"]["GET"].validate_response(response)
