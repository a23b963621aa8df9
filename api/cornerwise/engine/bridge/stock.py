"""What is assumed when nothing is entered, so that a screen can offer it."""

from __future__ import annotations

from typing import Any

from cornerwise.engine.call.words import KIND_WORDS, capital
from cornerwise.engine.flight import KINDS, TOPSPIN, Kind
from cornerwise.engine.names import FORMATIONS, LEVELS, SYSTEMS, Level
from cornerwise.engine.players import (
    NET_HEIGHT_M,
    START_CEILING,
    STOCK_SERVERS,
    TOPSPIN_CEILING,
    USUAL_KIND,
    StockServer,
    paces,
    stock_server,
)

from .hands import starting_code

START_LEVEL: Level = "high_school"  # chosen: the level assumed when nobody says

LEVEL_WORDS: dict[Level, str] = {
    "under_14": "under 14",
    "high_school": "high school and club",
    "college": "college",
    "elite_women": "elite women",
    "elite_men": "elite men",
}


def stock() -> dict[str, Any]:
    """Return stock servers and starting ceilings by level, the lists to cycle through, the hand signals."""
    return {
        "start_level": START_LEVEL,
        "levels": [_level(level) for level in LEVELS],
        "kinds": [{"kind": kind, "name": KIND_WORDS[kind]} for kind in KINDS],
        "formations": list(FORMATIONS),
        "systems": list(SYSTEMS),
        "signals": starting_code(),
    }


def _level(level: Level) -> dict[str, Any]:
    return {
        "level": level,
        "name": capital(LEVEL_WORDS[level]),
        "net_height_m": NET_HEIGHT_M[level],
        "usual_kind": USUAL_KIND[level],
        "start_error_ceiling": START_CEILING[level],
        "servers": [_server(level, row) for row in _rows(level)],
    }


def _rows(level: Level) -> list[StockServer]:
    """Return the level's own stock servers, one for each kind and net height, and its short float."""
    net = NET_HEIGHT_M[level]
    return [*(s for s in STOCK_SERVERS if s.level == level), stock_server(level, "short_float", net)]


def _server(level: Level, row: StockServer) -> dict[str, Any]:
    kind: Kind = row.kind
    speeds = (row.speed_m_s,) if kind == "short_float" else paces(row.speed_m_s)
    return {
        "kind": kind,
        "name": KIND_WORDS[kind],
        "net_height_m": row.net_height_m,
        "speeds_m_s": list(speeds),
        "contact_height_m": row.contact_height_m,
        "contact_inside_m": row.contact_inside_m,
        "spin_rev_s": row.spin_rev_s,
        "service_line_m": row.service_line_m,
        "start_error_ceiling": round(START_CEILING[level] + (TOPSPIN_CEILING if kind in TOPSPIN else 0.0), 2),
    }
