"""/api/v1/matches/ID/events and /log: what happened in a match"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response, g, jsonify

from cornerwise.service import devices
from cornerwise.service import live as service

from . import guard
from .match_answers import EventsAnswer, LogAnswer, PostedAnswer
from .match_schemas import EXAMPLE, LARGEST_PAGE, EventsQuery, EventsRequest
from .parsing import BATCH_LIMIT_BYTES, StrictBlueprint

logs = StrictBlueprint("logs", __name__, description="The log of a match, which only ever grows")


@logs.post("/matches/<uuid:match_id>/events")
@logs.body(EventsRequest, {"events": [EXAMPLE]}, BATCH_LIMIT_BYTES)
@logs.response(200, PostedAnswer)
@logs.alt_response(409, "CONFLICT")
@logs.of_a_match
def post(request: dict[str, Any], match_id: UUID) -> dict[str, Any]:
    """Send a batch of events. Sending one twice is as good as once; a bad one does not stop the others.

    Of a revoked device it is refused, and held for the coach: `held` says how many events.
    """
    if g.who.revoked:
        guard.refuse_revoked(devices.hold(g.who, str(match_id), request["events"]))
    return service.post(g.who.club, str(match_id), request["events"], request.get("known"))


@logs.get("/matches/<uuid:match_id>/events")
@logs.query(EventsQuery)
@logs.response(200, EventsAnswer)
@logs.of_a_match
def read(query: dict[str, Any], match_id: UUID) -> dict[str, Any]:
    """Read the events after a position, oldest first."""
    return service.events(g.who.club, str(match_id), query.get("after", 0), query.get("limit", LARGEST_PAGE))


@logs.get("/matches/<uuid:match_id>/log")
@logs.response(200, LogAnswer)
@logs.of_a_match
def download(match_id: UUID) -> Response:
    """Download a match with its whole log."""
    response = jsonify(service.log(g.who.club, str(match_id)))
    response.headers["Content-Disposition"] = f'attachment; filename="match-{match_id}.json"'
    return response
