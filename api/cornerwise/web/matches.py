"""/api/v1/matches: the list of matches, and each as a whole"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import g

from cornerwise.service import matches as service

from .match_answers import MatchDetailAnswer, MatchesAnswer, OpponentsAnswer, RemovedAnswer
from .match_schemas import MATCHES_A_PAGE, MatchChange, MatchesQuery, MatchRequest
from .parsing import StrictBlueprint

matches = StrictBlueprint("matches", __name__, description="Matches: begin, list, rename, delete")


@matches.get("/matches")
@matches.query(MatchesQuery)
@matches.response(200, MatchesAnswer)
def index(query: dict[str, Any]) -> dict[str, Any]:
    """List matches, newest first."""
    return service.page(g.who.club, query.get("before"), query.get("limit", MATCHES_A_PAGE), g.who.match_id)


@matches.post("/matches")
@matches.body(MatchRequest, {"name": "Cup, first round"})
@matches.response(201, MatchDetailAnswer)
@matches.alt_response(200, schema=MatchDetailAnswer, description="It was begun before", success=True)
@matches.alt_response(409, "CONFLICT")
@matches.alt_response(410, "GONE")
def begin(request: dict[str, Any]) -> tuple[dict[str, Any], int]:
    """Begin a match."""
    match, new = service.begin(g.who.club, request.get("id"), request.get("name"))
    return match, 201 if new else 200


@matches.get("/matches/opponents")
@matches.response(200, OpponentsAnswer)
def opponents() -> dict[str, Any]:
    """List the opponents met before, each with the line-up of its last set."""
    return service.opponents(g.who.club)


@matches.get("/matches/<uuid:match_id>")
@matches.response(200, MatchDetailAnswer)
@matches.of_a_match
def show(match_id: UUID) -> dict[str, Any]:
    """Show a match, with the code of our team's hands."""
    return service.show(g.who.club, str(match_id))


@matches.patch("/matches/<uuid:match_id>")
@matches.body(MatchChange, {"name": "Cup, second round"})
@matches.response(200, MatchDetailAnswer)
@matches.of_a_match
def change(request: dict[str, Any], match_id: UUID) -> dict[str, Any]:
    """Rename a match, or change the code of our team's hands, which its later matches take over."""
    return service.change(g.who.club, str(match_id), request)


@matches.delete("/matches/<uuid:match_id>")
@matches.response(200, RemovedAnswer)
@matches.of_a_match
def remove(match_id: UUID) -> dict[str, Any]:
    """Delete a match with all its events, for good: its `deleting` says beforehand what that means."""
    return service.remove(g.who.club, str(match_id))
