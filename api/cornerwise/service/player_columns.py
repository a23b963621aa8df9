"""The columns of a table of players: how they are recognised, and how each of their cells is read."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from cornerwise.engine.bridge.stock import LEVEL_WORDS
from cornerwise.engine.call.words import KIND_WORDS
from cornerwise.engine.court import SPOT_NAMES
from cornerwise.engine.roster import HIGHEST_REACH_M, JOBS, LOWEST_REACH_M

ROLES = ("setter", "outside", "opposite", "middle", "libero", "defender")
HANDS = ("right", "left")
SLOWEST_M_S, FASTEST_M_S = 3.0, 40.0
KM_H, MPH = 3.6, 2.2369362920544
SEPARATORS = re.compile(r"\s*[/|;+]\s*")
Reader = Callable[[str], Any]


class Unreadable(ValueError):
    """A cell that holds something else than its column takes: what would have been right."""


def normal(words: str) -> str:
    """Return words as they are compared: lower case, only letters and digits, single spaces."""
    return " ".join(re.sub(r"[^0-9a-z#%/]+", " ", words.lower()).split())


def number_in(low: float, high: float, unit: str = "", scale: float = 1.0) -> Reader:
    """Return a reader of numbers in a range, with a decimal point or comma. scale : what one unit is worth"""
    expected = f"a number from {low:g} to {high:g} {unit}".strip()

    def read(text: str) -> float:
        if re.fullmatch(r"\d{1,6}([.,]\d{1,20})?([eE]-?\d{1,3})?", text) is None:
            raise Unreadable(expected)
        value = float(text.replace(",", "."))
        if not low <= value <= high:
            raise Unreadable(expected)
        return value / scale

    return read


def whole_in(choices: Sequence[int], expected: str) -> Reader:
    def read(text: str) -> int:
        digits = re.fullmatch(r"#?(\d{1,3})([.,]0+)?", text)  # a spreadsheet may have made 7 into 7.0
        if digits is None or int(digits[1]) not in choices:
            raise Unreadable(expected)
        return int(digits[1])

    return read


def word_of(words: Mapping[str, str], expected: str) -> Reader:
    """Return a reader of one of some words, each with what it stands for."""

    def read(text: str) -> str:
        if normal(text) not in words:
            raise Unreadable(expected)
        return words[normal(text)]

    return read


def several(inner: Reader, most: int, expected: str) -> Reader:
    def read(text: str) -> list[Any]:
        values = [inner(one) for one in SEPARATORS.split(text) if one]
        if not 1 <= len(values) <= most:
            raise Unreadable(expected)
        return list(dict.fromkeys(values))

    return read


def named(text: str) -> str:
    if len(text) > 100:
        raise Unreadable("at most 100 characters")
    return text


def reach(text: str) -> float:
    """Read a reach in metres, or in centimetres, which no reach in metres looks like."""
    read_m = number_in(LOWEST_REACH_M, HIGHEST_REACH_M)
    read_cm = number_in(100 * LOWEST_REACH_M, 100 * HIGHEST_REACH_M, scale=100.0)
    for read in (read_m, read_cm):
        try:
            return float(read(re.sub(r"\s*c?m$", "", text)))
        except Unreadable:
            continue
    raise Unreadable(f"a reach from {LOWEST_REACH_M:g} to {HIGHEST_REACH_M:g} m, or in cm")


def ceiling(text: str) -> float:
    """Read a share of 0 to 1, or a number of misses in 100 with a percent sign."""
    if text.endswith("%"):
        return float(number_in(0, 100, scale=100.0)(text[:-1].strip()))
    return float(number_in(0, 1, "or one in percent")(text))


def spots(text: str) -> list[str] | None:
    if normal(text) == "all":
        return None
    words = {name.replace("_", " "): name for name in SPOT_NAMES}
    expected = "all, or spots such as left corner / middle"
    found: list[str] = several(word_of(words, expected), len(SPOT_NAMES), expected)(text)
    return found


def pace(unit: str, scale: float) -> Reader:
    low, high = round(SLOWEST_M_S * scale), round(FASTEST_M_S * scale)
    return several(number_in(low, high, unit, scale), 4, f"one to four paces from {low} to {high} {unit}")


ROLE_WORDS = {name: name for name in ROLES} | {
    "outside hitter": "outside", "left side": "outside", "right side": "opposite",
    "middle blocker": "middle", "defensive specialist": "defender",
}  # fmt: skip
HAND_WORDS = {"right": "right", "r": "right", "right handed": "right"} | {
    "left": "left", "l": "left", "left handed": "left"
}  # fmt: skip
KINDS = {words: kind for kind, words in KIND_WORDS.items()} | {
    normal(kind.replace("_", " ")): kind for kind in KIND_WORDS
} | {"float": "standing_float", "jump spin": "jump_topspin"}  # fmt: skip
LEVELS = {normal(words): level for level, words in LEVEL_WORDS.items()} | {
    normal(level.replace("_", " ")): level for level in LEVEL_WORDS
}

SHIRT = whole_in(range(100), "a shirt number from 0 to 99")
READERS: dict[str, Reader] = {
    "number": SHIRT,
    "name": named,
    "role": word_of(ROLE_WORDS, "one of " + ", ".join(ROLES)),
    "handedness": word_of(HAND_WORDS, "right or left"),
    "reach_m": reach,
    "serve": word_of(KINDS, "one of " + ", ".join(KIND_WORDS.values())),
    "pace_m_s": pace("m/s", 1.0),
    "pace_km_h": pace("km/h", KM_H),
    "pace_mph": pace("mph", MPH),
    "spots": spots,
    "level": word_of(LEVELS, "one of " + ", ".join(LEVEL_WORDS.values())),
    "across_m": number_in(0.2, 5, "m"),
    "along_m": number_in(0.2, 5, "m"),
    "measured_serves": whole_in(range(1, 1000), "a whole number from 1 to 999"),
    "error_ceiling": ceiling,
    "misses_in_100": number_in(0, 100, scale=100.0),
    "next_job": whole_in(JOBS, "1, 5 or 6"),
    "comes_in_for": several(SHIRT, 12, "shirt numbers such as 4 / 9"),
}
COLUMNS = tuple(READERS)

HEADERS: dict[str, tuple[str, ...]] = {
    "number": ("number", "no", "nr", "#", "shirt", "shirt number", "shirt no", "jersey", "jersey number"),
    "name": ("name", "player", "player name", "full name", "first name", "last name", "surname"),
    "role": ("role", "position", "plays"),
    "handedness": ("handedness", "hand", "hitting hand", "arm"),
    "reach_m": ("reach m", "reach", "reach cm", "standing reach", "standing reach cm", "standing reach m"),
    "serve": ("serve", "kind", "serve kind", "kind of serve", "serve type"),
    "pace_m_s": ("pace m s", "pace m/s", "speed m s", "speed m/s"),
    "pace_km_h": ("pace km h", "pace km/h", "pace kmh", "speed km/h", "speed km h", "speed kmh"),
    "pace_mph": ("pace mph", "speed mph"),
    "spots": ("spots", "spot", "serves from", "can serve from"),
    "level": ("level", "precision", "scatter like"),
    "across_m": ("across m", "across", "scatter across", "scatter across m"),
    "along_m": ("along m", "along", "scatter along", "scatter along m"),
    "measured_serves": ("measured serves", "serves measured"),
    "error_ceiling": ("error ceiling", "ceiling"),
    "misses_in_100": ("misses in 100", "misses", "most misses in 100"),
    "next_job": ("next job", "defends", "defends in", "then defends in", "defence", "defense"),
    "comes_in_for": ("comes in for", "serves for", "substitute for", "in for"),
}
"""What a header may say, as `normal` writes it, for each column."""
UNIT_UNSAID = ("pace", "speed", "serve speed", "usual pace")
_BY_HEADER = {words: column for column, said in HEADERS.items() for words in said}


def guessed(header: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str | None]:
    """Return which column each header stands for, None for none; a name may stand in two, first and last.

    A pace without its unit is taken for km/h when one of its numbers is too fast for m/s.
    """
    found: list[str | None] = []
    for i, words in enumerate(map(normal, header)):
        column = _BY_HEADER.get(words)
        if words in UNIT_UNSAID:
            column = _unit([row[i] for row in rows if i < len(row)])
        found.append(None if column in found and column != "name" else column)
    return found


def _unit(cells: Sequence[str]) -> str:
    numbers = [float(one) for text in cells for one in re.findall(r"\d{1,6}(?:\.\d+)?", text)]
    return "pace_km_h" if max(numbers, default=0.0) > FASTEST_M_S else "pace_m_s"
