"""The stateless questions: the engine's bridge, with whole arrays where it helps."""

from __future__ import annotations

from typing import Any

from cornerwise.engine import bridge

from .arrays import ARRAYS


def geometry(request: dict[str, Any]) -> dict[str, Any]:
    """Return the angles and lengths of one serve and its pass."""
    return bridge.geometry(request)


def flight(request: dict[str, Any]) -> dict[str, Any]:
    """Return the flight of one serve to one range."""
    return bridge.flight(request)


def recommend(request: dict[str, Any]) -> dict[str, Any]:
    """Return where to serve from and where to, with reasons and alternatives."""
    return bridge.call(request, ARRAYS)


def prepared(request: dict[str, Any]) -> dict[str, Any]:
    """Return a request for a call, with what is kept of the server and of the opponent."""
    return {"request": bridge.prepared(request)}


def chosen(request: dict[str, Any]) -> dict[str, Any]:
    """Return the call for a server of ours: the best of her serves, against what is kept of the opponent."""
    return bridge.chosen(request, ARRAYS)


def aimed(request: dict[str, Any]) -> dict[str, Any]:
    """Return what one serve is worth that somebody chose."""
    return bridge.aimed(request, ARRAYS)


def stock() -> dict[str, Any]:
    """Return the levels, stock servers and starting error ceilings."""
    return bridge.stock()


def replay(request: dict[str, Any]) -> dict[str, Any]:
    """Return what a match's log says."""
    return bridge.replay(request)


def serves(request: dict[str, Any]) -> dict[str, Any]:
    """Return our serves in a match's log as a table."""
    return bridge.serves(request)


def review(request: dict[str, Any]) -> dict[str, Any]:
    """Return what a side's serves came to in a match's log."""
    return bridge.review(request)
