"""Questions to the engine's call, asked once each: the tests of its answers share them."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from cornerwise.engine import bridge
from cornerwise.service.arrays import ARRAYS

Request = dict[str, Any]


@cache
def _called(request: str) -> Request:
    return bridge.call(json.loads(request), ARRAYS)


def ask(request: Request) -> Request:
    """Return the answer to a request. It is kept, so nobody may change it."""
    return _called(json.dumps(request, sort_keys=True))


def setter_in(position: int, **opponent: Any) -> Request:
    """Return a request of which nothing but the setter's position is known, and what else is given."""
    return {"opponent": {"setter_position": position, **opponent}}


def places(*xy: tuple[float, float], **more: Any) -> list[Request]:
    """Return passers at these places, all with what else is given."""
    return [{"x_m": x, "y_m": y, **more} for x, y in xy]
