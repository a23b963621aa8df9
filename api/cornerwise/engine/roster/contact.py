"""How high a server hits the ball, from her reach."""

from __future__ import annotations

from cornerwise.engine.flight import Kind
from cornerwise.engine.names import Level
from cornerwise.engine.players import stock_server

LOWEST_REACH_M = 1.2  # chosen: a small child; refuses centimetres and feet typed as metres
HIGHEST_REACH_M = 3.0  # chosen: above any standing reach


def contact_height_m(kind: Kind, level: Level, net_height_m: float, reach_m: float | None) -> float:
    """Return the height of the ball's centre when she hits it. [m]

    reach_m : how high her fingertips are, standing with one arm up. [m] None: the stock server's height

    A ball that is hit standing has its centre about at the fingertips, so that a standing serve is hit at
    the reach (chosen); other kinds are hit as much higher or lower as the stock server of the kind hits
    them than a standing float. An underhand serve is hit below the waist, whatever the reach.
    """
    stock_m = stock_server(level, kind, net_height_m).contact_height_m
    if reach_m is None or kind == "underhand":
        return stock_m
    return reach_m + stock_m - stock_server(level, "standing_float", net_height_m).contact_height_m
