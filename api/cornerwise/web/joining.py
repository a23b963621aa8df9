"""/api/v1/matches/ID/code and /join: a short code to type on a second phone"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from cornerwise.service import joining as service

from .match_answers import CodeAnswer, JoinedAnswer
from .match_schemas import JoinRequest
from .parsing import StrictBlueprint

joining = StrictBlueprint("joining", __name__, description="Opening a match on a second phone")


@joining.get("/matches/<uuid:match_id>/code")
@joining.response(200, CodeAnswer)
@joining.of_a_match
def code(match_id: UUID) -> dict[str, Any]:
    """Show the short code by which another phone opens a match."""
    return service.show(str(match_id))


@joining.post("/join")
@joining.body(JoinRequest, {"code": "7KM2QX"})
@joining.response(200, JoinedAnswer)
@joining.alt_response(404, "NOT_FOUND")
def join(request: dict[str, Any]) -> dict[str, Any]:
    """Find the match of a code."""
    return service.join(request["code"])
