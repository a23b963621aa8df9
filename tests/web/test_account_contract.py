"""That the API of accounts keeps to its document, whatever it is sent."""

from __future__ import annotations

import os
from pathlib import Path

import schemathesis
from cornerwise.app import create_app
from cornerwise.config import Config
from cornerwise.service import clubs, devices
from cornerwise.service.accounts import Who
from hypothesis import HealthCheck, settings
from schemathesis.specs.openapi.checks import ignored_auth, positive_data_acceptance

data = Path(os.environ["CORNERWISE_DATA"]) / f"accounts-{os.getpid()}"
app = create_app(Config(data=data, password_work="least"))
with app.app_context():
    clubs.first_link()
    coach = Who(clubs.LOCAL_CLUB, "Local club", "coach", None, "tests")
    SIGNED_IN = {"Authorization": f"Bearer {devices.new_api_token(coach, 'tests', 'coach')['token']}"}
paths = schemathesis.openapi.from_wsgi("/api/openapi.json", app).include(
    path_regex="/(session|password|join|devices|tokens|club)(/|$)"
)
schema = paths.exclude(path="/api/v1/club", method="DELETE")  # everything after it would be 401
REFUSED_THOUGH_IT_FITS = {401, 404, 409, 422, 429}  # no such link, device, match, or too many of something


@schema.parametrize()
@settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=[*HealthCheck])
def test_nothing_is_found_but_what_is_not_there_and_rules_that_are_documented(case):
    app.extensions["tries"].storage.reset()
    response = case.call(headers=SIGNED_IN)
    refused = response.status_code in REFUSED_THOUGH_IT_FITS
    excluded = [ignored_auth, *([positive_data_acceptance] if refused else [])]  # test_rights walks without
    case.validate_response(response, headers=SIGNED_IN, excluded_checks=excluded)
