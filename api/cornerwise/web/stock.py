"""GET /api/v1/stock"""

from __future__ import annotations

from typing import Any

from cornerwise.service import calls as service

from .answers import StockAnswer
from .parsing import StrictBlueprint

stock = StrictBlueprint("stock", __name__, description="What is assumed when nothing is entered")


@stock.get("/stock")
@stock.response(200, StockAnswer, example=service.stock())
def show() -> dict[str, Any]:
    """Show the levels, the stock servers and the starting error ceilings."""
    return service.stock()
