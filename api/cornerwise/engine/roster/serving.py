"""Who of a roster serves, and in which order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any


def servers(roster: Sequence[Mapping[str, Any]], lineup: Sequence[int | None] | None) -> list[dict[str, Any]]:
    """Return who may serve: by the line-up, in the order in which they serve, then those who come in for
    them; without a line-up all who are no libero and have a serve entered, or all if nobody has."""
    by_number = {player["number"]: player for player in roster}
    known = [number for number in lineup or () if number is not None]
    if known:
        first = [by_number.get(number, {"number": number}) for number in known]
        coming = [p for p in roster if set(p["comes_in_for"]) & set(known) and p["number"] not in known]
        return [*map(dict, first), *map(dict, coming)]
    able = [player for player in roster if player["role"] != "libero"]
    serving = [player for player in able if player["serves"]]
    return [dict(player) for player in serving or able]
