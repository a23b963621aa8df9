"""/api/v1/matches/ID/state and /call: what a bench looks at while a match goes on"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import g

from cornerwise.service import live as service

from .match_schemas import MatchCallRequest
from .parsing import StrictBlueprint
from .state_answers import MatchCallAnswer, MatchStateAnswer

live = StrictBlueprint("live", __name__, description="A match going on: its state, and what to serve next")


@live.get("/matches/<uuid:match_id>/state")
@live.response(200, MatchStateAnswer)
@live.of_a_match
def state(match_id: UUID) -> dict[str, Any]:
    """Show where a match stands, by its log."""
    return service.state(g.who.club, str(match_id))


@live.post("/matches/<uuid:match_id>/call")
@live.body(MatchCallRequest, {"policy": {"error_ceiling": 0.12}})
@live.response(200, MatchCallAnswer)
@live.alt_response(409, "CONFLICT")
@live.of_a_match
def recommend(request: dict[str, Any], match_id: UUID) -> dict[str, Any]:
    """Recommend our next serve, the present one while we serve; or a later one."""
    serve = request.pop("serve", 0)
    return service.recommend(g.who.club, str(match_id), serve, request)
