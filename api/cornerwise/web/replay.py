"""POST /api/v1/replay"""

from __future__ import annotations

from typing import Any

from cornerwise.service import calls as service

from .match_schemas import EXAMPLE, ReplayRequest
from .parsing import LOG_LIMIT_BYTES, StrictBlueprint
from .state_answers import ReplayAnswer

replay = StrictBlueprint("replay", __name__, description="A match's log, wherever it is kept")


@replay.post("/replay")
@replay.body(ReplayRequest, {"events": [EXAMPLE]}, LOG_LIMIT_BYTES)
@replay.response(200, ReplayAnswer)
def fold(request: dict[str, Any]) -> dict[str, Any]:
    """Replay a log: where the match stands, what broke a rule, what to serve next."""
    return service.replay(request)
