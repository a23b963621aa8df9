"""/api/v1/teams: our own teams, their players and serves, and players as a table"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response, g

from cornerwise.service import opponents, player_table, scope
from cornerwise.service import teams as service

from .parsing import BATCH_LIMIT_BYTES, StrictBlueprint
from .problem import MAX_ERRORS, field_error, problem
from .roster_answers import (
    CornersAnswer,
    GoneAnswer,
    ImportAnswer,
    RosterPlayerAnswer,
    TeamDetailAnswer,
    TeamRemovedAnswer,
    TeamsAnswer,
)
from .roster_schemas import (
    TEAMS_A_PAGE,
    ImportQuery,
    PlayerChange,
    PlayerRequest,
    TableRequest,
    TeamChange,
    TeamRequest,
    TeamsQuery,
)

teams = StrictBlueprint("teams", __name__, description="Our own teams: players by number, and their serves")

PLAYER = {
    "number": 4,
    "role": "setter",
    "reach_m": 2.25,
    "serves": [{"kind": "jump_float", "speeds_m_s": [15.5], "spots": ["left", "middle"], "next_job": 1}],
}
TABLE = "number,name,serve,pace km/h,spots\n4,Ilse,jump float,56,left / middle\n"


@teams.get("/teams")
@teams.query(TeamsQuery)
@teams.response(200, TeamsAnswer)
def index(query: dict[str, Any]) -> dict[str, Any]:
    """List our teams by name; to a device that was let in for one match the one that plays it."""
    if g.who.match_id is not None:
        return service.named(g.who.club, scope.our_team(g.who))
    return service.page(g.who.club, query.get("after"), query.get("limit", TEAMS_A_PAGE))


@teams.post("/teams")
@teams.body(TeamRequest, {"name": "First team", "level": "high_school"})
@teams.response(201, TeamDetailAnswer)
@teams.alt_response(409, "CONFLICT")
def add(request: dict[str, Any]) -> dict[str, Any]:
    """Add a team."""
    return service.add(g.who.club, request)


@teams.get("/teams/<uuid:team_id>")
@teams.response(200, TeamDetailAnswer)
@teams.alt_response(404, "NOT_FOUND")
def show(team_id: UUID) -> dict[str, Any]:
    """Show a team with all its players."""
    return service.show(g.who.club, str(team_id))


@teams.patch("/teams/<uuid:team_id>")
@teams.body(TeamChange, {"lineup": [4, 11, 7, 2, 15, None]})
@teams.response(200, TeamDetailAnswer)
@teams.alt_response(404, "NOT_FOUND")
def change(request: dict[str, Any], team_id: UUID) -> dict[str, Any]:
    """Change a team's name, level, or usual line-up."""
    return service.change(g.who.club, str(team_id), request)


@teams.delete("/teams/<uuid:team_id>")
@teams.response(200, TeamRemovedAnswer)
@teams.alt_response(404, "NOT_FOUND")
def remove(team_id: UUID) -> dict[str, Any]:
    """Delete a team with its players, for good: its `deleting` says beforehand what that means."""
    return service.remove(g.who.club, str(team_id))


@teams.post("/teams/<uuid:team_id>/players")
@teams.body(PlayerRequest, PLAYER)
@teams.response(201, RosterPlayerAnswer)
@teams.alt_response(404, "NOT_FOUND")
@teams.alt_response(409, "CONFLICT")
def add_player(request: dict[str, Any], team_id: UUID) -> dict[str, Any]:
    """Add a player: a number suffices."""
    return service.add_player(g.who.club, str(team_id), request)


@teams.get("/teams/<uuid:team_id>/players/<uuid:player_id>")
@teams.response(200, RosterPlayerAnswer)
@teams.alt_response(404, "NOT_FOUND")
def show_player(team_id: UUID, player_id: UUID) -> dict[str, Any]:
    """Show a player."""
    return service.player(g.who.club, str(team_id), str(player_id))


@teams.patch("/teams/<uuid:team_id>/players/<uuid:player_id>")
@teams.body(PlayerChange, {"reach_m": 2.3})
@teams.response(200, RosterPlayerAnswer)
@teams.alt_response(404, "NOT_FOUND")
def change_player(request: dict[str, Any], team_id: UUID, player_id: UUID) -> dict[str, Any]:
    """Change a player: what is not given stays."""
    return service.change_player(g.who.club, str(team_id), str(player_id), request)


@teams.delete("/teams/<uuid:team_id>/players/<uuid:player_id>")
@teams.response(200, GoneAnswer)
@teams.alt_response(404, "NOT_FOUND")
def remove_player(team_id: UUID, player_id: UUID) -> dict[str, Any]:
    """Delete a player with her name and serves, for good; her number stays in the logs of matches."""
    return service.remove_player(g.who.club, str(team_id), str(player_id))


@teams.get("/teams/<uuid:team_id>/players/<uuid:player_id>/corners")
@teams.response(200, CornersAnswer)
@teams.alt_response(404, "NOT_FOUND")
def corners(team_id: UUID, player_id: UUID) -> dict[str, Any]:
    """Show what the spots cost that she cannot use, against the five opponents that were changed last."""
    return opponents.corners(g.who.club, str(team_id), str(player_id))


@teams.get("/teams/<uuid:team_id>/players.csv")
@teams.response(200, {"type": "string"}, content_type="text/csv")
@teams.alt_response(404, "NOT_FOUND")
def export(team_id: UUID) -> Response:
    """Download a team's players as a table, a row for each serve; importing it gives the same."""
    response = Response(player_table.export(g.who.club, str(team_id)), mimetype="text/csv")
    response.headers["Content-Disposition"] = f'attachment; filename="players-{team_id}.csv"'
    return response


@teams.post("/teams/<uuid:team_id>/players/import")
@teams.query(ImportQuery)
@teams.body(TableRequest, {"text": TABLE}, BATCH_LIMIT_BYTES)
@teams.response(200, ImportAnswer)
@teams.alt_response(404, "NOT_FOUND")
def take(query: dict[str, Any], request: dict[str, Any], team_id: UUID) -> Any:
    """Import players from a table, all or none; by default a dry run that shows what it would come to.

    The table may also be sent as it is, as `text/csv`. With dry_run=0 it is kept unless a cell is wrong.
    """
    dry_run = bool(query.get("dry_run", 1))
    answer = player_table.take(
        g.who.club, str(team_id), request["text"], query.get("columns"), dry_run=dry_run
    )
    return answer if dry_run or not answer["errors"] else _refused(answer["errors"])


def _refused(errors: list[dict[str, Any]]) -> Response:
    said = [
        field_error(f"rows.{one['row']}.{one['column']}", one["value"], one["expected"], "table_cell")
        for one in errors[:MAX_ERRORS]
    ]
    detail = f"nothing was imported: {len(errors)} cells hold what their columns do not take"
    return problem(422, "The table was not imported", detail, "/problems/table", errors=said)
