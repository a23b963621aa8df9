"""Our serves as a table for any spreadsheet: one a line, and no cell that it would run as a formula."""

from __future__ import annotations

import csv
from typing import Any

from cornerwise.engine.match.report import format_state
from cornerwise.engine.match.state import MatchState

from .serves import SERVE_COLUMNS, flat_serves

FORMULA_STARTS = tuple("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20")  # OWASP, "CSV Injection"


def serves_table(state: MatchState, name: str | None) -> str:
    """Return the table; empty where something is not known. name : of the match"""
    teams = format_state(state)["teams"]
    match = (name, teams["us"], teams["them"])
    lines = _Lines()
    writer = csv.writer(lines)
    writer.writerow(("match", "us", "them", *SERVE_COLUMNS))
    for serve in flat_serves(state):
        writer.writerow([cell(value) for value in (*match, *serve.values())])
    return "".join(lines)


class _Lines(list[str]):
    """What `csv` writes into: this engine opens no files, not even in memory."""

    def write(self, line: str) -> None:
        self.append(line)


def cell(value: Any) -> Any:
    """Return a value as a cell of a table, the same in both homes.

    Text that a spreadsheet might run as a formula gets a quote. A whole number has no decimals, for a log
    that was on a phone has 2 for 2.0.
    """
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if not isinstance(value, str):
        return value
    risky = value.startswith(FORMULA_STARTS) or value.lstrip().startswith(FORMULA_STARTS)
    return f"'{value}" if risky else value
