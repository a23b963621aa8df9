"""The closed sets of words that several rooms share: kinds of serve, levels, systems, formations.

Each is listed once: its tuple is made of its type.
"""

from __future__ import annotations

from typing import Literal, get_args

ServeKind = Literal[
    "underhand",
    "plain_overhand",
    "standing_float",
    "short_float",
    "jump_float",
    "standing_topspin",
    "jump_topspin",
]
Level = Literal["under_14", "high_school", "college", "elite_women", "elite_men"]
System = Literal["one_setter", "two_setters_back_sets", "two_setters_front_sets"]
FormationName = Literal["two", "three", "four", "five"]
"""By the number of passers."""

SERVE_KINDS: tuple[ServeKind, ...] = get_args(ServeKind)
LEVELS: tuple[Level, ...] = get_args(Level)
SYSTEMS: tuple[System, ...] = get_args(System)
FORMATIONS: tuple[FormationName, ...] = get_args(FormationName)
