"""Who may do what: for each operation of the API the least role; each role may what those before it may.

open: anybody, without signing in. server: a server view, for its own team or match only. assistant: matches
and their logs, and reading what they need. coach: everything. What is missing here is refused.
"""

from __future__ import annotations

import re
from typing import Literal

from cornerwise.service.accounts import Role

Least = Literal["open"] | Role
PREFIX = "/api/v1"

RIGHTS: dict[str, Least] = {
    "POST /aimed": "open",
    "POST /calls": "open",
    "POST /flight": "open",
    "POST /geometry": "open",
    "POST /prepared": "open",
    "POST /chosen": "open",
    "POST /replay": "open",
    "POST /review": "open",
    "POST /serves": "open",
    "GET /stock": "open",
    "GET /session": "open",
    "POST /session": "open",
    "POST /join": "open",
    "DELETE /session": "server",
    "PUT /password": "assistant",
    "GET /matches": "assistant",
    "POST /matches": "assistant",
    "GET /matches/opponents": "assistant",
    "GET /matches/{match_id}": "assistant",
    "PATCH /matches/{match_id}": "assistant",
    "DELETE /matches/{match_id}": "coach",
    "GET /matches/{match_id}/events": "assistant",
    "POST /matches/{match_id}/events": "assistant",
    "GET /matches/{match_id}/log": "assistant",
    "GET /matches/{match_id}/state": "assistant",
    "POST /matches/{match_id}/call": "server",
    "GET /matches/{match_id}/review": "assistant",
    "GET /matches/{match_id}/serves.csv": "assistant",
    "POST /devices/codes": "coach",
    "GET /devices": "coach",
    "DELETE /devices/{device_id}": "coach",
    "GET /devices/{device_id}/held": "coach",
    "DELETE /devices/{device_id}/held": "coach",
    "POST /devices/{device_id}/held/accept": "coach",
    "GET /tokens": "coach",
    "POST /tokens": "coach",
    "DELETE /tokens/{token_id}": "coach",
    "GET /club": "coach",
    "PATCH /club": "coach",
    "DELETE /club": "coach",
    "GET /club/export": "coach",
    "POST /formations": "open",
    "GET /teams": "assistant",
    "POST /teams": "coach",
    "GET /teams/{team_id}": "assistant",
    "PATCH /teams/{team_id}": "coach",
    "DELETE /teams/{team_id}": "coach",
    "POST /teams/{team_id}/players": "coach",
    "GET /teams/{team_id}/players/{player_id}": "assistant",
    "PATCH /teams/{team_id}/players/{player_id}": "coach",
    "DELETE /teams/{team_id}/players/{player_id}": "coach",
    "GET /teams/{team_id}/players/{player_id}/corners": "assistant",
    "GET /teams/{team_id}/players.csv": "coach",
    "POST /teams/{team_id}/players/import": "coach",
    "GET /opponents": "assistant",
    "POST /opponents": "coach",
    "GET /opponents/{opponent_id}": "assistant",
    "PATCH /opponents/{opponent_id}": "coach",
    "DELETE /opponents/{opponent_id}": "coach",
    "GET /opponents/{opponent_id}/formations/{setter_position}": "assistant",
    "PUT /opponents/{opponent_id}/formations/{setter_position}": "coach",
    "DELETE /opponents/{opponent_id}/formations/{setter_position}": "coach",
    "POST /opponents/{opponent_id}/formations/{setter_position}/copy": "coach",
    "GET /opponents/{opponent_id}/book": "assistant",
}

# What a device that was let in for one match may not do: these make another, or tell of others.
NOT_FOR_ONE_MATCH = {
    "POST /matches",
    "GET /matches/opponents",
    "GET /teams/{team_id}/players/{player_id}/corners",
    "GET /opponents/{opponent_id}/book",
}
# Where a revoked device is heard once more: what it sends is held for the coach.
HELD_FROM_REVOKED = {"POST /matches/{match_id}/events"}


def operation(method: str, rule: str) -> str:
    """Return an operation as it stands in the table, from a rule such as /api/v1/matches/<uuid:match_id>."""
    path = re.sub(r"<(?:[^:<>]+:)?([^<>]+)>", r"{\1}", rule.removeprefix(PREFIX))
    return f"{'GET' if method == 'HEAD' else method} {path}"
