"""Our serves as a table for any spreadsheet: one a line, and no cell that it would run as a formula."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from cornerwise.engine.match.report import format_state
from cornerwise.engine.match.state import MatchState

from .serves import SERVE_COLUMNS, flat_serves

FORMULA_STARTS = tuple("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20")  # OWASP, "CSV Injection"
NEEDS_QUOTES = frozenset(',"\r\n')  # RFC 4180, 2.6


def serves_table(state: MatchState, name: str | None) -> str:
    """Return the table; empty where something is not known. name : of the match"""
    teams = format_state(state)["teams"]
    match = [name, teams["us"], teams["them"]]
    lines = [line(("match", "us", "them", *SERVE_COLUMNS))]
    for serve in flat_serves(state):
        lines.append(line(cell(value) for value in (*match, *serve.values())))
    return "".join(lines)


def cell(value: Any) -> Any:
    """Return a value as a cell of a table. Text that a spreadsheet might run as a formula gets a quote."""
    if not isinstance(value, str):
        return value
    risky = value.startswith(FORMULA_STARTS) or value.lstrip().startswith(FORMULA_STARTS)
    return f"'{value}" if risky else value


def line(cells: Iterable[Any]) -> str:
    """Return a line of a table as RFC 4180 has it."""
    return ",".join(map(_written, cells)) + "\r\n"


def _written(value: Any) -> str:
    if isinstance(value, float) and value.is_integer():
        value = int(value)  # a log that was on a phone has 2 for 2.0, and both homes write the same
    text = "" if value is None else str(value)
    return '"' + text.replace('"', '""') + '"' if NEEDS_QUOTES & set(text) else text
