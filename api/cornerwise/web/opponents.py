"""/api/v1/opponents: what is known of them, their formations, and the call book"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import g

from cornerwise.engine import bridge
from cornerwise.service import opponents as service
from cornerwise.service import scope

from .parsing import StrictBlueprint
from .roster_answers import (
    BookAnswer,
    CheckedFormationAnswer,
    CopiedAnswer,
    GoneAnswer,
    KeptFormationAnswer,
    ListedOpponentsAnswer,
    OpponentProfileAnswer,
)
from .roster_schemas import (
    OPPONENTS_A_PAGE,
    BookQuery,
    CopyRequest,
    FormationQuestion,
    FormationRequest,
    NewOpponent,
    OpponentChange,
    OpponentsQuery,
)

opponents = StrictBlueprint("opponents", __name__, description="Opponents: formations and the call book")

FORMATION = "/opponents/<uuid:opponent_id>/formations/<int(min=1, max=6):setter_position>"


@opponents.post("/formations")
@opponents.body(FormationQuestion, {"setter_position": 1, "formation": "three"})
@opponents.response(200, CheckedFormationAnswer)
def look(request: dict[str, Any]) -> dict[str, Any]:
    """Look at a formation: who is out of order, and how far each player may be moved."""
    return bridge.formation(request)


@opponents.get("/opponents")
@opponents.query(OpponentsQuery)
@opponents.response(200, ListedOpponentsAnswer)
def index(query: dict[str, Any]) -> dict[str, Any]:
    """List the opponents that were entered, by name; or the one of a name.

    To a device that was let in for one match only that of the match is there.
    """
    if g.who.match_id is not None:
        return service.named(g.who.club, scope.opponent(g.who), query.get("name"))
    if "name" in query:
        return service.named(g.who.club, query["name"])
    return service.page(g.who.club, query.get("after"), query.get("limit", OPPONENTS_A_PAGE))


@opponents.post("/opponents")
@opponents.body(NewOpponent, {"name": "Harbour Street", "setter_position": 6})
@opponents.response(201, OpponentProfileAnswer)
@opponents.alt_response(409, "CONFLICT")
def add(request: dict[str, Any]) -> dict[str, Any]:
    """Add an opponent: a name suffices."""
    return service.add(g.who.club, request)


@opponents.get("/opponents/<uuid:opponent_id>")
@opponents.response(200, OpponentProfileAnswer)
@opponents.alt_response(404, "NOT_FOUND")
def show(opponent_id: UUID) -> dict[str, Any]:
    """Show an opponent with its formations."""
    return service.show(g.who.club, str(opponent_id))


@opponents.patch("/opponents/<uuid:opponent_id>")
@opponents.body(OpponentChange, {"ratings": [{"number": 8, "rating": "weak"}]})
@opponents.response(200, OpponentProfileAnswer)
@opponents.alt_response(404, "NOT_FOUND")
def change(request: dict[str, Any], opponent_id: UUID) -> dict[str, Any]:
    """Change what is known of an opponent: what is not given stays."""
    return service.change(g.who.club, str(opponent_id), request)


@opponents.delete("/opponents/<uuid:opponent_id>")
@opponents.response(200, GoneAnswer)
@opponents.alt_response(404, "NOT_FOUND")
def remove(opponent_id: UUID) -> dict[str, Any]:
    """Delete an opponent with its formations, for good. Matches against it stay."""
    return service.remove(g.who.club, str(opponent_id))


@opponents.get(FORMATION)
@opponents.response(200, KeptFormationAnswer)
@opponents.alt_response(404, "NOT_FOUND")
def formation(opponent_id: UUID, setter_position: int) -> dict[str, Any]:
    """Show where their six stand for a position of their first setter: as entered, else a stock formation."""
    return service.formation(g.who.club, str(opponent_id), setter_position)


@opponents.put(FORMATION)
@opponents.body(FormationRequest, {"formation": "three"})
@opponents.response(200, KeptFormationAnswer)
@opponents.alt_response(404, "NOT_FOUND")
def put_formation(request: dict[str, Any], opponent_id: UUID, setter_position: int) -> dict[str, Any]:
    """Keep a formation for good: dragged, or as it was seen in a match."""
    return service.put_formation(g.who.club, str(opponent_id), setter_position, request)


@opponents.delete(FORMATION)
@opponents.response(200, KeptFormationAnswer)
@opponents.alt_response(404, "NOT_FOUND")
def remove_formation(opponent_id: UUID, setter_position: int) -> dict[str, Any]:
    """Forget a formation; the stock one is used again."""
    return service.remove_formation(g.who.club, str(opponent_id), setter_position)


@opponents.post(f"{FORMATION}/copy")
@opponents.body(CopyRequest, {"to": [2, 3]})
@opponents.response(200, CopiedAnswer)
@opponents.alt_response(404, "NOT_FOUND")
def copy(request: dict[str, Any], opponent_id: UUID, setter_position: int) -> dict[str, Any]:
    """Copy a formation to other positions of their setter: the passers' places, positions as is legal."""
    return service.copy_formation(g.who.club, str(opponent_id), setter_position, request["to"])


@opponents.get("/opponents/<uuid:opponent_id>/book")
@opponents.query(BookQuery)
@opponents.response(200, BookAnswer)
@opponents.alt_response(404, "NOT_FOUND")
def book(query: dict[str, Any], opponent_id: UUID) -> dict[str, Any]:
    """Make the call book of a team, the first by name if none is named, against an opponent.

    Six rotations of theirs, a call for each of our servers.
    """
    return service.book(g.who.club, str(opponent_id), query.pop("team", None), query)
