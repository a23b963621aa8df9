"""/api/v1/matches/ID/review and /serves.csv, POST /api/v1/review and /serves: the serves of a match"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response, g

from cornerwise.service import calls as stateless
from cornerwise.service import live as service

from .match_schemas import EXAMPLE, ReviewQuery, ReviewRequest, ServesRequest
from .parsing import LOG_LIMIT_BYTES, StrictBlueprint
from .review_answers import MatchReviewAnswer, ReviewAnswer, ServesTableAnswer

reviews = StrictBlueprint("reviews", __name__, description="After a match, or a set: counts from its log")


@reviews.get("/matches/<uuid:match_id>/review")
@reviews.query(ReviewQuery)
@reviews.response(200, MatchReviewAnswer)
@reviews.of_a_match
def review(query: dict[str, Any], match_id: UUID) -> dict[str, Any]:
    """Review a side's serves: by server, rotation, spot, target, and against the call."""
    return service.review(g.who.club, str(match_id), query.get("side", "us"), query.get("set_number"))


@reviews.post("/review")
@reviews.body(ReviewRequest, {"events": [EXAMPLE]}, LOG_LIMIT_BYTES)
@reviews.response(200, ReviewAnswer)
def review_log(request: dict[str, Any]) -> dict[str, Any]:
    """Review a side's serves in a log, wherever it is kept."""
    return stateless.review(request)


@reviews.post("/serves")
@reviews.body(ServesRequest, {"events": [EXAMPLE], "name": "Cup, first round"}, LOG_LIMIT_BYTES)
@reviews.response(200, ServesTableAnswer)
def serves_of_log(request: dict[str, Any]) -> dict[str, Any]:
    """Write our serves in a log, wherever it is kept, as a table, one a line."""
    return stateless.serves(request)


@reviews.get("/matches/<uuid:match_id>/serves.csv")
@reviews.response(200, {"type": "string"}, content_type="text/csv")
@reviews.of_a_match
def serves(match_id: UUID) -> Response:
    """Download our serves as a table, one a line."""
    response = Response(service.serves_csv(g.who.club, str(match_id)), mimetype="text/csv")
    response.headers["Content-Disposition"] = f'attachment; filename="serves-{match_id}.csv"'
    return response
