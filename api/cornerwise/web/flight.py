"""POST /api/v1/flight"""

from __future__ import annotations

from typing import Any

from cornerwise.service import calls as service

from .answers import FlightAnswer
from .parsing import StrictBlueprint
from .schemas import FlightRequest

flight = StrictBlueprint("flight", __name__, description="The ball's flight, seen from the side")

EXAMPLE = {
    "kind": "standing_float",
    "speed_m_s": 15.0,
    "contact_height_m": 2.4,
    "spin_rev_s": 0.0,
    "range_m": 15.0,
    "net_height_m": 2.24,
    "drag_model": "B",
}


@flight.post("/flight")
@flight.body(FlightRequest, EXAMPLE)
@flight.response(200, FlightAnswer)
def fly(request: dict[str, Any]) -> dict[str, Any]:
    """Fly one serve to one range."""
    return service.flight(request)
