"""POST /api/v1/calls"""

from __future__ import annotations

from typing import Any

from cornerwise.service import calls as service

from .answers import CallsAnswer
from .parsing import StrictBlueprint
from .schemas import CallRequest

calls = StrictBlueprint("calls", __name__, description="Where to serve from, where to, and why")

EXAMPLE = {
    "level": "high_school",
    "server": {"kind": "jump_float"},
    "opponent": {"setter_position": 4, "formation": "three"},
    "policy": {"error_ceiling": 0.12},
}


@calls.post("/calls")
@calls.body(CallRequest, EXAMPLE)
@calls.response(200, CallsAnswer)
def recommend(request: dict[str, Any]) -> dict[str, Any]:
    """Recommend a serve."""
    return service.recommend(request)
