"""POST /api/v1/geometry"""

from __future__ import annotations

from typing import Any

from cornerwise.service import calls as service

from .answers import GeometryAnswer
from .parsing import StrictBlueprint
from .schemas import GeometryRequest

geometry = StrictBlueprint("geometry", __name__, description="Angles and lengths of a serve and its pass")

EXAMPLE = {
    "spot": {"x_m": 4.2, "y_m": -9.2},
    "landing": {"x_m": 3.4, "y_m": 7.0},
    "setter_start": {"x_m": -3.2, "y_m": 4.5},
    "pass_target": {"x_m": -1.0, "y_m": 1.0},
}


@geometry.post("/geometry")
@geometry.body(GeometryRequest, EXAMPLE)
@geometry.response(200, GeometryAnswer)
def measure(request: dict[str, Any]) -> dict[str, Any]:
    """Measure the geometry of one serve."""
    return service.geometry(request)
