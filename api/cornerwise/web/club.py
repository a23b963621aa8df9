"""/api/v1/club: the club, all it has, and its end"""

from __future__ import annotations

from typing import Any

from flask import Response, g, stream_with_context

from cornerwise.service import clubs as service

from .account_schemas import ClubAnswer, ClubChange, ClubRemovedAnswer
from .parsing import StrictBlueprint

club = StrictBlueprint(
    "club", __name__, description="The club as a whole: its name, its export, its deletion"
)


@club.get("/club")
@club.response(200, ClubAnswer)
def show() -> dict[str, Any]:
    """Show the club, how much it has, and what deleting it would mean."""
    return service.show(g.who.club)


@club.patch("/club")
@club.body(ClubChange, {"name": "Quarry Lane"})
@club.response(200, ClubAnswer)
def change(request: dict[str, Any]) -> dict[str, Any]:
    """Rename the club."""
    return service.rename(g.who.club, request["name"])


@club.get("/club/export")
@club.response(200, {"type": "object"})
def export() -> Response:
    """Download everything the club has: each table by its name, row by row, without secrets."""
    text = stream_with_context(service.export(g.who.club))
    response = Response(text, mimetype="application/json")
    response.headers["Content-Disposition"] = 'attachment; filename="club.json"'
    return response


@club.delete("/club")
@club.response(200, ClubRemovedAnswer)
def remove() -> dict[str, Any]:
    """Delete the club with all it has, for good: its `deleting` says beforehand what that means."""
    return service.remove(g.who.club)
