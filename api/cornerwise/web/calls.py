"""POST /api/v1/calls, /prepared, /chosen and /aimed"""

from __future__ import annotations

from typing import Any

from cornerwise.service import calls as service

from .answers import AimedAnswer, CallsAnswer
from .parsing import StrictBlueprint
from .roster_answers import PreparedAnswer
from .roster_schemas import PreparedRequest
from .schemas import AimedRequest, CallRequest

calls = StrictBlueprint("calls", __name__, description="Where to serve from, where to, and why")

EXAMPLE = {
    "level": "high_school",
    "server": {"kind": "jump_float"},
    "opponent": {"setter_position": 4, "formation": "three"},
    "policy": {"error_ceiling": 0.12},
}
PREPARED_EXAMPLE = {
    "request": {"level": "high_school", "opponent": {"setter_position": 4}},
    "player": {"reach_m": 2.3, "serves": [{"kind": "jump_float", "speeds_m_s": [16], "next_job": 5}]},
    "opponent": {"ratings": [{"number": 8, "rating": "weak"}]},
}


@calls.post("/calls")
@calls.body(CallRequest, EXAMPLE)
@calls.response(200, CallsAnswer)
def recommend(request: dict[str, Any]) -> dict[str, Any]:
    """Recommend a serve."""
    return service.recommend(request)


@calls.post("/prepared")
@calls.body(PreparedRequest, PREPARED_EXAMPLE)
@calls.response(200, PreparedAnswer)
def prepare(request: dict[str, Any]) -> dict[str, Any]:
    """Put what is kept of a server and of an opponent into a request for a call."""
    return service.prepared(request)


@calls.post("/chosen")
@calls.body(PreparedRequest, PREPARED_EXAMPLE)
@calls.response(200, CallsAnswer)
def choose(request: dict[str, Any]) -> dict[str, Any]:
    """Recommend the best of a server's own serves; without a kind all that she has are weighed."""
    return service.chosen(request)


@calls.post("/aimed")
@calls.body(
    AimedRequest, EXAMPLE | {"server": {"spots": ["right_corner"]}, "target": {"x_m": 3.6, "y_m": 6.5}}
)
@calls.response(200, AimedAnswer)
def judge(request: dict[str, Any]) -> dict[str, Any]:
    """Say what a chosen serve is worth."""
    return service.aimed(request)
